/** What a person did on a board before this page. */
import { afterAll, beforeEach, describe, expect, it, vi } from 'vitest';
import { encodeEdit, type KeyChange, type OwnStep } from '../../../engine/document/index.ts';
import { NOTHING_HELD } from '../../../engine/document/journal/index.ts';
import { readEarlier } from '../../../web/notices/earlier-work.ts';
import { StepShelf } from '../../../web/sync/index.ts';
import { refuseDatabases, stubBrowser } from '../../support/fresh-browser.ts';

const MINUTE = 60_000;

describe('what undo keeps', () => {
  beforeEach(() => {
    stubBrowser();
  });
  afterAll(() => vi.unstubAllGlobals());

  const change = (key: string): KeyChange => ({
    root: 'meta',
    key: `p.${key}`,
    before: undefined,
    after: true,
  });
  const NOW = 1_800_000_000_000;

  async function keep(
    ...edits: readonly (readonly [board: string, person: string, at: number, way: string, key: string])[]
  ) {
    const opening = indexedDB.open('larkboard-steps', 1);
    opening.onupgradeneeded = () => opening.result.createObjectStore('edits');
    await new Promise((resolve) => {
      opening.onsuccess = resolve;
    });
    const writing = opening.result.transaction('edits', 'readwrite');
    edits.forEach(([board, person, at, way, key], i) => {
      const bytes = encodeEdit({ changes: [change(key)], held: NOTHING_HELD });
      writing
        .objectStore('edits')
        .put({ step: `s${i}`, way, client: 1, bytes }, [board, person, at, 'tab', i]);
    });
    await new Promise((resolve) => {
      writing.oncomplete = resolve;
    });
    opening.result.close();
  }

  it('[W986] is read for this board and person, without what was taken back', async () => {
    await keep(
      ['b', 'mia', NOW - 2 * MINUTE, 'undo', 'lastHidden'],
      ['b', 'mia', NOW - MINUTE, 'redo', 'firstHidden'],
      ['b', 'mia', NOW - 900 * MINUTE, 'undo', 'loneString'],
      ['b', 'tom', NOW - MINUTE, 'undo', 'firstHidden'],
      ['c', 'mia', NOW - MINUTE, 'undo', 'firstHidden'],
    );
    expect(await readEarlier('b', 'mia', NOW)).toEqual([[change('loneString')], [change('lastHidden')]]);
    expect(await readEarlier('b', 'mia', NOW + 40 * MINUTE)).toEqual([[change('lastHidden')]]);
    expect(await readEarlier('b', 'ina', NOW)).toEqual([]);
  });

  it('[W986] of this visit and the one before it: 30 minutes without anything end one', async () => {
    const at = (minutes: number, i: number) =>
      ['b', 'mia', NOW + minutes * MINUTE, 'undo', `flag${i}`] as const;
    await keep(...[1, 100, 120, 190, 199].map(at));
    const readAt = async (minutes: number): Promise<readonly string[]> =>
      (await readEarlier('b', 'mia', NOW + minutes * MINUTE)).flatMap((changes) =>
        changes.map(({ key }) => key),
      );
    expect(await readAt(200)).toEqual(['p.flag1', 'p.flag2', 'p.flag3', 'p.flag4']);
    // In the visit that begins then nothing was done yet.
    expect(await readAt(300)).toEqual(['p.flag3', 'p.flag4']);
  });

  it('[W986] is what undo itself wrote, as long as it is not taken back', async () => {
    const shelf = (await StepShelf.open({ boardId: 'b', personId: 'mia', client: 1, now: () => NOW }))!;
    const step: OwnStep = { way: 'undo', edits: [] };
    const edit = { changes: [change('lastHidden')], held: NOTHING_HELD };
    shelf.added(step, edit);
    await expect.poll(() => readEarlier('b', 'mia', NOW)).toEqual([[change('lastHidden')]]);
    shelf.dropped(step);
    await expect.poll(() => readEarlier('b', 'mia', NOW)).toEqual([]);
    shelf.close();
  });

  it('[W986] is nothing of what cannot be read, nor of a database of that name that is another', async () => {
    const opening = indexedDB.open('larkboard-steps', 1);
    await new Promise((resolve) => {
      opening.onsuccess = resolve;
    });
    opening.result.close();
    expect(await readEarlier('b', 'mia', NOW)).toEqual([]);
    indexedDB.deleteDatabase('larkboard-steps');
    await keep(['b', 'mia', NOW - MINUTE, 'undo', 'lastHidden']);
    const again = indexedDB.open('larkboard-steps');
    await new Promise((resolve) => {
      again.onsuccess = resolve;
    });
    const writing = again.result.transaction('edits', 'readwrite');
    const store = writing.objectStore('edits');
    store.put({ step: 'x', way: 'undo', client: 1, bytes: new Uint8Array([9, 9, 9]) }, [
      'b',
      'mia',
      NOW,
      'tab',
      7,
    ]);
    store.put({ step: 'y', way: 'undo', client: 1 }, ['b', 'mia', NOW, 'tab', 8]);
    await new Promise((resolve) => {
      writing.oncomplete = resolve;
    });
    again.result.close();
    expect(await readEarlier('b', 'mia', NOW)).toEqual([[change('lastHidden')]]);
  });

  it('what goes wrong otherwise is not hidden', async () => {
    vi.stubGlobal('indexedDB', { databases: () => Promise.reject(new RangeError('ours')) });
    await expect(readEarlier('b', 'mia', NOW)).rejects.toThrow('ours');
  });

  it('is nothing where the browser gives no database', async () => {
    await keep(['b', 'mia', NOW, 'undo', 'lastHidden']);
    refuseDatabases();
    expect(await readEarlier('b', 'mia', NOW)).toEqual([]);
  });

  it('is not made by looking for it', async () => {
    expect(await readEarlier('b', 'mia', NOW)).toEqual([]);
    expect(await indexedDB.databases()).toEqual([]);
  });
});
