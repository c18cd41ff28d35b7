/**
 * What the person did on a board before this page, from what undo keeps of it in this browser. Looked at and never changed: where there is
 * nothing of the kind, there was nothing.
 */
import { type KeyChange, readEdit } from '../../engine/document/index.ts';

/** As undo keeps them: `web/sync/step-shelf.ts`. */
const NAME = 'larkboard-steps';
const EDITS = 'edits';
/** A visit ends after so long without anything. */
const PAUSE_MS = 30 * 60 * 1000;

/** An edit with when it was done, in ms since 1970. */
interface TimedEdit<T> {
  readonly at: number;
  readonly edit: T;
}

/** Those of the visit that goes on at this time and of the one before it, in their order. @param edits oldest first. Rule W986. */
function ofLastVisits<T>(edits: readonly TimedEdit<T>[], now: number): readonly T[] {
  let later = now;
  let pauses = 0;
  let from = edits.length;
  while (from > 0) {
    const { at } = edits[from - 1]!;
    if (later - at > PAUSE_MS && ++pauses > 1) break;
    later = at;
    from -= 1;
  }
  return edits.slice(from).map(({ edit }) => edit);
}

/** The changes of one's own in this visit and the one before, edit by edit, oldest first. */
export async function readEarlier(
  boardId: string,
  personId: string,
  now: number,
): Promise<readonly (readonly KeyChange[])[]> {
  try {
    return await read(boardId, personId, now);
  } catch (error) {
    // The browser gives the page no database: then undo, too, begins with the page.
    if (!(error instanceof DOMException)) throw error;
    return [];
  }
}

async function read(
  boardId: string,
  personId: string,
  now: number,
): Promise<readonly (readonly KeyChange[])[]> {
  // To open a database that is not there would make it.
  const known = await indexedDB.databases();
  if (!known.some(({ name }) => name === NAME)) return [];
  const db = await asked(indexedDB.open(NAME));
  try {
    if (!db.objectStoreNames.contains(EDITS)) return [];
    const store = db.transaction(EDITS, 'readonly').objectStore(EDITS);
    const range = IDBKeyRange.bound([boardId, personId], [boardId, personId, []]);
    const [keys, kept] = await Promise.all([asked(store.getAllKeys(range)), asked(store.getAll(range))]);
    const edits = (kept as readonly { way: unknown; bytes: unknown }[]).flatMap(({ way, bytes }, i) => {
      // What was taken back is nobody's work any more.
      if (way !== 'undo' || !(bytes instanceof Uint8Array)) return [];
      const read = readEdit(bytes);
      return read.ok ? [{ at: Number((keys[i] as readonly unknown[])[2]), edit: read.edit.changes }] : [];
    });
    return ofLastVisits(edits, now);
  } finally {
    db.close();
  }
}

function asked<T>(request: IDBRequest<T>): Promise<T> {
  return new Promise((resolve, reject) => {
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error);
  });
}
