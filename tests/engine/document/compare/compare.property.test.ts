/** Laws of comparing and merging, on designs that random commands made. */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import * as Y from 'yjs';
import {
  applyChanges,
  applyCommand,
  type Change,
  changeKey,
  compactDesign,
  compareDesigns,
  Design,
  type KeyedDesign,
  type KnotAddress,
  mergeDesigns,
  neededBy,
  readDesign,
  readKeyed,
} from '../../../../engine/document/index.ts';
import { longestCommon } from '../../../../engine/document/compare/order.ts';
import { type Board, formatBoard, parseBoard } from '../../../../engine/index.ts';
import { randomBoard, randomCommand } from '../../../convergence/random-command.ts';
import { cases } from '../../../support/depth.ts';
import { joinDesign, numberedDoc, openDesign, syncAll } from '../../../support/open-design.ts';
import { countingIds } from '../../../support/sample-board.ts';
import { type SeededRandom, seededRandom } from '../../../support/seeded-random.ts';

const RUNS = { numRuns: cases(100, 1000) };

/** What the runs met, for the last test. */
const met = new Map<string, number>();
const meet = (what: string): void => void met.set(what, (met.get(what) ?? 0) + 1);

/** Works on a design with random commands, undo and redo; commands of whole patterns only where asked for. */
function work(random: SeededRandom, design: Design, steps: number, isWhole = true): void {
  for (let i = 0; i < steps; i++) {
    const command = randomCommand(random, design.snapshot);
    if (!isWhole && (command.kind === 'replace-pattern' || command.kind === 'load-board')) continue;
    design.run(command);
    if (random.chance(0.1)) design.undo();
    if (random.chance(0.05)) design.redo();
  }
}

/** A branch of a design: the same board under the same ids, in a document of its own. */
function branchOf(design: Design, makerId: string): Design {
  const doc = numberedDoc();
  Y.applyUpdate(doc, Y.encodeStateAsUpdate(compactDesign(design.doc)!));
  return new Design(doc, { makerId, newId: countingIds(`${makerId}-`), captureMs: 0 });
}

/** A board with its colourways by id: their order is not compared. */
const sorted = (board: Board): Board => ({
  ...board,
  colourways: [...board.colourways].sort((a, b) => (a.id < b.id ? -1 : 1)),
});

/** What another change may make impossible: a lead-in longer than the rows, a lone string without a pair beside it. */
const FORCED = /^end loneString|^piece leadInRows/;

/** A knot by its address, hidden ones too; untied where the design lacks the place. */
function knotAt(side: KeyedDesign, { rowPair, stringPair, half }: KnotAddress): number {
  const [i, j] = [side.rowPairIds.indexOf(rowPair), side.stringPairIds.indexOf(stringPair)];
  if (i < 0 || j < 0) return 0;
  const byte = side.knots[i * side.stringPairIds.length + j]!;
  return half === 'inside' ? byte & 15 : byte >> 4;
}

const keyed = (design: Design): KeyedDesign => readKeyed(design.doc)!;

interface Three {
  readonly random: SeededRandom;
  readonly base: KeyedDesign;
  readonly ours: Design;
  readonly theirs: Design;
}

function three(seed: number, { ourSteps = 6, theirSteps = 8, isWhole = true } = {}): Three {
  const random = seededRandom(seed);
  const ours = openDesign(randomBoard(random), 'o');
  work(random, ours, 12);
  const name = (design: Design, called: string): void =>
    void design.run({ kind: 'put-colourway', colourway: { id: 'ash', name: called, colours: [] } });
  const hasColourway = random.chance(0.5);
  if (hasColourway) name(ours, 'Mara');
  const theirs = branchOf(ours, 't');
  const base = keyed(ours);
  if (hasColourway && theirSteps > 0) name(theirs, 'Ines');
  work(random, theirs, theirSteps, isWhole);
  work(random, ours, ourSteps, isWhole);
  return { random, base, ours, theirs };
}

const forSeeds = (law: (seed: number) => void): void =>
  fc.assert(fc.property(fc.integer({ min: 0, max: 0x7fffffff }), law), RUNS);

/** Applies in the document and in plain data, and checks that both say the same. */
function take(design: Design, changes: readonly Change[], toward: KeyedDesign): void {
  const plain = applyChanges(keyed(design), changes, toward);
  const result = design.run(applyCommand(changes, toward));
  expect(result.ok).toBe(plain.ok);
  if (!plain.ok) return;
  const { board, rowPairIds, stringPairIds } = plain.value;
  expect(sorted(design.snapshot.board)).toEqual(sorted(board));
  expect(design.snapshot.rowPairIds).toEqual(rowPairIds);
  expect(design.snapshot.stringPairIds).toEqual(stringPairIds);
  expect(parseBoard(JSON.stringify(formatBoard(board)))).toEqual({ ok: true, value: board });
}

