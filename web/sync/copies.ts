/**
 * The copies of a board that this browser keeps. All its tabs share one of them, and each writes there what it holds, also what
 * the server has not confirmed yet. So no tab takes that copy away by what it knows alone:
 *
 * A copy is emptied in an upgrade of its database. That begins once every other tab has let go of it, with all they wrote in it,
 * and nobody writes in it until it ends; it goes only if it holds nothing beyond the document in hand. (Asking the other tabs would need
 * them to answer in time; Web Locks are missing where the page is served without TLS.)
 *
 * A tab that has to let go of it puts aside what it holds, under a name of its own, and keeps its edits there from then on (see
 * {@link BoardSession}). What was put aside goes to the server, or is offered as a file, when the board is next opened.
 */
import { fetchUpdates } from 'y-indexeddb';
import * as Y from 'yjs';
import { keepCopy } from './keep-copy.ts';
import { newId } from './person.ts';

/** Name under which this browser keeps a board. */
export function localName(boardId: string): string {
  return `larkboard-${boardId}`;
}

/** A new name for what is put aside of a board. */
export function asideName(boardId: string): string {
  return `${localName(boardId)}.${newId()}`;
}

/** Names of what was put aside of a board; none where the browser gives the page no databases. */
export async function asideNames(boardId: string): Promise<readonly string[]> {
  const start = `${localName(boardId)}.`;
  return (await databases()).flatMap(({ name = '' }) => (name.startsWith(start) ? [name] : []));
}

/** A document with what the copy of this name holds; empty when there is none. */
export async function loadCopy(name: string): Promise<Y.Doc> {
  const doc = new Y.Doc();
  const kept = keepCopy(name, doc, () => {});
  await kept.whenSynced;
  await kept.destroy();
  return doc;
}

/**
 * Takes a copy away, unless it holds more than the document does: that is put into the document then, and the copy stays.
 * Nothing of this page may have it open. @returns whether there is no copy any more
 */
export async function emptyCopy(name: string, doc: Y.Doc): Promise<boolean> {
  for (;;) {
    const version = (await databases()).find((one) => one.name === name)?.version;
    if (version === undefined) return true;
    const found = await emptyFrom(name, version, doc);
    if (found === 'more') return false;
    if (found === 'emptied') {
      await deleteCopy(name);
      return true;
    }
  }
}

/**
 * Empties a copy in an upgrade from this version. `overtaken`: another tab has emptied or deleted it since it was asked for its
 * version, so nothing was looked at or taken away.
 */
function emptyFrom(name: string, version: number, doc: Y.Doc): Promise<'emptied' | 'more' | 'overtaken'> {
  return new Promise((resolve, reject) => {
    let found: 'emptied' | 'more' | 'overtaken' = 'overtaken';
    let isAborted = false;
    const opening = indexedDB.open(name, version + 1);
    opening.onupgradeneeded = ({ oldVersion }) => {
      const { transaction } = opening;
      if (transaction === null) throw new Error('an upgrade without a transaction');
      const abort = (): void => {
        isAborted = true;
        transaction.abort();
      };
      if (oldVersion !== version) {
        abort();
        return;
      }
      const updates = transaction.objectStore('updates');
      const reading: IDBRequest<Uint8Array[]> = updates.getAll();
      reading.onsuccess = () => {
        found = bringsMore(doc, reading.result) ? 'more' : 'emptied';
        if (found === 'more') abort();
        else updates.clear();
      };
    };
    opening.onsuccess = () => {
      opening.result.close();
      resolve(found);
    };
    opening.onerror = () => {
      const isNewer = opening.error?.name === 'VersionError';
      if (isAborted || isNewer) resolve(found);
      else reject(opening.error);
    };
  });
}

/** Takes a copy away with all that is in it. */
export function deleteCopy(name: string): Promise<void> {
  return new Promise((resolve, reject) => {
    const deleting = indexedDB.deleteDatabase(name);
    deleting.onsuccess = () => resolve();
    deleting.onerror = () => reject(deleting.error);
  });
}

/** Puts aside what this browser keeps of a board: it is not shown as part of the board any more, and not lost. */
export async function putAside(boardId: string): Promise<void> {
  const shared = localName(boardId);
  let isKept = true;
  const doc = await loadCopy(shared);
  const aside = keepCopy(asideName(boardId), doc, () => {
    isKept = false;
  });
  await aside.whenSynced;
  // Without room for another copy this one stays. Reading waits for all that was written before.
  do if (isKept) await fetchUpdates(aside);
  while (isKept && !(await emptyCopy(shared, doc)));
  await aside.destroy();
  doc.destroy();
}

/** Whether updates bring a document anything; they are in it then. */
export function bringsMore(doc: Y.Doc, updates: readonly Uint8Array[]): boolean {
  let isMore = false;
  const note = (): void => {
    isMore = true;
  };
  doc.on('update', note);
  for (const update of updates) Y.applyUpdate(doc, update);
  doc.off('update', note);
  return isMore;
}

async function databases(): Promise<readonly IDBDatabaseInfo[]> {
  try {
    return await indexedDB.databases();
  } catch (error) {
    // Where sites may keep nothing.
    if (!(error instanceof DOMException)) throw error;
    return [];
  }
}
