import { describe, expect, it } from 'vitest';
import { type Board, cutListOf, planBoard } from '../../../engine/index.ts';
import {
  barsOf,
  compareHanging,
  cordsOf,
  foldedInMiddle,
  middleWaste,
  mountMoves,
} from '../../../web/table/cords.ts';
import { LOPSIDED, readBoard } from '../../support/own-board.ts';

const BOARD = readBoard({ ...LOPSIDED, strings: ['a', 'b', 'c', 'c', 'b', 'a'] });
const LIST = cutListOf(BOARD, planBoard(BOARD));

describe('the cords of a keychain', () => {
  it('[N10] come in the order in which they are hung, each with its length, its fold, and which end is longer', () => {
    const cords = cordsOf(LIST);
    expect(cords).toHaveLength(3);
    expect(cords.map(({ left }) => LIST.folds.find((fold) => fold.left === left)!.turn)).toEqual([1, 2, 3]);
    for (const { left, cutMm, foldAtMm, longer } of cords) {
      const { needMm } = LIST.folds.find((fold) => fold.left === left)!;
      expect(cutMm - foldAtMm).toBeGreaterThanOrEqual(needMm[1]);
      expect(foldAtMm).toBeGreaterThanOrEqual(needMm[0]);
      const [a, b] = [foldAtMm, cutMm - foldAtMm];
      expect(longer).toBe(a === b ? null : a > b ? 'left' : 'right');
    }
    expect(cords.some(({ longer }) => longer !== null)).toBe(true);
  });

  it('[N10] those with one long end come last, with how long the short one is', () => {
    const odd = readBoard({ ...LOPSIDED, strings: ['a', 'b', 'b', 'b', 'a', 'c'] });
    const list = cutListOf(odd, planBoard(odd));
    const cords = cordsOf(list);
    expect(list.singles.length).toBeGreaterThan(0);
    expect(
      cords.slice(list.folds.length).map(({ left, right, foldAtMm }) => [left, right, foldAtMm]),
    ).toEqual(list.singles.map(({ place, shortMm }) => [place, null, shortMm]));
  });
});

describe('all folded in the middle', () => {
  it('[N88] each end is as long as the longer one was, at least as long as it needs to be, and the thread it takes more is said', () => {
    const cords = cordsOf(LIST);
    const middle = foldedInMiddle(cords);
    for (const [at, { cutMm, foldAtMm, longer, left }] of middle.entries()) {
      const { needMm } = LIST.folds.find((fold) => fold.left === left)!;
      const before = cords[at]!;
      expect([2 * foldAtMm, longer]).toEqual([cutMm, null]);
      expect(foldAtMm).toBe(Math.max(before.foldAtMm, before.cutMm - before.foldAtMm));
      expect(foldAtMm).toBeGreaterThanOrEqual(Math.max(...needMm));
    }
    const sum = (list: typeof cords) => list.reduce((all, { cutMm }) => all + cutMm, 0);
    expect(middleWaste(cords)).toBe(sum(middle) - sum(cords));
    expect(middleWaste(cords)).toBeGreaterThan(0);
    expect(foldedInMiddle(middle)).toEqual(middle);
  });

  it('[N88] a cord with one long end stays as it is', () => {
    const odd = readBoard({ ...LOPSIDED, strings: ['a', 'b', 'b', 'b', 'a', 'c'] });
    const singles = cordsOf(cutListOf(odd, planBoard(odd))).filter(({ right }) => right === null);
    expect(singles.length).toBeGreaterThan(0);
    expect(foldedInMiddle(singles)).toEqual(singles);
  });
});

describe('the bars', () => {
  it('[N11] are on one scale: the longest is whole, the others in proportion, each with its fold', () => {
    const cords = cordsOf(LIST);
    const bars = barsOf(cords);
    const most = Math.max(...cords.map(({ cutMm }) => cutMm));
    expect(Math.max(...bars.map(({ length }) => length))).toBe(1);
    for (const { cord, length, fold } of bars) {
      expect(length * most).toBeCloseTo(cord.cutMm);
      expect(fold * length * most).toBeCloseTo(cord.foldAtMm);
    }
    expect(barsOf([])).toEqual([]);
  });
});

describe('mounting', () => {
  it('[N12] begins with fixing the ring, hangs every cord, and ends with pulling tight and comparing', () => {
    const cords = cordsOf(LIST);
    expect(mountMoves(cords).map((move) => (move.kind === 'cord' ? move.turn : move.kind))).toEqual([
      'fix',
      1,
      2,
      3,
      'pull',
      'compare',
    ]);
  });

  it('[N13] the first place that differs is named, and where what hangs there belongs', () => {
    const must = ['a', 'b', 'c', 'c', 'b', 'a'];
    expect(compareHanging(must, [])).toEqual({ kind: 'going-on' });
    expect(compareHanging(must, ['a', 'b'])).toEqual({ kind: 'going-on' });
    expect(compareHanging(must, must)).toEqual({ kind: 'same' });
    expect(compareHanging(must, ['a', 'c'])).toEqual({ kind: 'differs', place: 1, further: 2 });
    expect(compareHanging(must, ['a', 'b', 'c', 'b', 'x'])).toEqual({
      kind: 'differs',
      place: 3,
      further: 4,
    });
    expect(compareHanging(must, ['a', 'b', 'c', 'c', 'c'])).toEqual({
      kind: 'differs',
      place: 4,
      further: null,
    });
  });
});

describe('without a ring', () => {
  const kinds = (piece: Board['piece']) => {
    const board = { ...BOARD, piece };
    const cords = cordsOf(cutListOf(board, planBoard(board)));
    return mountMoves(cords, piece).map((move) => (move.kind === 'cord' ? move.cord.left : move.kind));
  };

  it('[B285] loose cords are taken together and spread, those over a stick are laid one by one, a loop is closed', () => {
    expect(kinds({ begin: 'loose' })).toEqual(['gather', 'lay', 'compare']);
    expect(kinds({ begin: 'stick' })).toEqual(['stick', 0, 1, 2, 3, 4, 5, 'compare']);
    expect(kinds({ begin: 'loop' })).toEqual(['loop', 'close', 'lay', 'compare']);
    expect(kinds({ begin: 'loop', headKnot: 'none' })).toEqual(['loop', 'lay', 'compare']);
  });

  it('[N10] [B285] a loose cord is not folded; of a loop each is, and comes by its left string', () => {
    const cords = (piece: Board['piece']) => {
      const board = { ...BOARD, piece };
      return cordsOf(cutListOf(board, planBoard(board)));
    };
    for (const begin of ['loose', 'stick'] as const)
      expect(cords({ begin }).map(({ left, right, foldAtMm }) => [left, right, foldAtMm])).toEqual(
        [0, 1, 2, 3, 4, 5].map((place) => [place, null, 0]),
      );
    const looped = cords({ begin: 'loop' });
    expect(looped.map(({ left, right }) => [left, right])).toEqual([
      [0, 5],
      [1, 4],
      [2, 3],
    ]);
    for (const { foldAtMm, cutMm } of looped) expect(foldAtMm > 0 && foldAtMm < cutMm).toBe(true);
  });
});
