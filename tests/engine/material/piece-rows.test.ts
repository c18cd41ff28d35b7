/** Length asked for, length made: where a band may stop, of what a length is said, and how sure it is. */
import { describe, expect, it } from 'vitest';
import { finishedStops } from '../../../engine/finish/index.ts';
import { type Board, type Gauge, type Pattern, patternFromText, type Piece } from '../../../engine/index.ts';
import { cutList, pieceSize, pieceStops } from '../../../engine/material/index.ts';

/** Arrowheads one below the other: both halves carried inwards, the two middle strings by turns. */
function arrowhead(strings: number, rows: number): Pattern {
  const text = Array.from({ length: rows }, (_, row) => {
    const count = (strings - (row % 2)) >> 1;
    return Array.from({ length: count }, (_, k) => (2 * k + (row % 2) + 1 <= strings / 2 ? 'f' : 'b')).join(
      ' ',
    );
  });
  const half = Array.from({ length: strings / 2 }, (_, i) => `c${i % 4}`);
  return patternFromText([...half, ...[...half].reverse()], text);
}

function board(pattern: Pattern, piece: Piece, gauge: Gauge = {}): Board {
  const palette = [...new Set(pattern.colours)].map((id) => ({ id, name: id, hex: '#808080' }));
  return { title: '', palette, pattern, piece, gauge, colourways: [] };
}

describe('a length of the band', () => {
  it('[L7] 90 mm of arrowhead become 90 mm, with a repeat of 14 rows and with one of 60', () => {
    for (const rows of [14, 60]) {
      const size = pieceSize(board(arrowhead(14, rows), { lengthMm: 90 }));
      expect(Math.abs(size.bandMm - 90)).toBeLessThan(1.5525 / 2);
      expect(size.rows).toBe(57);
      expect([size.repeats, size.partRows]).toEqual(rows === 14 ? [4, 1] : [0, 57]);
    }
  });

  it('[L60] what looks finished is found beside brute force over all that is seen: motifs and mirrored edges', () => {
    // A motif of four rows three times in a repeat of twelve, and one row of another in the last.
    const motif = ['f f', 'fb', 'b b', 'bf'];
    const plain = patternFromText(['a', 'b', 'b', 'a'], [...motif, ...motif, ...motif]);
    expect(finishedStops(plain, 0)).toContain(4);
    expect(finishedStops(plain, 0)).toContain(8);
    expect(finishedStops(plain, 0).at(-1)).toBe(12);
    // Diamonds of one string's width: as much below the middle as above it.
    const diamond = patternFromText(
      ['a', 'b', 'b', 'a'],
      ['f b', 'f', 'f b', 'b', 'b f', 'b', 'b f', 'f', 'f b', 'f'],
    );
    for (const pattern of [plain, diamond, arrowhead(6, 20)]) {
      const length = pattern.rows;
      const seen = shownRows(pattern, 2);
      const depth = Math.min(length, pattern.colours.length);
      const expected = Array.from({ length: length - 1 }, (_, i) => i + 1).filter((rows) => {
        const alike = (one: number, two: number) => one % 2 === two % 2 && seen[one] === seen[two];
        const starts = Array.from({ length: depth }, (_, j) => alike(j, rows + j)).every(Boolean);
        const mirrors =
          rows >= depth && Array.from({ length: depth }, (_, j) => alike(j, rows - 1 - j)).every(Boolean);
        return starts || mirrors;
      });
      expect(finishedStops(pattern, 0)).toEqual([...expected, length]);
    }
  });

  it('[L60] both are told with their length, and the one chosen is worked', () => {
    const pattern = arrowhead(6, 20);
    const stops = pieceStops(board(pattern, { lengthMm: 60 }))!;
    expect(Math.abs(stops.row.bandMm - 60)).toBeLessThanOrEqual(Math.abs(stops.finished.bandMm - 60));
    const finished = [...finishedStops(pattern, 0)];
    expect(finished).toContain(stops.finished.partRows === 0 ? 20 : stops.finished.partRows);
    expect(pieceSize(board(pattern, { lengthMm: 60, stopAt: 'finished' }))).toEqual(stops.finished);
    expect(pieceSize(board(pattern, { lengthMm: 60 }))).toEqual(stops.row);
    expect(pieceStops(board(pattern, { repeats: 2 }))).toBeNull();
  });
});

