/** Bringing an earlier state back: what it shows, what was edited meanwhile, and boards of every size. */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import * as Y from 'yjs';
import {
  becomeCommand,
  bringBack,
  changeKey,
  compactDesign,
  compareDesigns,
  type Design,
  type KeyedDesign,
  LIMITS,
  readKeyed,
  readKeyedUpdate,
} from '../../../../engine/document/index.ts';
import { type Board, MAX_ROWS, MAX_STRINGS } from '../../../../engine/index.ts';
import { randomBoard, randomCommand } from '../../../convergence/random-command.ts';
import { cases } from '../../../support/depth.ts';
import { joinDesign, openDesign, runAll, syncAll } from '../../../support/open-design.ts';
import { sampleBoard } from '../../../support/sample-board.ts';
import { type SeededRandom, seededRandom } from '../../../support/seeded-random.ts';

const keyed = (design: Design): KeyedDesign => readKeyed(design.doc)!;

function work(random: SeededRandom, design: Design, steps: number, isWhole = false): void {
  for (let i = 0; i < steps; i++) {
    const command = randomCommand(random, design.snapshot);
    if (!isWhole && (command.kind === 'replace-pattern' || command.kind === 'load-board')) continue;
    design.run(command);
  }
}

/** A board with its colourways by id: their order is not compared. */
const sorted = (board: Board): Board => ({
  ...board,
  colourways: [...board.colourways].sort((a, b) => (a.id < b.id ? -1 : 1)),
});

/** What is met, for the last test. */
const met = new Map<string, number>();
const meet = (what: string, count = 1): void => void met.set(what, (met.get(what) ?? 0) + count);

const forSeeds = (law: (seed: number) => void, numRuns = cases(75, 1000)): void =>
  fc.assert(fc.property(fc.integer({ min: 0, max: 0x7fffffff }), law), { numRuns });

test('[Y24] [Y25] an earlier state comes back as it was, packed or knot by knot, in one step of undo', () => {
  forSeeds((seed) => {
    const random = seededRandom(seed);
    const design = openDesign(randomBoard(random));
    work(random, design, 6);
    const earlier = keyed(design);
    const shown = design.snapshot;
    work(random, design, 8, true);
    const now = keyed(design);
    const before = design.snapshot;
    const back = bringBack(now, now, earlier);
    if (!back.ok) throw new Error(back.error.message);
    expect(back.stayed).toBe(0);
    const other = joinDesign(design, 'other');
    const isOneByOne = other.run(becomeCommand(back.value, Number.POSITIVE_INFINITY));
    expect(design.run(becomeCommand(back.value, 0))).toEqual(isOneByOne);
    for (const one of [design, other]) {
      expect(sorted(one.snapshot.board)).toEqual(sorted(shown.board));
      expect(one.snapshot.rowPairIds).toEqual(shown.rowPairIds);
      expect(one.snapshot.stringPairIds).toEqual(shown.stringPairIds);
      expect(compareDesigns(keyed(one), earlier)).toEqual([]);
    }
    const isSame = compareDesigns(now, earlier).length === 0;
    if (!isSame) design.undo();
    expect(design.snapshot.board).toEqual(before.board);
    meet(isSame ? 'same' : 'brought back');
  });
});

test('[Y24] what anybody edits between keeping and bringing back stays, and the rest comes back', () => {
  forSeeds((seed) => {
    const random = seededRandom(seed);
    const design = openDesign(randomBoard(random));
    work(random, design, 6);
    const earlier = keyed(design);
    work(random, design, 8);
    const kept = keyed(design);
    const friend = joinDesign(design, 'friend');
    work(random, friend, 4);
    syncAll(design, friend);
    const now = keyed(design);
    const back = bringBack(kept, now, earlier);
    // What both sides did may together be no board: too long a lead-in and the like; then it is refused, and nothing is lost.
    if (!back.ok) return meet('refused');
    expect(design.run(becomeCommand(back.value, random.chance(0.5) ? 0 : 1_000_000)).ok).toBe(true);
    const after = keyed(design);
    const edits = compareDesigns(kept, now);
    for (const edit of edits) {
      if (edit.kind !== 'knot') continue;
      const { rowPair, stringPair, half } = edit.address;
      const i = after.rowPairIds.indexOf(rowPair);
      const j = after.stringPairIds.indexOf(stringPair);
      // A pair of rows or strings that was edited stays: the earlier state may lack it.
      expect([seed, edit, i >= 0 && j >= 0]).toEqual([seed, edit, true]);
      const byte = after.knots[i * after.stringPairIds.length + j]!;
      expect([seed, edit, half === 'inside' ? byte & 15 : byte >> 4]).toEqual([seed, edit, edit.after]);
      meet('edited meanwhile');
    }
    for (const { kind } of edits) meet(kind);
    if (back.stayed > 0) meet('stayed');
    // Where only knots were edited, every other knot is as in the earlier state.
    if (!edits.every(({ kind }) => kind === 'knot')) return;
    const touched = new Set(edits.map(changeKey));
    const left = compareDesigns(after, earlier).filter(
      (change) => change.kind === 'knot' && !touched.has(changeKey(change)),
    );
    expect([seed, left]).toEqual([seed, []]);
    meet('knots only');
  });
});

