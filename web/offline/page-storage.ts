/** What stands in for the browser's local storage where it gives the page none, or where it is full. */

const PROBE = 'larkboard.probe';
let isForPageOnly = false;

/** Whether what is kept now goes with the page. */
export function keepsNothing(): boolean {
  return isForPageOnly;
}

/** To be called before anything is read or kept. */
export function lendStorage(): void {
  const kept = new Map<string, string>();
  try {
    for (const [key, value] of Object.entries(localStorage)) kept.set(key, String(value));
    localStorage.setItem(PROBE, '');
    localStorage.removeItem(PROBE);
    return;
  } catch (error) {
    if (!(error instanceof DOMException)) throw error;
  }
  isForPageOnly = true;
  const value = {
    getItem: (key: string) => kept.get(key) ?? null,
    setItem: (key: string, text: string) => void kept.set(key, text),
    removeItem: (key: string) => void kept.delete(key),
    key: (index: number) => [...kept.keys()][index] ?? null,
    get length() {
      return kept.size;
    },
  };
  Object.defineProperty(window, 'localStorage', { value });
}
