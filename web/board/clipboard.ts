/** The browser's clipboard: it may refuse, and without HTTPS there is none. */

/** @returns whether the text is there now */
export async function writeClipboard(text: string): Promise<boolean> {
  return (await taken(() => navigator.clipboard.writeText(text).then(() => true))) ?? false;
}

/** @returns what is there; null where the page may not see it */
export function readClipboard(): Promise<string | null> {
  return taken(() => navigator.clipboard.readText());
}

async function taken<T>(act: () => Promise<T>): Promise<T | null> {
  try {
    return await act();
  } catch (error) {
    if (!(error instanceof DOMException || error instanceof TypeError)) throw error;
    return null;
  }
}
