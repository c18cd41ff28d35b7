/** How much work an update is: what is estimated of it before it is applied, and what Yjs then really does, both counted in steps. */
import { describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import { MAX_ROWS, MAX_STRINGS } from '../../../engine/index.ts';
import { checkState, checkUpdate } from '../../../server/sync/check-update.ts';
import { countSteps } from '../../../server/sync/count-steps.ts';
import { firstOf } from '../../../server/sync/identity.ts';
import { DEFAULT_SYNC_LIMITS } from '../../../server/sync/index.ts';
import { STEPS_PER_CLIENT } from '../../../server/sync/placing.ts';
import { Reach } from '../../../server/sync/reach.ts';
import { Run } from '../../convergence/makers.ts';
import { COSTLY_UPDATES } from '../../support/costly-updates.ts';
import {
  type CraftedBlock,
  type CraftedStruct,
  craftUpdate,
  deleted,
  values,
} from '../../support/crafted-update.ts';
import { cases, firstSeed, seedFailed } from '../../support/depth.ts';
import { keptCopies, storedDocuments } from '../../support/fixture-documents.ts';
import { openDesign } from '../../support/open-design.ts';
import { sampleBoard } from '../../support/sample-board.ts';
import { type SeededRandom, seededRandom } from '../../support/seeded-random.ts';

const IDENTITY = firstOf('b/design');
/** Up to there nothing is tried. */
const MOST_ESTIMATED = 150_000;
const everything = (): number => Number.POSITIVE_INFINITY;

type Id = readonly [client: number, clock: number];

/** Takes updates one after the other. @returns the steps estimated in all */
function estimate(updates: readonly Uint8Array[]): number {
  const reach = new Reach();
  for (const update of updates) {
    const check = checkUpdate(reach, IDENTITY, update);
    if (check.kind !== 'fits') throw new Error(JSON.stringify(check));
    reach.note(check);
  }
  return reach.estimated;
}

/** Updates that crowd at few places: of one list and two keys, behind and before each other, in parts of what others made. */
function crowd(random: SeededRandom): Uint8Array[] {
  const listed: Id[] = [];
  const keyed: Record<string, Id[]> = { a: [], b: [] };
  const clocks = new Map<number, number>();
  const nearest = new Map<string, Id>();
  const updates: Uint8Array[] = [];
  const few = 1 + random.below(4);
  for (let n = 1 + random.below(30); n > 0; n -= 1) {
    const client = 1 + random.below(few * 3);
    const from = clocks.get(client) ?? 0;
    let clock = from;
    const structs: CraftedStruct[] = [];
    for (let i = 1 + random.below(8); i > 0; i -= 1) {
      const length = 1 + random.below(4);
      if (random.chance(0.5)) {
        const origin = random.chance(0.7)
          ? listed[random.below(Math.min(few, listed.length))]
          : listed.at(-1);
        // As honest makers do, before what was put there last; or anywhere.
        const place = String(origin);
        const next: Id | undefined = nearest.get(place) ?? (origin && [origin[0], origin[1] + 1]);
        const isThere = next !== undefined && listed.some(([c, k]) => c === next[0] && k === next[1]);
        const rightOrigin =
          isThere && random.chance(0.6)
            ? next
            : random.chance(0.4)
              ? listed[random.below(listed.length)]
              : undefined;
        nearest.set(place, [client, clock]);
        structs.push({
          parent: 'rowPairs',
          ...(origin && { origin }),
          ...(rightOrigin && { rightOrigin }),
          content: random.chance(0.2) ? deleted(length) : values(...Array.from({ length }, () => 'p.~1')),
        });
        for (let k = 0; k < length; k += 1) listed.push([client, clock + k]);
        clock += length;
      } else {
        const key = random.pick(['a', 'b']);
        const known = keyed[key]!;
        const origin = random.chance(0.3) ? undefined : known[random.below(Math.min(few, known.length))];
        const isGone = random.chance(0.2);
        structs.push({
          parent: 'meta',
          key,
          ...(origin && { origin }),
          content: isGone ? deleted(length) : values(1),
        });
        for (let k = 0; k < (isGone ? length : 1); k += 1) known.push([client, clock + k]);
        clock += isGone ? length : 1;
      }
    }
    clocks.set(client, clock);
    const [goneClient, goneFrom] = random.pick(listed.length > 0 ? listed : [[client, from] as const]);
    const block: CraftedBlock = { client, clock: from, structs };
    updates.push(
      craftUpdate([block], random.chance(0.3) ? [{ client: goneClient, clock: goneFrom, length: 1 }] : []),
    );
  }
  return updates;
}

describe('the estimate of the work', () => {
  const CROWDS = cases(150, 3_000);

  it(`[V241] is never less than what is done, one by one, as one, and read anew (${CROWDS} crowds)`, () => {
    let most = 0;
    for (let seed = firstSeed; seed < firstSeed + CROWDS; seed += 1) {
      const updates = crowd(seededRandom(seed));
      const doc = new Y.Doc();
      for (const update of updates) Y.applyUpdate(doc, update);
      const [merged, state] = [Y.mergeUpdates(updates), Y.encodeStateAsUpdate(doc)];
      const done = countSteps(updates, everything)!;
      const estimated = estimate(updates);
      for (const way of [updates, [merged], [state]])
        expect(estimated, seedFailed(seed)).toBeGreaterThanOrEqual(countSteps(way, everything)!.steps);
      for (const way of [merged, state])
        expect(estimate([way]), seedFailed(seed)).toBeGreaterThanOrEqual(
          countSteps([way], everything)!.steps,
        );
      most = Math.max(most, done.steps - STEPS_PER_CLIENT * doc.store.clients.size);
    }
    // Crowds did crowd.
    expect(most).toBeGreaterThan(500);
  });

  it.each(Object.keys(COSTLY_UPDATES))('[V241] sees the square: %s', (name) => {
    const ratio = (count: (size: number) => number): number => count(800) / count(200);
    const updatesOf = (size: number): Uint8Array[] => {
      const { before, update } = COSTLY_UPDATES[name]!(size);
      return before === null ? [update] : [before, update];
    };
    const counted = (size: number): number => countSteps(updatesOf(size), everything)!.steps;
    const estimated = (size: number): number => estimate(updatesOf(size));
    expect(estimated(800)).toBeGreaterThanOrEqual(counted(800));
    expect(ratio(counted)).toBeGreaterThan(8);
    expect(ratio(estimated)).toBeGreaterThan(10);
    expect(estimated(800)).toBeGreaterThan(50_000);
  });

  it('[V241] is small for all that people have made, though they were many, and apart', () => {
    for (const seed of [1, 2, 3]) {
      const run = new Run(seed, { steps: 400 });
      run.work();
      const done = countSteps(run.sent, everything)!;
      expect(done.steps).toBeLessThan(done.structs);
      expect(estimate(run.sent)).toBeLessThan(MOST_ESTIMATED);
    }
    for (const { board, part, update } of [...storedDocuments(), ...keptCopies()]) {
      const { check } = checkState(update, `${board}/${part}`);
      if (check.kind !== 'fits') throw new Error(JSON.stringify(check));
      expect(check.placing.steps, `${board}/${part}`).toBeLessThan(MOST_ESTIMATED / 10);
    }
  });

  it('[V241] of the largest board, with rows put in one by one, is small too', () => {
    const design = openDesign(sampleBoard(MAX_STRINGS, MAX_ROWS - 20));
    const updates = [Y.encodeStateAsUpdate(design.doc)];
    design.doc.on('update', (update: Uint8Array) => updates.push(update));
    design.run({ kind: 'set-title', title: 'large' });
    design.run({ kind: 'set-knots', knots: [{ row: 1, k: 0, knot: 2 }] });
    expect(estimate(updates)).toBeLessThan(MOST_ESTIMATED / 10);
    const steps = estimate(updates);
    for (let n = 0; n < 5; n += 1)
      expect(design.run({ kind: 'insert-row-pairs', at: 1, count: 1 })).toEqual({ ok: true });
    expect(updates.length).toBeGreaterThan(5);
    expect(estimate(updates) - steps).toBeLessThan(MOST_ESTIMATED / 4);
  });
});

describe('deletions', () => {
  it('[V242] of a client that are not one after the other are refused', () => {
    const structs: readonly CraftedStruct[] = [{ parent: 'rowPairs', content: values('a', 'b', 'c') }];
    const kindOf = (...ranges: readonly (readonly [clock: number, length: number])[]): string =>
      checkUpdate(
        new Reach(),
        IDENTITY,
        craftUpdate(
          [{ client: 9, structs }],
          ranges.map(([clock, length]) => ({ client: 9, clock, length })),
        ),
      ).kind;
    expect(kindOf([0, 1], [1, 1])).toBe('fits');
    expect(kindOf([0, 3], [0, 3])).toBe('malformed');
    expect(kindOf([1, 2], [0, 1])).toBe('malformed');
    expect(kindOf([0, 2], [1, 1])).toBe('malformed');
    expect(kindOf([0, 0])).toBe('malformed');
  });
});

describe('client ids', () => {
  it('[V240] of all copies that browsers kept stay a hundred times below what a socket may bring', () => {
    const stored = new Map(storedDocuments().map(({ board, part, update }) => [`${board}/${part}`, update]));
    let most = 0;
    for (const { board, part, update } of keptCopies()) {
      const name = `${board}/${part}`;
      const reach = new Reach();
      const known = stored.get(name);
      const held = known === undefined ? null : checkState(known, name).check;
      if (held?.kind === 'fits') reach.note(held);
      const check = checkState(update, name).check;
      if (check.kind !== 'fits') throw new Error(`${name} is ${check.kind}`);
      const isNew = [...check.ends.keys()].filter((client) => reach.clockOf(client) === 0).length;
      most = Math.max(most, isNew);
    }
    expect(most).toBeGreaterThan(1);
    expect(most * 100).toBeLessThan(DEFAULT_SYNC_LIMITS.newClientsInCopy);
    expect(most).toBeLessThan(DEFAULT_SYNC_LIMITS.newClients);
  });
});