test('[Y25] while others tie, insert and bring back, everybody ends with the same board', () => {
  forSeeds((seed) => {
    const random = seededRandom(seed);
    const a = openDesign(randomBoard(random), 'a');
    work(random, a, 6);
    const earlier = keyed(a);
    work(random, a, 8);
    const [b, c] = [joinDesign(a, 'b'), joinDesign(a, 'c')];
    for (const design of [a, b]) {
      const back = bringBack(keyed(design), keyed(design), earlier);
      if (back.ok) design.run(becomeCommand(back.value, random.chance(0.7) ? 0 : 1_000_000));
    }
    const before = keyed(c);
    work(random, c, 3);
    const tied = compareDesigns(before, keyed(c)).filter(({ kind }) => kind === 'knot').length;
    meet('tied at once', tied);
    syncAll(a, b, c);
    expect([seed, a.snapshot]).toEqual([seed, b.snapshot]);
    expect([seed, c.snapshot]).toEqual([seed, b.snapshot]);
    const rebuilt = readKeyedUpdate(Y.encodeStateAsUpdate(c.doc))!;
    expect(rebuilt.board).toEqual(a.snapshot.board);
  }, 200);
});

test('[Y25] knots of rows that were taken out wait for their undo through a packed bringing back', () => {
  const design = openDesign(sampleBoard(6, 8));
  const kept = keyed(design);
  const rows = JSON.stringify(design.snapshot.board.pattern);
  runAll(design, { kind: 'set-knots', knots: [{ row: 3, k: 0, knot: 4 }] });
  const friend = joinDesign(design, 'friend');
  friend.run({ kind: 'delete-row-pairs', from: 1, count: 1 });
  syncAll(design, friend);
  const now = keyed(design);
  const earlier = { ...now, board: { ...now.board, title: 'Earlier' }, knots: now.knots.map(() => 0x11) };
  const back = bringBack(now, now, earlier);
  if (!back.ok) throw new Error(back.error.message);
  expect(design.run(becomeCommand(back.value, 0)).ok).toBe(true);
  syncAll(design, friend);
  friend.undo();
  syncAll(design, friend);
  expect(design.snapshot.rowPairIds).toEqual(kept.rowPairIds);
  const { knots, colours } = design.snapshot.board.pattern;
  const original = JSON.parse(rows).knots as Record<string, number>;
  const stride = colours.length >> 1;
  expect(knots[2 * stride]).toBe(original[2 * stride]);
  expect(knots[3 * stride]).toBe(4);
});

test('[Y25] the largest board comes back whole, as one step, in messages that the server takes', () => {
  const colours = Array.from({ length: MAX_STRINGS }, () => 'a');
  const pattern = {
    colours,
    start: 0 as const,
    rows: MAX_ROWS,
    knots: new Uint8Array((MAX_ROWS * MAX_STRINGS) / 2).fill(1),
  };
  // The last place of a seam row is beyond the edge.
  for (let row = 1; row < MAX_ROWS; row += 2) pattern.knots[row * 100 + 99] = 0;
  const board = {
    ...sampleBoard(2, 1),
    palette: [{ id: 'a', name: 'ash', hex: '#335544' }],
    colourways: [],
    pattern,
  };
  const design = openDesign(board);
  // An assertion on two million numbers would look at each.
  const isSame = (knots: Uint8Array): boolean => Buffer.compare(knots, pattern.knots) === 0;
  const earlier = keyed(design);
  const other = { ...earlier, knots: earlier.knots.map(() => 0x42) };
  const sizes: number[] = [];
  design.doc.on('update', (update: Uint8Array) => sizes.push(update.length));
  const away = bringBack(earlier, earlier, other);
  if (!away.ok) throw new Error(away.error.message);
  expect(design.run(becomeCommand(away.value)).ok).toBe(true);
  expect(design.snapshot.board.pattern.knots[0]).toBe(2);
  // Some knots have keys of their own by then.
  const knots = Array.from({ length: 60_000 }, (_, i) => ({
    row: Math.floor(i / 99),
    k: i % 99,
    knot: 3 as const,
  }));
  runAll(design, { kind: 'set-knots', knots });
  const now = keyed(design);
  const back = bringBack(now, now, earlier);
  if (!back.ok) throw new Error(back.error.message);
  expect(design.run(becomeCommand(back.value)).ok).toBe(true);
  expect(isSame(design.snapshot.board.pattern.knots)).toBe(true);
  expect(Math.max(...sizes)).toBeLessThan(LIMITS.messageBytes);
  design.undo();
  expect(design.snapshot.board.pattern.knots[0]).toBe(3);
  expect(design.snapshot.board.pattern.knots[1_000_000]).toBe(2);
  design.redo();
  expect(isSame(design.snapshot.board.pattern.knots)).toBe(true);
  expect(isSame(readKeyed(compactDesign(design.doc)!)!.board.pattern.knots)).toBe(true);
});

test('the runs met what they are to show', () => {
  const wanted = [
    'knots only',
    'brought back',
    'edited meanwhile',
    'stayed',
    'rows-added',
    'strings-added',
    'colour',
    'tied at once',
  ];
  expect(wanted.filter((what) => (met.get(what) ?? 0) < 3)).toEqual([]);
});
