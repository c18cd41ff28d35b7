import { describe, expect, it } from 'vitest';
import { AS_BOARD, ifTiedSo, mistakenKind, stepKey, untie, weave, workOrder } from '../../../engine/index.ts';
import {
  mistakesFor,
  moreNeeded,
  rowsBeside,
  showPiece,
  toUndo,
  withMistake,
} from '../../../web/table/mistake.ts';
import { workAt } from '../../../web/table/table-work.ts';
import { LOPSIDED, readBoard } from '../../support/own-board.ts';

const BOARD = readBoard({ ...LOPSIDED, piece: { repeats: 2 } });
const order = workOrder(BOARD, { method: 'segments', covers: 'piece' });
if (!order.ok) throw new Error(order.error.message);
const { steps } = order;

describe('a mistake and its ways on', () => {
  it('[N45] a knot can have been each of the other three, none, one over exchanged strings, or half of one', () => {
    expect(mistakesFor({ kind: 'f' })).toEqual(['b', 'fb', 'bf', '-', 'exchanged', 'half']);
    expect(mistakesFor({ kind: 'bf' })).toEqual(['f', 'b', 'fb', '-', 'exchanged', 'half']);
    const own = { ...AS_BOARD, kinds: new Map([['band 1 0 0', 'bf' as const]]) };
    const known = withMistake(own, steps[1]!, 'exchanged');
    expect(known).toEqual(
      new Map([
        ['band 1 0 0', 'bf'],
        [stepKey(steps[1]!), mistakenKind(steps[1]!.kind, 'exchanged')],
      ]),
    );
  });

  it('[N46] what to undo is the fewest knots, row by row in the order in which they come off', () => {
    const one = readBoard(LOPSIDED);
    const work = workOrder(one, { method: 'rows' });
    const all = new Set(work.steps.map(stepKey));
    for (const step of work.steps) {
      const { count, stretches, tied } = toUndo(workAt(one, work.steps, all), step);
      const undo = untie(one.pattern, work.steps, step);
      expect(count).toBe(undo.length);
      expect(
        stretches.flatMap(({ first, knots }) => knots.map((knot) => `${first.row} ${knot - 1}`)).sort(),
      ).toEqual(undo.map(({ row, k }) => `${row} ${k}`).sort());
      expect(tied.size).toBe(all.size - count);
      expect(tied.has(stepKey(step))).toBe(false);
      expect(new Set(stretches.map(({ first }) => first.row)).size).toBe(stretches.length);
    }
  });

  it('[N47] shows the piece as it comes out, and the rows from the mistake to what differs last', () => {
    const step = steps[3]!;
    const kinds = withMistake(AS_BOARD, step, 'half');
    const [meant, stays] = [showPiece(BOARD, new Map()), showPiece(BOARD, kinds)];
    const { shown } = weave(BOARD.pattern);
    expect(meant.colourAt(0, 1)).toBe(BOARD.pattern.colours[shown[0]![1]!]);
    expect([meant.rows, meant.strings]).toEqual([2 * BOARD.pattern.rows, 6]);
    const differ: number[] = [];
    for (let row = 0; row < meant.rows; row++)
      for (let k = 0; k < 3; k++) if (meant.colourAt(row, k) !== stays.colourAt(row, k)) differ.push(row);
    expect(differ.length).toBe(ifTiedSo(BOARD, kinds).wrong.length);
    const [from, to] = rowsBeside(step.row, meant, [stays], 30);
    expect(from).toBe(Math.max(0, step.row - 2));
    for (const row of differ) expect(row >= from && row < to).toBe(true);
    expect(rowsBeside(step.row, meant, [stays], 3)).toEqual([from, from + 3]);
  });

  it('[N48] strings that take more than they were cut for come first by how much, with what that leaves for the fingers', () => {
    const comes = { wrong: [], hangsWrong: [], endsAsMeant: true, moreMm: [0.2, 30, -5, 130, 0, 30] };
    expect(moreNeeded({ ...BOARD, piece: { ...BOARD.piece, spareMm: 100 } }, comes)).toEqual([
      { string: 3, moreMm: 130, spareMm: -30 },
      { string: 1, moreMm: 30, spareMm: 70 },
      { string: 5, moreMm: 30, spareMm: 70 },
    ]);
  });
});
