/** What stays where it is on the screen when rows or strings come or go beside it. */
import { describe, expect, it } from 'vitest';
import type { Command } from '../../../engine/document/index.ts';
import { staggerOf } from '../../../engine/index.ts';
import {
  besideSpot,
  HeldKnots,
  isSeen,
  middleSpot,
  pointOfSpot,
  spotsToHold,
} from '../../../web/board/held-knots.ts';
import type { Spot } from '../../../web/board/spot.ts';
import {
  deleteRowPairs,
  deleteStringPairs,
  insertRowPair,
  insertStringPair,
} from '../../../web/board/pair-commands.ts';
import { modelOf } from '../../../web/board/board-model.ts';
import { openDesign } from '../../support/open-design.ts';
import { sampleBoard } from '../../support/sample-board.ts';

const VIEW = { unit: 20, row: 16, x: 100, y: 80 };

function held(...spots: readonly Spot[]) {
  const design = openDesign(sampleBoard(8, 12));
  const stagger = () => staggerOf(design.snapshot.board.pattern);
  const knots = new HeldKnots();
  knots.hold(design, stagger(), spots);
  const run = (command: Command) => {
    expect(design.run(command).ok).toBe(true);
    return knots.wayOf(design, stagger());
  };
  const model = () => modelOf(design.snapshot.board, null);
  return { run, model };
}
const knot = (row: number, k: number): Spot => ({ on: 'knot', row, k });

describe('what is held', () => {
  it('[B241] goes as far as rows above it and strings left of it take it, and not for those below and to the right', () => {
    for (const [command, way] of [
      [(m) => insertRowPair(m, { fromRow: 2, toRow: 2, fromPlace: 0, toPlace: 1 }, 'above'), { x: 0, y: 2 }],
      [(m) => insertRowPair(m, { fromRow: 9, toRow: 9, fromPlace: 0, toPlace: 1 }, 'below'), { x: 0, y: 0 }],
      [() => insertStringPair(0, 'left', false), { x: 2, y: 0 }],
      [() => insertStringPair(7, 'right', false), { x: 0, y: 0 }],
      [(m) => deleteRowPairs(m, { fromRow: 0, toRow: 1, fromPlace: 0, toPlace: 1 }), { x: 0, y: -2 }],
    ] as readonly [(m: ReturnType<typeof modelOf>) => Command, object][]) {
      const { run, model } = held(knot(6, 1));
      expect(run(command(model()))).toEqual(way);
    }
  });

  it('[B241] the first that is still there counts; where none is, nothing has gone anywhere', () => {
    const first = { fromRow: 0, toRow: 1, fromPlace: 0, toPlace: 1 };
    const two = held(knot(0, 1), knot(8, 1));
    expect(two.run(deleteRowPairs(two.model(), first))).toEqual({ x: 0, y: -2 });
    const none = held(knot(0, 1));
    expect(none.run(deleteRowPairs(none.model(), first))).toEqual({ x: 0, y: 0 });
  });

  it('[B241] beside what is deleted itself, what is left of it and above it stays', () => {
    for (const [spot, command] of [
      [knot(6, 2), (m) => deleteRowPairs(m, { fromRow: 6, toRow: 6, fromPlace: 0, toPlace: 1 })],
      [knot(6, 2), () => deleteStringPairs(4, 5)],
      [knot(0, 2), (m) => deleteRowPairs(m, { fromRow: 0, toRow: 0, fromPlace: 0, toPlace: 1 })],
    ] as readonly [Spot, (m: ReturnType<typeof modelOf>) => Command][]) {
      const { run, model } = held(...besideSpot(spot));
      expect(run(command(model()))).toEqual({ x: 0, y: 0 });
    }
  });

  it('[B241] a peg goes with its string and stays above the first row', () => {
    const above = { fromRow: 0, toRow: 0, fromPlace: 0, toPlace: 1 };
    const rows = held({ on: 'peg', place: 3 });
    expect(rows.run(insertRowPair(rows.model(), above, 'above'))).toEqual({ x: 0, y: 0 });
    const strings = held({ on: 'peg', place: 3 });
    expect(strings.run(insertStringPair(0, 'left', false))).toEqual({ x: 2, y: 0 });
  });
});

describe('without pointer and keyboard', () => {
  it('[B241] a knot in the middle of the sight is held, wherever the board is', () => {
    const stagger = staggerOf(sampleBoard(8, 12).pattern);
    const size = { width: 300, height: 200 };
    expect(pointOfSpot(stagger, middleSpot(stagger, VIEW, size))).toEqual({ x: 2.5, y: 1 });
    for (const [x, y] of [
      [-4000, -4000],
      [4000, 4000],
    ] as const) {
      const spot = middleSpot(stagger, { ...VIEW, x, y }, size);
      expect(spot.on === 'knot' && spot.row >= 0 && spot.row < 12 && spot.k >= 0 && spot.k < 4).toBe(true);
    }
    expect(isSeen(stagger, knot(0, 0), VIEW, size)).toBe(true);
    expect(isSeen(stagger, knot(11, 0), VIEW, size)).toBe(false);
    expect(isSeen(stagger, { on: 'peg', place: 0 }, { ...VIEW, y: -1 }, size)).toBe(false);
  });
});

describe('which of them is held', () => {
  const stagger = staggerOf(sampleBoard(8, 12).pattern);
  const sight = { view: VIEW, size: { width: 300, height: 200 } };
  const middle = middleSpot(stagger, VIEW, sight.size);

  it('[B241] what is under the pointer, else the keyboard’s place where it is in sight, else the middle', () => {
    const [hover, seen, far] = [knot(2, 2), knot(1, 1), knot(11, 0)];
    expect(spotsToHold(stagger, sight, seen, hover)).toEqual([hover, ...besideSpot(seen), middle]);
    expect(spotsToHold(stagger, sight, seen, null)).toEqual([...besideSpot(seen), middle]);
    expect(spotsToHold(stagger, sight, far, null)).toEqual([middle]);
    const peg: Spot = { on: 'peg', place: 2 };
    expect(spotsToHold(stagger, sight, peg, null)).toEqual([peg, middle]);
  });

  it('[B241] what is outside the board, or went with its string, is not held', () => {
    const { run } = held({ on: 'peg', place: 2 }, { on: 'peg', place: 99 }, knot(0, 99), knot(6, 0));
    expect(run(deleteStringPairs(2, 3))).toEqual({ x: 0, y: 0 });
    const gone = held({ on: 'peg', place: 2 }, { on: 'peg', place: 6 });
    expect(gone.run(deleteStringPairs(2, 3))).toEqual({ x: -2, y: 0 });
  });
});