test('[D130] [D131] a design does not differ from itself, nor from its compacted copy', () => {
  forSeeds((seed) => {
    const { theirs } = three(seed, { ourSteps: 0 });
    expect(compareDesigns(keyed(theirs), keyed(theirs))).toEqual([]);
    expect(compareDesigns(keyed(theirs), keyed(branchOf(theirs, 'c')))).toEqual([]);
  });
});

test('[D131] [D132] what differs, applied, gives the other board, ids included', () => {
  forSeeds((seed) => {
    const { ours, theirs } = three(seed);
    const toward = keyed(theirs);
    const changes = compareDesigns(keyed(ours), toward);
    for (const { kind } of changes) meet(kind);
    expect(new Set(changes.map(changeKey)).size).toBe(changes.length);
    take(ours, changes, toward);
    expect(sorted(ours.snapshot.board)).toEqual(sorted(theirs.snapshot.board));
    expect(ours.snapshot.rowPairIds).toEqual(theirs.snapshot.rowPairIds);
    expect(ours.snapshot.stringPairIds).toEqual(theirs.snapshot.stringPairIds);
    expect(compareDesigns(keyed(ours), toward)).toEqual([]);
  });
});

test('[D133] with ours unchanged since the base, merging gives theirs, without conflicts', () => {
  forSeeds((seed) => {
    const { base, ours, theirs } = three(seed, { ourSteps: 0 });
    const toward = keyed(theirs);
    const { changes, conflicts } = mergeDesigns(base, keyed(ours), toward);
    expect(conflicts).toEqual([]);
    take(ours, changes, toward);
    expect(sorted(ours.snapshot.board)).toEqual(sorted(theirs.snapshot.board));
  });
});

test('[D133] with theirs unchanged since the base, there is nothing to take', () => {
  forSeeds((seed) => {
    const { base, ours, theirs } = three(seed, { theirSteps: 0 });
    expect(mergeDesigns(base, keyed(ours), keyed(theirs))).toEqual({ changes: [], conflicts: [] });
  });
});

test('[D133] [D134] [D135] [D136] [D138] after a merge every difference from the base is one that a side made', () => {
  forSeeds((seed) => {
    const { base, ours, theirs } = three(seed);
    const toward = keyed(theirs);
    const before = keyed(ours);
    const merge = mergeDesigns(base, before, toward);
    for (const { why, changes } of merge.conflicts) meet(`${why} ${changes[0].kind}`);
    take(ours, merge.changes, toward);
    const mine = new Map(compareDesigns(base, before).map((change) => [changeKey(change), change]));
    const other = new Map(compareDesigns(base, toward).map((change) => [changeKey(change), change]));
    for (const change of compareDesigns(base, keyed(ours))) {
      const key = changeKey(change);
      // An order, a pattern taken whole and what follows from a removed colour have no single origin.
      if (change.kind === 'knot') {
        const at = [base, before, toward].map((side) => knotAt(side, change.address));
        expect(at).toContain(change.after);
        continue;
      }
      if (/order|^pattern|^string-colour|^colourway|^piece leadInRows|^end loneString/.test(key)) continue;
      expect([mine.get(key), other.get(key)].map((one) => JSON.stringify(one))).toContain(
        JSON.stringify(change),
      );
    }
    // What only ours changed is still there: theirs, merged again, brings nothing new.
    const again = mergeDesigns(base, keyed(ours), toward);
    // Save where a change that stood against it is not shown any more.
    const asked = merge.conflicts.flatMap(({ changes }) => changes.map(changeKey));
    expect(again.changes.map(changeKey).filter((key) => !asked.includes(key) && !FORCED.test(key))).toEqual(
      [],
    );
  });
});

test('[D134] [D135] [D136] every conflict taken from theirs, after all changes, leaves nothing to take', () => {
  forSeeds((seed) => {
    const { base, ours, theirs } = three(seed, { isWhole: false });
    const toward = keyed(theirs);
    const { changes, conflicts } = mergeDesigns(base, keyed(ours), toward);
    const all = [...changes, ...conflicts.flatMap((conflict) => conflict.changes)];
    // Each took out what the other left, and together nothing is left.
    if (!applyChanges(keyed(ours), all, toward).ok) return;
    take(ours, all, toward);
    const left = mergeDesigns(base, keyed(ours), toward);
    const keys = [...left.changes, ...left.conflicts.map(({ changes: [first] }) => first)].map(changeKey);
    expect(keys.filter((key) => !FORCED.test(key))).toEqual([]);
  });
});

