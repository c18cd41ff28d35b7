import { describe, expect, it } from 'vitest';
import { type Board, untie, type WorkStep, weave, workOrder } from '../../../engine/index.ts';
import { hangingAfter } from '../../../engine/table/hanging.ts';
import { stepKey } from '../../../engine/table/piece-knot.ts';
import { looseKnots, nextStep, stepsLeft, tieThrough, undoKnot } from '../../../engine/table/progress.ts';
import { boardOf, randomBand, seededRandom } from '../../reference/work-bands.ts';

type Options = Exclude<Parameters<typeof workOrder>[1], undefined>;

function stepsOf(board: Board, options: Options): readonly WorkStep[] {
  const order = workOrder(board, options);
  if (!order.ok) throw new Error(order.error.message);
  return order.steps;
}

const covers = { repeats: 2, end: 'triangle' } as const;

/** Random boards, two orders of work of each, and a number of steps done in the first. */
function* cases(seed: number, count: number) {
  const random = seededRandom(seed);
  for (let turn = 0; turn < count; turn++) {
    const size = { strings: 2 + Math.floor(random() * 6), rows: 1 + Math.floor(random() * 6) };
    const band = randomBand(random, size, { untied: random() * 0.5, staying: random() });
    const board = boardOf(band, { leadInRows: Math.floor(random() * size.rows) });
    const one = stepsOf(board, { covers, method: 'segments' });
    const other = stepsOf(board, { covers, method: 'rows', firstHalf: 'right' });
    const done = Math.floor(random() * (one.length + 1));
    yield { board, one, other, done, tied: new Set(one.slice(0, done).map(stepKey)), random };
  }
}

describe('progress', () => {
  it('[H2] another order goes on from what is tied: all that is left once, each after what it hangs on', () => {
    let mixed = 0;
    for (const { board, one, other, done, tied } of cases(2, 120)) {
      const left = stepsLeft(other, tied);
      expect(new Set(left.map(stepKey))).toEqual(new Set(one.slice(done).map(stepKey)));
      expect(nextStep(one, tied)).toBe(done);
      const next = nextStep(other, tied);
      expect(
        left[0] === undefined ? other.length : other.findIndex((step) => stepKey(step) === stepKey(left[0]!)),
      ).toBe(next);
      // Tied on from how the strings hang, each step finds its two strings side by side where it says.
      const hanging = [...hangingAfter(board.pattern.colours.length, one.slice(0, done))];
      for (const { place, kind, knotting, carrier } of left) {
        const pair = [hanging[place]!, hanging[place + 1]!];
        expect(kind[0] === 'f' ? [knotting, carrier] : [carrier, knotting]).toEqual(pair);
        if (kind.length === 1) hanging.splice(place, 2, pair[1]!, pair[0]!);
      }
      left.forEach((step, at) => {
        expect(step.isPickUp).toBe(step.knotting !== left[at - 1]?.knotting);
        expect(step.run).toBe(left.slice(0, at + 1).filter(({ isPickUp }) => isPickUp).length);
      });
      if (next < done) mixed++;
    }
    expect(mixed).toBeGreaterThan(15);
  });

  it('[H5] the strings hang by what is tied, in whatever order it was', () => {
    for (const { board, one, other, tied } of cases(5, 80)) {
      const strings = board.pattern.colours.length;
      const isTied = (step: WorkStep): boolean => tied.has(stepKey(step));
      expect(hangingAfter(strings, other.filter(isTied))).toEqual(hangingAfter(strings, one.filter(isTied)));
      const once = stepsOf(board, {});
      expect(hangingAfter(strings, once)).toEqual(Int16Array.from(weave(board.pattern).finalOrder));
    }
  });

  it('[H3] [H10] undoing a knot takes what hangs on it, as untie does, and leaves the rest closed', () => {
    let several = 0;
    for (const { board, tied } of cases(3, 60)) {
      const once = stepsOf(board, {});
      const done = once.filter((step) => tied.has(stepKey(step)));
      const keys = new Set(done.map(stepKey));
      for (const step of done) {
        const { undo, tied: left } = undoKnot(once, keys, stepKey(step));
        const expected = untie(
          board.pattern,
          done.map(({ row, k }) => ({ row, k })),
          step,
        );
        expect(new Set(undo.map(({ row, k }) => `${row} ${k}`))).toEqual(
          new Set(expected.map(({ row, k }) => `${row} ${k}`)),
        );
        expect(left.size).toBe(keys.size - undo.length);
        expect(looseKnots(once, left)).toEqual([]);
        for (let at = 0; at < undo.length; at++)
          expect(looseKnots(once, new Set([...left, ...undo.slice(at).map(stepKey)]))).toEqual([]);
        if (undo.length > 3) several++;
      }
      expect(undoKnot(once, keys, 'band 1 999 0')).toEqual({ undo: [], tied: keys });
    }
    expect(several).toBeGreaterThan(30);
  });

  it('[H3] jumping on ties all up to there', () => {
    for (const { one, tied, done } of cases(4, 20)) {
      if (done === one.length) continue;
      const all = tieThrough(one, tied, done);
      expect(all).toEqual(new Set(one.slice(0, done + 1).map(stepKey)));
      expect(() => tieThrough(one, tied, one.length)).toThrow(/outside/);
    }
  });

  it('[H4] knots that hang on one that is not tied are told, and those that the piece has not', () => {
    for (const { board, one, tied, random } of cases(6, 60)) {
      expect(looseKnots(one, tied)).toEqual([]);
      if (tied.size === 0) continue;
      const gone = [...tied][Math.floor(random() * tied.size)]!;
      const { undo } = undoKnot(one, tied, gone);
      const loose = new Set(undo.map(stepKey));
      loose.delete(gone);
      const some = new Set([...tied, 'end 0 999 3']);
      some.delete(gone);
      expect(new Set(looseKnots(one, some))).toEqual(new Set([...loose, 'end 0 999 3']));
      expect(board.pattern.rows).toBeGreaterThan(0);
    }
  });
});
