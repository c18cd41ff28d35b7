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
 *
 * Where the board was renewed while it was open, what follows is kept under a name of its own, with the generation in it: two generations never
 * meet in one copy. All tabs that were handed over share it. The former copy goes once the server has all of what was in it. A page
 * that opens the board takes the latest of these, and the others for put aside.
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

/** Name under which all tabs keep what follows a renewal. @param generation as the document names it, such as `3~<drawn>` */
export function renewedName(boardId: string, generation: string): string {
  return `${localName(boardId)}.~${generation}`;
}

/** Names of what this browser keeps of a board: what to open, which need not be there, and what is put aside. */
export async function copyNames(
  boardId: string,
): Promise<{ readonly main: string; readonly aside: readonly string[] }> {
  const shared = localName(boardId);
  const start = `${shared}.~`;
  const names = (await databases()).flatMap(({ name = '' }) =>
    name === shared || name.startsWith(`${shared}.`) ? [name] : [],
  );
  const numberOf = (name: string): number =>
    name.startsWith(start) ? Number.parseInt(name.slice(start.length), 10) : 0;
  const main = names.reduce((latest, name) => (numberOf(name) > numberOf(latest) ? name : latest), shared);
  return { main, aside: names.filter((name) => name !== main) };
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
  const { main, aside } = await copyNames(boardId);
  const isShown = (name: string): boolean =>
    name === localName(boardId) || name.startsWith(renewedName(boardId, ''));
  for (const name of [main, ...aside.filter(isShown)]) await putOneAside(boardId, name);
}

async function putOneAside(boardId: string, name: string): Promise<void> {
  let isKept = true;
  const doc = await loadCopy(name);
  const aside = keepCopy(asideName(boardId), doc, () => {
    isKept = false;
  });
  await aside.whenSynced;
  // Without room for another copy this one stays. Reading waits for all that was written before.
  do if (isKept) await fetchUpdates(aside);
  while (isKept && !(await emptyCopy(name, doc)));
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
