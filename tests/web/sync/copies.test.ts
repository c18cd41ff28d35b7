/** What this browser keeps of boards: no tab takes away what another wrote, and without a database the page goes on. */
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import * as Y from 'yjs';
import { writeBoard } from '../../../engine/document/index.ts';
import {
  asideName,
  asideNames,
  deleteCopy,
  emptyCopy,
  loadCopy,
  localName,
  putAside,
} from '../../../web/sync/copies.ts';
import { keepCopy } from '../../../web/sync/keep-copy.ts';
import { dropCopies, looksAlike, readCopy, readLeftCopies, withCopy } from '../../../web/sync/local-copy.ts';
import { keptNames, refuseDatabases, stubBrowser } from '../../support/fresh-browser.ts';
import { leaveCopy } from '../../support/leave-copy.ts';
import { countingIds, sampleBoard } from '../../support/sample-board.ts';
import { turnsOfTheLoop, until } from '../../support/until.ts';

beforeEach(() => {
  stubBrowser();
});
afterEach(() => vi.unstubAllGlobals());

const NAME = 'larkboard-kites';

function docWith(...keys: readonly string[]): Y.Doc {
  const doc = new Y.Doc();
  for (const key of keys) doc.getMap('knots').set(key, true);
  return doc;
}
const keysOf = (doc: Y.Doc): string[] => [...doc.getMap('knots').keys()].sort();

/** A tab that has the copy open, with what it holds written there. */
async function tabAt(name: string, doc: Y.Doc) {
  const told: string[] = [];
  const kept = keepCopy(
    name,
    doc,
    () => told.push('lost'),
    () => told.push('taken'),
  );
  await kept.whenSynced;
  return { kept, told };
}

const heldIn = async (name: string): Promise<string[]> => keysOf(await loadCopy(name));

/** Has something done when the page has asked which databases there are and does not know it yet: once. */
function meanwhile(act: () => Promise<unknown>): void {
  const { indexedDB } = globalThis;
  const ask = indexedDB.databases.bind(indexedDB);
  indexedDB.databases = async () => {
    indexedDB.databases = ask;
    const found = await ask();
    await act();
    return found;
  };
}

describe('names', () => {
  it('what was put aside of a board is found, and nothing of another', async () => {
    const mine = asideName('kites');
    for (const name of [NAME, mine, 'larkboard-kites2.x', 'larkboard-kite.x', 'kites.x'])
      await leaveCopy(name, docWith('a'));
    expect(localName('kites')).toBe(NAME);
    expect(await asideNames('kites')).toEqual([mine]);
    expect(asideName('kites')).not.toBe(mine);
  });

  it('where sites may keep nothing there is nothing, and a fault stays a fault', async () => {
    indexedDB.databases = () => Promise.reject(new DOMException('not here', 'SecurityError'));
    expect(await asideNames('kites')).toEqual([]);
    indexedDB.databases = () => Promise.reject(new TypeError('a fault'));
    await expect(asideNames('kites')).rejects.toThrow('a fault');
  });
});

describe('a copy that is kept', () => {
  it('has what was there before and what is edited from then on', async () => {
    await leaveCopy(NAME, docWith('before'));
    const doc = docWith('own');
    const { kept, told } = await tabAt(NAME, doc);
    doc.getMap('knots').set('after', true);
    await kept.destroy();
    expect(keysOf(doc)).toEqual(['after', 'before', 'own']);
    expect(await heldIn(NAME)).toEqual(['after', 'before', 'own']);
    expect(told).toEqual([]);
  });

  it('[B150] taken away while it is open, edits go on and it is said once', async () => {
    const doc = docWith('own');
    const { told } = await tabAt(NAME, doc);
    await deleteCopy(NAME);
    expect(told).toEqual(['taken']);
    doc.getMap('knots').set('after', true);
    doc.getMap('knots').set('more', true);
    expect(keysOf(doc)).toEqual(['after', 'more', 'own']);
    expect(told).toEqual(['taken', 'lost']);
    expect(await keptNames()).toEqual([]);
  });

  it.each([
    ['it fails', false],
    ['it throws', true],
  ])(
    '[B150] where the browser gives no database the page reads nothing, edits, and lets go as ever: %s',
    async (_how, throws) => {
      refuseDatabases(() => true, throws);
      const doc = docWith('own');
      const { kept, told } = await tabAt(NAME, doc);
      expect(told).toEqual(['lost']);
      doc.getMap('knots').set('after', true);
      await kept.destroy();
      expect([told, keysOf(doc)]).toEqual([['lost'], ['after', 'own']]);
    },
  );

  it('a fault in writing is none to pass over', async () => {
    const doc = docWith('own');
    const { kept } = await tabAt(NAME, doc);
    const broken = kept as unknown as { db: unknown };
    broken.db = {
      transaction: () => {
        throw new TypeError('a fault');
      },
    };
    expect(() => doc.getMap('knots').set('after', true)).toThrow('a fault');
  });
});

