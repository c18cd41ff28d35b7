/** Copies of ended generations where something fails on the way to the present document: nothing is lost, and nothing comes twice. */
import { beforeEach, describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import { readDesign } from '../../../../engine/document/index.ts';
import { Log } from '../../../../server/index.ts';
import { type DocumentAddress, StoreError } from '../../../../server/store/index.ts';
import { MemoryStore } from '../../../../server/store/memory-store.ts';
import { DEFAULT_SYNC_LIMITS } from '../../../../server/sync/limits.ts';
import { packLastState } from '../../../../server/sync/renewal/beginning.ts';
import { type CopiedRoom, LateCopies } from '../../../../server/sync/renewal/late-copies.ts';
import { ByteBudget, Work } from '../../../../server/work/index.ts';
import { COSTLY_UPDATES } from '../../../support/costly-updates.ts';
import { HandClock } from '../../../support/hand-clock.ts';
import { turnsOfTheLoop } from '../../../support/until.ts';
import {
  beyond,
  copyOf,
  ENDED,
  lastDoc,
  NAME,
  OTHER,
  PRESENT,
  presentOf,
  stateOf,
} from '../../ended-design.ts';
import { runAll } from '../../worn-board.ts';

const ADDRESS: DocumentAddress = { board: 'kites', part: 'design' };

/** A store whose appends fail as told. */
class FailingStore extends MemoryStore {
  fault: Error | null = null;

  override async append(...row: Parameters<MemoryStore['append']>): ReturnType<MemoryStore['append']> {
    if (this.fault !== null) throw this.fault;
    return super.append(...row);
  }
}

let last: Y.Doc;
/** The document of the room. */
let present: Uint8Array;
let store: FailingStore;
let limits: { documentBytes: number; steps: number };
/** What the room was told. */
let told: string[];
/** Copies that were kept beside the board. */
let kept: Uint8Array[];
/** Why what a copy may change cannot be kept. */
let notBefore: StoreError | null;
let isKept: boolean;
let isStored: boolean;
let hasRoom: boolean;
let tooMuch: number;
let copies: LateCopies;

beforeEach(async () => {
  notBefore = null;
  last = lastDoc();
  present = presentOf(last);
  store = new FailingStore();
  await store.addBoard({ id: 'kites', kind: 'board', createdAt: 0 }, [
    { part: 'design', bytes: stateOf(last) },
  ]);
  await renewedWith(packLastState(stateOf(last)));
  limits = { documentBytes: DEFAULT_SYNC_LIMITS.documentBytes, steps: DEFAULT_SYNC_LIMITS.steps };
  [told, kept, isKept, isStored, hasRoom, tooMuch] = [[], [], true, true, true, 0];
  const clock = new HandClock();
  const room: CopiedRoom = {
    name: NAME,
    address: ADDRESS,
    generation: PRESENT.generation,
    takesNothing: false,
    get held() {
      return { bytes: present.length, updates: [present] };
    },
    endTurn: () => {},
    stored: async () => isStored,
    hasRoomFor: () => hasRoom,
    tookOver: () => told.push('took over'),
    onOutdated: () => told.push('outdated'),
    reload: async () => {
      told.push('reads anew');
    },
    broke: (what) => told.push(`broke by ${what}`),
  };
  copies = new LateCopies(room, {
    store,
    log: new Log(() => {}, clock.now, 'error'),
    limits,
    trials: { count: () => (tooMuch += 1) },
    work: new Work(null, clock),
    copyBytes: new ByteBudget(1_000),
    keep: async (copy) => {
      if (isKept) kept.push(copy);
      return isKept;
    },
    before: async () => {
      if (notBefore !== null) throw notBefore;
      told.push('kept before');
    },
  });
});

/** Ends the generation, with this as its last state. */
async function renewedWith(lastState: Uint8Array): Promise<void> {
  const seqs = (await store.load(ADDRESS)).map(({ seq }) => seq);
  const { generation, drawn } = ENDED;
  expect(await store.renew(ADDRESS, { seqs, snapshot: present, generation, drawn, lastState })).toBe(true);
}

const retitled = (): Y.Doc => copyOf(last, (doc) => runAll(doc, [{ kind: 'set-title', title: 'made away' }]));

/** What stands in the store: the title, and how many rows. */
async function there(): Promise<readonly [title: string, rows: number]> {
  const doc = new Y.Doc();
  const rows = await store.load(ADDRESS);
  for (const { bytes } of rows) Y.applyUpdate(doc, bytes);
  return [readDesign(doc).board.title, rows.length];
}

describe('a late copy', () => {
  it('[V104] [V350] of which it is not known whether it was stored is worked out anew when it comes again, and comes once', async () => {
    const copy = beyond(retitled(), last);
    for (const [fault, hears] of [
      [new StoreError('unavailable', 'the answer was lost'), ['reads anew']],
      [new StoreError('outdated', 'another node has renewed it'), ['outdated']],
      [new TypeError('seven is no row'), []],
    ] as const) {
      told = [];
      store.fault = fault;
      await expect(copies.bring(ENDED, copy, false)).rejects.toBe(fault);
      await turnsOfTheLoop();
      expect([fault.message, told]).toEqual([fault.message, ['kept before', ...hears]]);
      expect(copies.isBusy).toBe(false);
    }
    expect(await there()).toEqual(['Test input', 1]);
    store.fault = null;
    for (let times = 0; times < 2; times += 1)
      expect(await copies.bring(ENDED, copy, false)).toEqual({ kind: 'taken' });
    expect([await there(), told]).toEqual([
      ['made away', 2],
      // Once more for the one before, of which it was not known.
      ['kept before', 'kept before', 'took over'],
    ]);
  });

  it('[V350] waits for what the room holds: where that is never stored it is not taken', async () => {
    isStored = false;
    const copy = beyond(retitled(), last);
    await expect(copies.bring(ENDED, copy, false)).rejects.toMatchObject({ kind: 'unavailable' });
    expect([await there(), told]).toEqual([['Test input', 1], []]);
  });

  it('[V104] that is larger than a document may be, or for which the board has no room, is refused by name', async () => {
    const copy = beyond(retitled(), last);
    hasRoom = false;
    expect(await copies.bring(ENDED, copy, false)).toMatchObject({ kind: 'refused', reason: 'boardFull' });
    // Where it brings nothing it needs no room.
    expect(await copies.bring(ENDED, Uint8Array.of(0, 0), false)).toEqual({ kind: 'taken' });
    limits.documentBytes = 100;
    expect(await copies.bring(ENDED, copy, false)).toMatchObject({ kind: 'refused', reason: 'tooLarge' });
    expect([await there(), told]).toEqual([['Test input', 1], []]);
  });

  it('[V408] is not stored before what it may change is kept', async () => {
    notBefore = new StoreError('full', 'no room for a version');
    await expect(copies.bring(ENDED, beyond(retitled(), last), false)).rejects.toBe(notBefore);
    expect([await there(), told]).toEqual([['Test input', 1], []]);
  });

  it('[V253] whose last state is damaged is not taken, and stays with its people', async () => {
    await renewedWith(packLastState(stateOf(lastDoc(OTHER))));
    await expect(copies.bring(ENDED, beyond(retitled(), last), true)).rejects.toMatchObject({
      kind: 'damaged',
      message: expect.stringMatching(/^generation 2: /),
    });
    expect([await there(), told, kept]).toEqual([['Test input', 1], [], []]);
  });

  it('[V193] with edits that have no place is kept beside the board before anything of it is stored, or not taken at all', async () => {
    present = presentOf(copyOf(last, (doc) => runAll(doc, [{ kind: 'set-title', title: 'meanwhile' }])));
    const seqs = (await store.load(ADDRESS)).map(({ seq }) => seq);
    await store.compact(ADDRESS, seqs, present);
    // Both gave the board another title, so that of the copy has no place; its knot has.
    const knots = [{ row: 2, k: 0, knot: 1 }] as const;
    const copy = copyOf(retitled(), (doc) => runAll(doc, [{ kind: 'set-knots', knots }]));
    isKept = false;
    await expect(copies.bring(ENDED, beyond(copy, last), false)).rejects.toMatchObject({
      kind: 'unavailable',
    });
    expect([await there(), kept]).toEqual([['meanwhile', 1], []]);
    isKept = true;
    expect(await copies.bring(ENDED, beyond(copy, last), false)).toEqual({ kind: 'taken' });
    expect([await there(), kept]).toEqual([['meanwhile', 2], [stateOf(copy)]]);
  });

  it('[V356] [V352] of a generation that is not kept is needed whole, and then kept; what takes too long is refused and counted', async () => {
    const strange = stateOf(
      copyOf(lastDoc(OTHER), (doc) => runAll(doc, [{ kind: 'set-title', title: 'away' }])),
    );
    expect(await copies.vectorOf(OTHER)).toBe(null);
    expect(await copies.bring(OTHER, strange, false)).toEqual({ kind: 'partial' });
    expect(kept).toEqual([]);
    isKept = false;
    await expect(copies.bring(OTHER, strange, true)).rejects.toMatchObject({ kind: 'unavailable' });
    isKept = true;
    expect(await copies.bring(OTHER, strange, true)).toEqual({ kind: 'taken' });
    expect(kept).toEqual([strange]);
    // What builds on more than is kept of its generation is no different.
    expect(await copies.bring(ENDED, strange, false)).toEqual({ kind: 'partial' });
    expect(await copies.bring(ENDED, strange, true)).toEqual({ kind: 'taken' });
    limits.steps = 1_000;
    const costly = COSTLY_UPDATES['one key written over and over as if it were new']!(1_500).update;
    for (const identity of [OTHER, ENDED])
      expect(await copies.bring(identity, costly, true)).toMatchObject({
        kind: 'refused',
        reason: 'malformed',
      });
    expect([kept.length, tooMuch, await there()]).toEqual([2, 2, ['Test input', 1]]);
  });

  it('[V354] has a place while it comes in, and gives back what it took once, however often it leaves', () => {
    const [one, two] = [copies.seat()!, copies.seat()!];
    expect([copies.seat(), one.hold(600), two.hold(600)]).toEqual([null, true, false]);
    one.drop();
    expect([two.hold(600), one.hold(600)]).toEqual([true, false]);
    for (let times = 0; times < 3; times += 1) two.leave();
    expect([one.hold(600), two.hold(1)]).toEqual([true, false]);
    const three = copies.seat()!;
    // One place was given back, not three.
    expect([three.hold(500), copies.seat()]).toEqual([false, null]);
  });
});
