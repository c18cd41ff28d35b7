/** Blocks of knots as text, mirrored tying, tying by colour: without a screen. */
import { describe, expect, it } from 'vitest';
import { blockOf, cellsInBlock, patternFromText, staggerOf, weave } from '../../../engine/index.ts';
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
import { floodFrom, inkedCells, knotShowing } from '../../../web/board/knot-choice.ts';
import { axisX, NO_MIRROR, type TiedCell, withMirrored } from '../../../web/board/mirror.ts';
import { samplePattern } from '../../support/sample-board.ts';

const four = ['a', 'b', 'c', 'd'];

/** The pattern with these knots tied. */
function tied(pattern: ReturnType<typeof patternFromText>, knots: readonly TiedCell[]) {
  const copy = pattern.knots.slice();
  for (const { row, k, knot } of knots) copy[row * (pattern.colours.length >> 1) + k] = knot;
  return { ...pattern, knots: copy };
}

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

describe('mirrored tying', () => {
  const stagger = staggerOf(samplePattern(8, 8));

  it('[B55] left for right: forward with backward, one bend with the other; at the middle the knot itself', () => {
    const middle = { upright: 'middle', level: null } as const;
    expect(withMirrored(stagger, middle, [{ row: 0, k: 0, knot: 1 }])).toEqual([
      { row: 0, k: 0, knot: 1 },
      { row: 0, k: 3, knot: 2 },
    ]);
    expect(withMirrored(stagger, middle, [{ row: 0, k: 1, knot: 3 }])[1]).toEqual({ row: 0, k: 2, knot: 4 });
    expect(withMirrored(stagger, middle, [{ row: 1, k: 1, knot: 1 }])).toEqual([{ row: 1, k: 1, knot: 1 }]);
  });

  it('[B55] the picture mirrors: knots tied about the middle of mirrored colours read the same from both sides', () => {
    const colours = ['a', 'b', 'c', 'd', 'd', 'c', 'b', 'a'];
    let pattern = patternFromText(colours, ['- - - -', '- - -', '- - - -', '- - -']);
    const half: TiedCell[] = [
      { row: 0, k: 0, knot: 1 },
      { row: 0, k: 1, knot: 4 },
      { row: 1, k: 0, knot: 2 },
      { row: 2, k: 1, knot: 1 },
      { row: 3, k: 0, knot: 3 },
    ];
    pattern = tied(pattern, withMirrored(staggerOf(pattern), { upright: 'middle', level: null }, half));
    for (const row of weave(pattern).shown) {
      const seen = [...row].map((string) => (string < 0 ? '-' : colours[string]));
      expect(seen).toEqual([...seen].reverse());
    }
  });

  it('[B55] across a row: forward with backward, bends stay', () => {
    const level = { upright: null, level: 2 };
    expect(withMirrored(stagger, level, [{ row: 0, k: 1, knot: 1 }])[1]).toEqual({ row: 4, k: 1, knot: 2 });
    expect(withMirrored(stagger, level, [{ row: 1, k: 1, knot: 3 }])[1]).toEqual({ row: 3, k: 1, knot: 3 });
  });

  it('[B55] both axes make four; what falls outside is left out', () => {
    const both = { upright: 'middle', level: 2 } as const;
    expect(withMirrored(stagger, both, [{ row: 0, k: 0, knot: 3 }])).toHaveLength(4);
    expect(withMirrored(stagger, { upright: 0.5, level: null }, [{ row: 0, k: 2, knot: 1 }])).toHaveLength(1);
    expect(withMirrored(stagger, NO_MIRROR, [{ row: 0, k: 0, knot: 1 }])).toHaveLength(1);
  });

  it('[B55] an odd number of strings has no middle', () => {
    expect(axisX({ upright: 'middle', level: null }, 7)).toBeNull();
    expect(axisX({ upright: 'middle', level: null }, 8)).toBe(3.5);
  });
});

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