test('[D138] [D139] a chosen part, with what it needs, leaves all else as it is', () => {
  forSeeds((seed) => {
    const { random, base, ours, theirs } = three(seed);
    const toward = keyed(theirs);
    const before = keyed(ours);
    const { changes } = mergeDesigns(base, before, toward);
    const byKey = new Map(changes.map((change) => [changeKey(change), change]));
    const chosen = new Set<string>();
    const choose = (key: string): void => {
      if (chosen.has(key)) return;
      chosen.add(key);
      for (const needed of neededBy(byKey.get(key)!, changes, before, toward)) choose(needed);
    };
    for (const key of byKey.keys()) if (random.chance(0.4)) choose(key);
    const part = changes.filter((change) => chosen.has(changeKey(change)));
    if (part.length > 0 && part.length < changes.length) meet('part');
    take(ours, part, toward);
    for (const change of compareDesigns(before, keyed(ours))) {
      const key = changeKey(change);
      if (/^palette-order|^colourway|^piece leadInRows|^end loneString/.test(key)) continue;
      expect([...chosen]).toContain(key);
    }
  });
});

test('[D141] taking over undoes as one, and can be done again', () => {
  forSeeds((seed) => {
    const { base, ours, theirs } = three(seed);
    const before = ours.snapshot;
    const { changes } = mergeDesigns(base, keyed(ours), keyed(theirs));
    take(ours, changes, keyed(theirs));
    const after = ours.snapshot.board;
    if (after === before.board) return;
    expect(ours.undo()).toBe(true);
    expect(ours.snapshot.board).toEqual(before.board);
    expect(ours.redo()).toBe(true);
    expect(ours.snapshot.board).toEqual(after);
  });
});

test('[D143] two owners who take over at once end alike, and as if one had', () => {
  forSeeds((seed) => {
    const { base, ours, theirs } = three(seed);
    const second = joinDesign(ours, 'p');
    const toward = keyed(theirs);
    const { changes } = mergeDesigns(base, keyed(ours), toward);
    take(ours, changes, toward);
    const alone = ours.snapshot.board;
    take(second, changes, toward);
    syncAll(ours, second);
    expect(ours.snapshot).toEqual(second.snapshot);
    expect(ours.snapshot.board).toEqual(alone);
    expect(readDesign(ours.doc)).toEqual(ours.snapshot);
  });
});

test('[D143] two owners who take different parts at once, while a third works, end alike', () => {
  forSeeds((seed) => {
    const { random, base, ours, theirs } = three(seed);
    const second = joinDesign(ours, 'p');
    const third = joinDesign(ours, 'q');
    const toward = keyed(theirs);
    const { changes } = mergeDesigns(base, keyed(ours), toward);
    const some = changes.filter(() => random.chance(0.5));
    ours.run(applyCommand(some, toward));
    second.run(applyCommand(changes, toward));
    work(random, third, 3);
    syncAll(ours, second, third);
    expect(second.snapshot).toEqual(ours.snapshot);
    expect(third.snapshot).toEqual(ours.snapshot);
    const { board } = ours.snapshot;
    expect(parseBoard(JSON.stringify(formatBoard(board)))).toEqual({ ok: true, value: board });
  });
});

/** Length of the longest common part, by the table of Wagner and Fischer, The String-to-String Correction Problem (1974). */
function commonByTable(a: readonly string[], b: readonly string[]): number {
  let above = Array<number>(b.length + 1).fill(0);
  for (const id of a) {
    const row = [0];
    b.forEach((other, j) => {
      row.push(id === other ? above[j]! + 1 : Math.max(above[j + 1]!, row[j]!));
    });
    above = row;
  }
  return above.at(-1)!;
}

test('[D137] what keeps its place when an order is taken over is as much as possible, in the same order on both sides', () => {
  const ids = Array.from({ length: 12 }, (_, i) => `c${i}`);
  const order = fc.shuffledSubarray(ids, { minLength: 0 });
  fc.assert(
    fc.property(order, order, (ours, wanted) => {
      const kept = longestCommon(ours, wanted);
      expect(ours.filter((id) => kept.has(id))).toEqual(wanted.filter((id) => kept.has(id)));
      expect(kept.size).toBe(commonByTable(ours, wanted));
      meet(kept.size > 3 ? 'a long part in common' : 'a short part in common');
    }),
    RUNS,
  );
});

test('the runs met every kind of change and conflict', () => {
  const wanted = [
    'pattern',
    'knot',
    'string-colour',
    'rows-added',
    'rows-removed',
    'strings-added',
    'strings-removed',
    'end',
    'colour-added',
    'colour-removed',
    'colour',
    'palette-order',
    'title',
    'extent',
    'piece',
    'gauge',
    'supply',
    'colourway-added',
    'colourway-removed',
    'colourway',
    'colourway-colour',
    'part',
    'both-changed pattern',
    'both-changed knot',
    'both-changed string-colour',
    'both-changed title',
    'both-changed colour',
    'ours-removed rows-added',
    'ours-removed strings-added',
    'theirs-removed rows-removed',
    'theirs-removed strings-removed',
    'ours-removed colour-added',
    'theirs-removed colour-removed',
  ];
  expect(wanted.filter((what) => !met.has(what))).toEqual([]);
});
