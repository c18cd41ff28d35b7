import { describe, expect, it } from 'vitest';
import { cellsInBlock, patternFromText, staggerOf, weave } from '../../../engine/index.ts';
import { floodFrom, inkedCells, knotShowing } from '../../../web/board/knot-choice.ts';
import { tied } from '../../support/tied.ts';

const four = ['a', 'b', 'c', 'd'];

describe('tying by colour', () => {
  it('[B56] the knot shows the colour asked for, keeping or changing places as asked', () => {
    expect(knotShowing('a', 'b', 'a', 'keep', 2)).toBe(3);
    expect(knotShowing('a', 'b', 'b', 'keep', 2)).toBe(4);
    expect(knotShowing('a', 'b', 'a', 'change', 0)).toBe(1);
    expect(knotShowing('a', 'b', 'b', 'change', 0)).toBe(2);
    expect(knotShowing('a', 'b', 'b', 'as they are', 1)).toBe(2);
    expect(knotShowing('a', 'b', 'a', 'as they are', 4)).toBe(3);
    expect(knotShowing('a', 'b', 'c', 'keep', 1)).toBeNull();
  });

  it('[B56] where both strings have the colour the one on top stays on top', () => {
    expect(knotShowing('a', 'a', 'a', 'as they are', 2)).toBe(2);
    expect(knotShowing('a', 'a', 'a', 'keep', 4)).toBe(4);
  });

  it('[B56] of many knots each is chosen for the strings that hang there once those above are tied', () => {
    const pattern = patternFromText(four, ['- -', '-', '- -', '-']);
    const cells = cellsInBlock(staggerOf(pattern), { fromRow: 0, toRow: 3, fromPlace: 0, toPlace: 3 });
    const knots = inkedCells(pattern, weave(pattern), cells, { kind: 'show', colour: 'a', places: 'change' });
    const done = tied(pattern, knots);
    const woven = weave(done);
    for (const { row, k } of knots) expect(woven.shown[row]?.[k]).toBe(0);
    // The string goes down to the right, one place a row, and turns back at the edge.
    expect(knots.map(({ row, k }) => [row, k])).toEqual([
      [0, 0],
      [1, 0],
      [2, 1],
    ]);
  });

  it('[B57] filling spreads over like knots that share edges, and not beyond', () => {
    const pattern = patternFromText(['a', 'b', 'c', 'd', 'e', 'f'], ['f f b', 'f b', 'f b f', '- -']);
    const flood = floodFrom(pattern, weave(pattern), { row: 0, k: 0 }, false);
    expect(flood.map(({ row, k }) => `${row}:${k}`).sort()).toEqual(['0:0', '0:1', '1:0', '2:0']);
  });
});
