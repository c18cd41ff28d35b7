/** The copy of a document that this browser keeps, for when there is no connection. */
import { IndexeddbPersistence } from 'y-indexeddb';
import type * as Y from 'yjs';

/**
 * Keeps a document in this browser. The browser may take the copy away while the page is open: another tab gives it up, or the
 * person clears what sites keep. Each further write then throws, in the middle of an edit and before the server hears of
 * it; so from then on nothing is kept. Nor is anything where the browser gives the page no database: its disk is full, or the
 * person lets sites keep nothing. Then the copy counts as read, with nothing in it.
 * @param onLost called once when either happens
 * @param onTaken called when another tab wants the copy and it has been let go of, before anything is lost
 */
export function keepCopy(
  name: string,
  doc: Y.Doc,
  onLost: () => void,
  onTaken?: () => void,
): IndexeddbPersistence {
  const kept = new IndexeddbPersistence(name, doc);
  kept._db = kept._db.then(
    (db) => {
      if (onTaken !== undefined) db.addEventListener('versionchange', onTaken);
      return db;
    },
    () => {
      onLost();
      kept.emit('synced', [kept]);
      // For `destroy`, which closes it.
      return { close() {} } as IDBDatabase;
    },
  );
  const store = kept._storeUpdate;
  doc.off('update', store);
  // Under the same name, so that `destroy` takes it off.
  kept._storeUpdate = (update, origin) => {
    try {
      store(update, origin);
    } catch (cause) {
      if (!(cause instanceof DOMException)) throw cause;
      void kept.destroy();
      onLost();
    }
  };
  doc.on('update', kept._storeUpdate);
  return kept;
}