describe('a length of the whole', () => {
  it("[L61] ring, lark's heads, band, end knot and tail add up to it", () => {
    const pattern = arrowhead(14, 14);
    const piece = { ring: 'round', ringMm: 20, endKnot: 'tassel', tailMm: 30 } as const;
    const size = pieceSize(board(pattern, { ...piece, lengthMm: 150, lengthOf: 'whole' }));
    // 20 mm and two wires of 3; two threads of 0.783 mm; a tassel of 30.
    expect(size.wholeMm).toBeCloseTo(size.bandMm + 26 + 2 * 0.783 + 30, 9);
    expect(Math.abs(size.wholeMm - 150)).toBeLessThan(1.5525 / 2 + 1e-9);
    expect(size.askedMm).toBeCloseTo(150 - 26 - 2 * 0.783 - 30, 9);
    const band = pieceSize(board(pattern, { ...piece, lengthMm: 150 }));
    expect(Math.abs(band.bandMm - 150)).toBeLessThan(1.5525 / 2 + 1e-9);
    // Shorter than what hangs beside it: one row at least.
    expect(pieceSize(board(pattern, { ...piece, lengthMm: 10, lengthOf: 'whole' })).rows).toBe(1);
  });

  it('[L61] a knot takes of its string what it is tied of, and a ring of no size is left out', () => {
    const pattern = arrowhead(14, 14);
    const whole = (piece: Piece) => {
      const { wholeMm, bandMm } = pieceSize(board(pattern, piece));
      return wholeMm - bandMm - 2 * 0.783;
    };
    const bundle = 0.783 * Math.sqrt(14);
    expect(whole({ endKnot: 'overhand', tailMm: 80 })).toBeCloseTo(80 - 16.372 * bundle + 3 * bundle, 9);
    expect(whole({ endKnot: 'overhand', tailMm: 10 })).toBeCloseTo(3 * bundle, 9);
    expect(whole({ endKnot: 'braid', tailMm: 100 })).toBeCloseTo(80, 9);
    expect(whole({ endKnot: 'none', tailMm: 20 })).toBeCloseTo(20, 9);
    expect(whole({ endKnot: 'none', tailMm: 0, barMm: 20 })).toBeCloseTo(10 + 6, 9);
  });
});

describe('how sure it is', () => {
  it('[L62] cut for a length the width does not count: known or not, the same ±, and less than for as many rows', () => {
    const pattern = arrowhead(14, 14);
    const off = (piece: Piece, gauge: Gauge = {}) =>
      cutList(board(pattern, { ...piece, spareMm: 0, tailMm: 0 }, gauge)).ends.map(
        ({ doubt, needMm }) => doubt!.plusMinusMm / needMm,
      );
    const asked = off({ lengthMm: 90 });
    const known = off({ lengthMm: 90 }, { cordMm: 1.35, cordErrorMm: 0 });
    const rows = off({ repeats: 4 });
    asked.forEach((share, i) => {
      // The half lark's head hangs on the width still: 10 mm of some 390.
      expect(Math.abs(share - known[i]!)).toBeLessThan(0.001);
      expect(share).toBeLessThan(rows[i]!);
    });
    // From rows of 1.2 mm to such of 1.9 mm what is cut differs by the ratio alone, not by the width.
    const cut = (gauge: Gauge) => cutList(board(pattern, { lengthMm: 90 }, gauge)).folds[0]!.cutMm;
    expect(Math.abs(cut({ cordMm: 1.05 }) / cut({ cordMm: 1.65 }) - 1)).toBeLessThan(0.04);
  });

  it('[L62] 57 rows without a gauge: 90 mm, from 72 to 113', () => {
    const list = cutList(board(arrowhead(14, 14), { lengthMm: 90 }));
    const share = list.doubt.band!.plusMinusMm / list.size.bandMm;
    expect(list.size.bandMm * Math.exp(-share)).toBeCloseTo(72, 0);
    expect(list.size.bandMm * Math.exp(share)).toBeCloseTo(112.6, 0);
  });
});

/** What each row of so many repeats shows, worked string by string. */
function shownRows(pattern: Pattern, repeats: number): readonly string[] {
  const strings = pattern.colours.length;
  const stride = strings >> 1;
  const order = [...pattern.colours];
  const rows: string[] = [];
  for (let i = 0; i < repeats * pattern.rows; i++) {
    const row = i % pattern.rows;
    const parity = (pattern.start + row) % 2;
    const shown: string[] = [];
    for (let place = parity, k = 0; place + 1 < strings; place += 2, k++) {
      const knot = pattern.knots[row * stride + k]!;
      const [left, right] = [order[place]!, order[place + 1]!];
      shown.push(knot === 0 ? '-' : knot === 1 || knot === 3 ? left : right);
      if (knot === 1 || knot === 2) [order[place], order[place + 1]] = [right, left];
    }
    rows.push(shown.join(' '));
  }
  return rows;
}
