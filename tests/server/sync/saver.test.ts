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

describe('what must be on the disk first', () => {
  it('[V402] is there before the edit that waits for it, and what comes behind waits too; what came before does not', async () => {
    const order: string[] = [];
    let letGo = (): void => {};
    const append = store.append;
    store.append = async (...row) => {
      order.push(`append ${(await keys()).length}`);
      return append(...row);
    };
    saver.take(edit('a'));
    saver.take(edit('b'), null, [
      () => {
        order.push('guard');
        return new Promise((resolve) => {
          letGo = resolve;
        });
      },
      async () => {
        order.push('second guard');
      },
    ]);
    saver.take(edit('c'));
    const saved: string[] = [];
    saver.whenSaved(() => saved.push('all'));
    await turn(0);
    expect([order, await keys(), saved]).toEqual([['append 0', 'guard'], ['a'], []]);
    letGo();
    await turn(0);
    expect(order.slice(2)).toEqual(['second guard', 'append 1']);
    expect([await keys(), saved, saver.isIdle]).toEqual([['a', 'b', 'c'], ['all'], true]);
  });

  it('[V407] where that cannot be, the room is told, and both are tried again', async () => {
    let isFull = true;
    let asked = 0;
    saver.take(edit('a'), null, [
      async () => {
        asked += 1;
        if (isFull) throw new StoreError('full', 'no room');
      },
    ]);
    await turn(0);
    saver.take(edit('b'));
    expect([told, asked, await keys()]).toEqual([['failing full'], 1, []]);
    await turn(200);
    expect([told, asked, await keys()]).toEqual([['failing full'], 2, []]);
    isFull = false;
    await turn(400);
    expect([told, asked, await keys()]).toEqual([['failing full', 'saved', 'recovered'], 3, ['a', 'b']]);
    expect(unsaved.reduce((sum, bytes) => sum + bytes, 0)).toBe(0);
  });

  it('[V23] [V402] of a room that was given up meanwhile nothing is stored', async () => {
    let letGo = (): void => {};
    saver.take(edit('a'), null, [
      () =>
        new Promise((resolve) => {
          letGo = resolve;
        }),
    ]);
    saver.abandon();
    letGo();
    await turn(0);
    expect([await keys(), told]).toEqual([[], []]);
  });
});