describe('emptying a copy', () => {
  it('[B180] takes away what the document holds already', async () => {
    const doc = docWith('a', 'b');
    await leaveCopy(NAME, doc);
    expect(await emptyCopy(NAME, doc)).toBe(true);
    expect(await keptNames()).toEqual([]);
    expect(await emptyCopy(NAME, doc)).toBe(true);
  });

  it('[B180] leaves what holds more, and the document has it then', async () => {
    const doc = docWith('a');
    await leaveCopy(NAME, docWith('b'));
    expect(await emptyCopy(NAME, doc)).toBe(false);
    expect(keysOf(doc)).toEqual(['a', 'b']);
    expect(await heldIn(NAME)).toEqual(['b']);
    expect(await emptyCopy(NAME, doc)).toBe(true);
  });

  it('[B180] waits for a tab that has it open: that one is told, and what it had written is looked at', async () => {
    const doc = docWith('a');
    const theirs = docWith('a');
    const { told } = await tabAt(NAME, theirs);
    theirs.getMap('knots').set('late', true);
    expect(await emptyCopy(NAME, doc)).toBe(false);
    expect(told).toEqual(['taken']);
    expect(keysOf(doc)).toContain('late');
  });

  it('[B180] a copy that another tab has taken away by then is none', async () => {
    const doc = docWith('a');
    await leaveCopy(NAME, doc);
    meanwhile(() => deleteCopy(NAME));
    expect(await emptyCopy(NAME, doc)).toBe(true);
    expect(await keptNames()).toEqual([]);
  });

  it.each([
    ['once', 2],
    ['twice', 3],
  ])('[B180] what other tabs have emptied %s and written to since is looked at', async (_times, version) => {
    const doc = docWith('a');
    await leaveCopy(NAME, doc);
    meanwhile(
      () =>
        new Promise<void>((resolve, reject) => {
          const opening = indexedDB.open(NAME, version);
          opening.onerror = () => reject(opening.error);
          opening.onupgradeneeded = () =>
            void opening.transaction
              ?.objectStore('updates')
              .add(Y.encodeStateAsUpdate(docWith('written since')));
          opening.onsuccess = () => {
            opening.result.close();
            resolve();
          };
        }),
    );
    expect(await emptyCopy(NAME, doc)).toBe(false);
    expect(keysOf(doc)).toEqual(['a', 'written since']);
    expect(await heldIn(NAME)).toEqual(['a', 'written since']);
  });

  it('a fault of the database is a fault, and takes nothing away', async () => {
    const doc = docWith('a');
    await leaveCopy(NAME, doc);
    const { open } = indexedDB;
    refuseDatabases();
    await expect(emptyCopy(NAME, doc)).rejects.toThrow('no room');
    indexedDB.open = open.bind(indexedDB);
    expect(await heldIn(NAME)).toEqual(['a']);
    indexedDB.deleteDatabase = () => {
      const deleting = { error: new DOMException('the disk broke', 'UnknownError') };
      setImmediate(() => (deleting as unknown as IDBOpenDBRequest).onerror?.(new Event('error')));
      return deleting as unknown as IDBOpenDBRequest;
    };
    await expect(deleteCopy(NAME)).rejects.toThrow('the disk broke');
  });
});

describe('putting a copy aside', () => {
  const asideOf = async (): Promise<string[]> => {
    const names = await asideNames('kites');
    expect(names).toHaveLength(1);
    return heldIn(names[0]!);
  };

  it('[B180] moves all of it to a name of its own', async () => {
    await leaveCopy(NAME, docWith('a', 'b'));
    await putAside('kites');
    expect(await asideOf()).toEqual(['a', 'b']);
    expect(await keptNames()).not.toContain(NAME);
  });

  it('[B180] what another tab writes in it meanwhile is put aside too', async () => {
    await leaveCopy(NAME, docWith('a'));
    meanwhile(() => leaveCopy(NAME, docWith('late')));
    await putAside('kites');
    expect(await asideOf()).toEqual(['a', 'late']);
    expect(await keptNames()).not.toContain(NAME);
  });

  it('[B180] without room for another copy this one stays where it is', async () => {
    await leaveCopy(NAME, docWith('a'));
    refuseDatabases((name) => name.startsWith(`${NAME}.`));
    await putAside('kites');
    expect(await keptNames()).toEqual([NAME]);
    expect(await heldIn(NAME)).toEqual(['a']);
  });
});

describe('what is left of a board that is gone', () => {
  const boardDoc = (title: string): Y.Doc => {
    const doc = new Y.Doc();
    writeBoard(doc, { ...sampleBoard(), title }, countingIds('w'));
    return doc;
  };

  it('[A43] is its copy and those that were put aside; those that show the same are one', async () => {
    await leaveCopy(NAME, boardDoc('Harbour'));
    await leaveCopy(`${NAME}.1`, boardDoc('Harbour'));
    await leaveCopy(`${NAME}.2`, boardDoc('Lighthouse'));
    await leaveCopy(`${NAME}.3`, docWith('of another release'));
    const left = await readLeftCopies('kites');
    expect(left.map(({ board: { title }, names }) => [title, names])).toEqual([
      ['Harbour', [NAME, `${NAME}.1`]],
      ['Lighthouse', [`${NAME}.2`]],
    ]);
    await dropCopies(left[0]!);
    expect(await keptNames()).toEqual([`${NAME}.2`, `${NAME}.3`]);
  });

  it('[A43] nothing is left where nothing was kept, or what was kept is no board', async () => {
    expect(await readLeftCopies('kites')).toEqual([]);
    await leaveCopy(NAME, docWith('of another release'));
    expect(await readCopy(NAME)).toBeNull();
    expect(await readLeftCopies('kites')).toEqual([]);
  });

  it('boards look alike when their files are the same', () => {
    const board = sampleBoard();
    expect(looksAlike(board, structuredClone(board))).toBe(true);
    expect(looksAlike(board, { ...board, title: 'Other' })).toBe(false);
    const [one] = withCopy([], 'a', board);
    const two = withCopy([one!], 'b', { ...board, title: 'Other' });
    expect(withCopy(two, 'c', board).map(({ names }) => names)).toEqual([['a', 'c'], ['b']]);
  });

  it('a copy that a tab still has open goes all the same', async () => {
    const { told } = await tabAt(NAME, boardDoc('Harbour'));
    await dropCopies({ names: [NAME] });
    await until('the tab was told', () => told.length > 0);
    await turnsOfTheLoop();
    expect(await keptNames()).toEqual([]);
  });
});
