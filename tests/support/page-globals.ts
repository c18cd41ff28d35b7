/** What parts of the page take from the browser, for tests without one. */
import { vi } from 'vitest';
import { MapShelf, storageOf } from './map-shelf.ts';

/** A page in English that has kept nothing yet. `vi.unstubAllGlobals` takes it away. @returns what it keeps */
export function stubPage(lang = 'en'): MapShelf {
  const shelf = new MapShelf();
  vi.stubGlobal('document', { documentElement: { lang }, getElementById: () => null });
  vi.stubGlobal('localStorage', storageOf(shelf));
  return shelf;
}
