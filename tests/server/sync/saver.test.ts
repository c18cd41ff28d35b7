import { beforeEach, describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import { type DocumentAddress, StoreError } from '../../../server/store/index.ts';
import { MemoryStore } from '../../../server/store/memory-store.ts';
import { Saver } from '../../../server/sync/saver.ts';
import { HandClock } from '../../support/hand-clock.ts';
import { turnsOfTheLoop } from '../../support/until.ts';
import { FaultyStore } from '../faulty-store.ts';

const ADDRESS: DocumentAddress = { board: 'kites', part: 'design' };

let clock: HandClock;
let store: FaultyStore;
let saver: Saver;
let told: string[];
let unsaved: number[];

beforeEach(async () => {
  clock = new HandClock();
  store = new FaultyStore(new MemoryStore());
  await store.addBoard({ id: 'kites', kind: 'board', createdAt: 0 }, []);
  told = [];
  unsaved = [];
  saver = new Saver(
    store,
    ADDRESS,
    {
      generation: 1,
      unsaved: { add: (bytes) => unsaved.push(bytes) },
      onSaved: () => told.push('saved'),
      onFailing: ({ kind }) => told.push(`failing ${kind}`),
      onRecovered: () => told.push('recovered'),
      onLost: ({ kind }) => told.push(`lost ${kind}`),
      broke: (what, cause) => {
        throw new Error(what, { cause });
      },
    },
    clock,
  );
});

const edit = (key: string): Uint8Array => {
  const doc = new Y.Doc();
  doc.getMap('meta').set(key, 1);
  return Y.encodeStateAsUpdate(doc);
};

async function keys(): Promise<string[]> {
  const doc = new Y.Doc();
  for (const { bytes } of await store.inner.load(ADDRESS)) Y.applyUpdate(doc, bytes);
  return [...doc.getMap('meta').keys()].sort();
}

/** Puts the clock forward, and lets the store answer. */
async function turn(ms: number): Promise<void> {
  clock.turn(ms);
  await turnsOfTheLoop();
}

describe('a saver whose store fails', () => {
  it('[V72] tries again after 200 ms, then twice as long each time, up to 5 s, with all that came meanwhile', async () => {
    store.fault = { kind: 'full', when: 'before' };
    saver.take(edit('a'));
    await turnsOfTheLoop();
    expect([store.appends, told, saver.isFailing]).toEqual([1, ['failing full'], true]);
    saver.take(edit('b'));
    let tries = 1;
    for (const ms of [200, 400, 800, 1600, 3200, 5000, 5000]) {
      await turn(ms - 1);
      expect([ms, store.appends]).toEqual([ms, tries]);
      await turn(1);
      tries += 1;
      expect([ms, store.appends]).toEqual([ms, tries]);
    }
    expect(told).toEqual(['failing full']);
    store.fault = null;
    await turn(5000);
    expect(told).toEqual(['failing full', 'saved', 'recovered']);
    expect([await keys(), saver.isIdle, clock.waiting]).toEqual([['a', 'b'], true, 0]);
    // The next failure is tried again as soon as the first was.
    store.fault = { kind: 'full', when: 'before' };
    saver.take(edit('c'));
    await turnsOfTheLoop();
    store.fault = null;
    await turn(200);
    expect(await keys()).toEqual(['a', 'b', 'c']);
  });

  it('[V23] [V218] tries no more once it is given up, and calls nothing saved', async () => {
    store.fault = { kind: 'unavailable', when: 'before' };
    saver.take(edit('a'));
    let isSaved = false;
    saver.whenSaved(() => {
      isSaved = true;
    });
    await turnsOfTheLoop();
    saver.abandon();
    store.fault = null;
    await turn(60_000);
    expect([isSaved, store.appends, clock.waiting, await keys()]).toEqual([false, 1, 0, []]);
  });

  it('[V72] an edit of the server’s own is given up on after ten seconds, and stored all the same', async () => {
    store.fault = { kind: 'full', when: 'before' };
    saver.take(edit('a'));
    const outcome: unknown[] = [];
    const stored = new Promise<void>((resolve) => saver.whenSaved(resolve));
    saver.inTime(stored).catch((cause: unknown) => outcome.push(cause));
    await turn(9_999);
    expect(outcome).toEqual([]);
    await turn(1);
    expect(outcome).toEqual([expect.any(StoreError)]);
    store.fault = null;
    await turn(5_000);
    await stored;
    expect(await keys()).toEqual(['a']);
  });

  it('[V263] says how much waits, and takes off what is stored or given up', async () => {
    const waiting = (): number => unsaved.reduce((sum, bytes) => sum + bytes, 0);
    const [a, b, c, d] = ['a', 'b', 'c', 'd'].map(edit);
    saver.take(a!);
    saver.take(b!);
    expect(waiting()).toBe(a!.length + b!.length);
    await turnsOfTheLoop(3);
    expect([waiting(), await keys()]).toEqual([0, ['a', 'b']]);
    store.fault = { kind: 'full', when: 'before' };
    saver.take(c!);
    await turnsOfTheLoop();
    saver.take(d!);
    expect(waiting()).toBe(c!.length + d!.length);
    saver.abandon();
    expect(waiting()).toBe(0);
    saver.take(edit('e'));
    expect(waiting()).toBe(0);
  });
});
