/** Whether somebody follows a lesson in this browser, whatever tab it is in: told to the other tabs, and forgotten soon after the last word. */
const KEY = 'larkboard.in-lesson';
const LASTS_MS = 90_000;

/** Says so again, or that it is over. */
export function keepInLesson(isIn: boolean): void {
  if (isIn) localStorage.setItem(KEY, String(Date.now()));
  else localStorage.removeItem(KEY);
}

export function isInLesson(now: number): boolean {
  return now - Number(localStorage.getItem(KEY) ?? 0) < LASTS_MS;
}

/** Calls when another tab says so. @returns stops it */
export function onLesson(listener: () => void): () => void {
  const onStorage = ({ key }: StorageEvent): void => {
    if (key === KEY) listener();
  };
  addEventListener('storage', onStorage);
  return () => removeEventListener('storage', onStorage);
}
