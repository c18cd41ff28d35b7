/** Blocks of knots as text: without a screen. */
import { describe, expect, it } from 'vitest';
import { blockOf, cellsInBlock, patternFromText, staggerOf } from '../../../engine/index.ts';
import { rowsAsText } from '../../../engine/pattern/text.ts';
import {
  blockAsText,
  cutBlock,
  movedBlock,
  placeBlock,
  readBlock,
  repeatedBlock,
  shiftedBlock,
} from '../../../web/board/block-text.ts';
import { samplePattern } from '../../support/sample-board.ts';
import { tied } from '../../support/tied.ts';

const four = ['a', 'b', 'c', 'd'];

function blockIn(text: string) {
  const read = readBlock(text);
  if (!read.ok) throw new Error(`refused: ${read.error.kind}`);
  return read.value;
}

describe('blocks as text', () => {
  it('[B50] what is copied and pasted at the same place changes nothing, for every block of a board', () => {
    for (const start of [0, 1] as const) {
      const pattern = samplePattern(8, 5, start);
      const stagger = staggerOf(pattern);
      const all = cellsInBlock(stagger, { fromRow: 0, toRow: 4, fromPlace: 0, toPlace: 7 });
      for (const from of all)
        for (const to of all) {
          const block = blockOf(stagger, from, to);
          const first = cellsInBlock(stagger, block)[0];
          if (first === undefined || first.row !== block.fromRow) continue;
          const { knots, outside } = placeBlock(
            stagger,
            blockIn(blockAsText(cutBlock(pattern, block))),
            first,
          );
          expect(outside).toBe(0);
          expect(knots).toHaveLength(cellsInBlock(stagger, block).length);
          expect(rowsAsText(tied(pattern, knots))).toEqual(rowsAsText(pattern));
        }
    }
  });

  it('[B50] the text is rows of tokens, every other line indented', () => {
    const pattern = patternFromText(['a', 'b', 'c', 'd', 'e', 'f'], ['f b fb', 'bf -', 'f f f']);
    expect(blockAsText(cutBlock(pattern, { fromRow: 0, toRow: 2, fromPlace: 0, toPlace: 5 }))).toBe(
      'f b fb\n  bf -\nf f f',
    );
    expect(blockAsText(cutBlock(pattern, { fromRow: 1, toRow: 2, fromPlace: 0, toPlace: 4 }))).toBe(
      '  bf -\nf f',
    );
  });

  it('[B50] a block that begins with an indented line is read without the blanks before its first word', () => {
    const pattern = samplePattern(8, 5);
    const text = blockAsText(cutBlock(pattern, { fromRow: 1, toRow: 4, fromPlace: 0, toPlace: 5 }));
    expect(text).toMatch(/^ +/);
    expect(blockIn(text.trim())).toEqual(blockIn(text));
  });

  it('[B51] rows copied from a board file are taken without indentation', () => {
    const stagger = staggerOf(samplePattern(6, 4));
    const { knots } = placeBlock(stagger, blockIn('f b fb\nbf -\n'), { row: 0, k: 0 });
    expect(knots.map(({ row, k, knot }) => [row, k, knot])).toEqual([
      [0, 0, 1],
      [0, 1, 2],
      [0, 2, 3],
      [1, 0, 4],
      [1, 1, 0],
    ]);
  });

  it.each([
    ['', { kind: 'empty' }],
    ['  \n \n', { kind: 'empty' }],
    ['f b\nf q', { kind: 'unknown-token', line: 2, token: 'q' }],
    ['hello world', { kind: 'unknown-token', line: 1, token: 'hello' }],
    ['f '.repeat(101), { kind: 'too-large' }],
    ['f\n'.repeat(20_001), { kind: 'too-large' }],
  ])('[B51] text that is no block is refused, naming what and where: %j', (text, error) => {
    expect(readBlock(text)).toEqual({ ok: false, error });
  });

  it('[B52] what falls outside the board is counted, not tied', () => {
    const stagger = staggerOf(samplePattern(4, 2));
    const { knots, outside } = placeBlock(stagger, blockIn('f f f\nb b\nf f'), { row: 1, k: 0 });
    expect(knots).toHaveLength(1);
    expect(outside).toBe(6);
  });

  it('[B53] a block repeats downwards to the last row and stays on the stagger', () => {
    const pattern = patternFromText(four, ['f b', 'fb', '- -', '-', '- -', '-', '- -']);
    const block = { fromRow: 0, toRow: 1, fromPlace: 0, toPlace: 3 };
    const done = tied(pattern, repeatedBlock(staggerOf(pattern), pattern, block, 'down'));
    expect(rowsAsText(done)).toEqual(['f b', 'fb', 'f b', 'fb', 'f b', 'fb', 'f b']);
  });

  it('[B53] a block of an odd number of rows leaves a row between, a narrow one repeats to the right', () => {
    const pattern = patternFromText(four, ['f b', '-', '- -', '-', '- -']);
    const stagger = staggerOf(pattern);
    const down = tied(
      pattern,
      repeatedBlock(stagger, pattern, { fromRow: 0, toRow: 0, fromPlace: 0, toPlace: 3 }, 'down'),
    );
    expect(rowsAsText(down)).toEqual(['f b', '-', 'f b', '-', 'f b']);
    const right = tied(
      pattern,
      repeatedBlock(stagger, pattern, { fromRow: 0, toRow: 0, fromPlace: 0, toPlace: 1 }, 'right'),
    );
    expect(rowsAsText(right)[0]).toBe('f f');
  });

  it('[B54] a moved block leaves untied pairs behind, a copied one does not; overlap keeps the moved knots', () => {
    const pattern = patternFromText(four, ['f b', 'fb', 'bf f', '-']);
    const stagger = staggerOf(pattern);
    const from = { fromRow: 0, toRow: 0, fromPlace: 0, toPlace: 3 };
    const to = shiftedBlock(stagger, from, { row: 0, k: 0 }, { row: 2, k: 0 });
    expect(rowsAsText(tied(pattern, movedBlock(stagger, pattern, from, to, false).knots))).toEqual([
      '- -',
      'fb',
      'f b',
      '-',
    ]);
    expect(rowsAsText(tied(pattern, movedBlock(stagger, pattern, from, to, true).knots))).toEqual([
      'f b',
      'fb',
      'f b',
      '-',
    ]);
    const tall = { fromRow: 0, toRow: 2, fromPlace: 0, toPlace: 3 };
    const lower = shiftedBlock(stagger, tall, { row: 0, k: 0 }, { row: 2, k: 0 });
    const moved = movedBlock(stagger, pattern, tall, lower, false);
    expect(rowsAsText(tied(pattern, moved.knots))).toEqual(['- -', '-', 'f b', 'fb']);
    expect(moved.outside).toBe(2);
  });
});
