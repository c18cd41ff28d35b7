import { describe, expect, it } from 'vitest';
import {
  type Board,
  cutList,
  KNOT_TOKENS,
  type KnotToken,
  type Pattern,
  rowStride,
  weave,
} from '../../../engine/index.ts';
import { ifItStays, ifTiedSo, type Mistake, mistakenKind } from '../../../engine/table/if-it-stays.ts';
import { boardOf, randomBand, seededRandom } from '../../reference/work-bands.ts';

const coloursOf = (pattern: Pattern): (string | null)[][] =>
  weave(pattern).shown.map((row) =>
    Array.from(row, (string) => (string < 0 ? null : pattern.colours[string]!)),
  );

/** The cells in which two pictures of as many rows differ. */
function differing(a: (string | null)[][], b: (string | null)[][]): string[] {
  return a.flatMap((row, r) => row.flatMap((colour, k) => (colour === b[r]![k] ? [] : [`${r} ${k}`])));
}

const endOf = (pattern: Pattern): number[] => [...weave(pattern).finalOrder];

function withKnot(pattern: Pattern, row: number, k: number, code: number): Pattern {
  const knots = pattern.knots.slice();
  knots[row * rowStride(pattern.colours.length) + k] = code;
  return { ...pattern, knots };
}

/** A forward knot at the place of another, in a row of its own right above it, and an untied row: the two strings exchanged before it. */
function withExchange(pattern: Pattern, row: number, k: number): Pattern {
  const stride = rowStride(pattern.colours.length);
  const knots = new Uint8Array((pattern.rows + 2) * stride);
  knots.set(pattern.knots.subarray(0, row * stride));
  knots[row * stride + k] = 1;
  knots.set(pattern.knots.subarray(row * stride), (row + 2) * stride);
  return { ...pattern, rows: pattern.rows + 2, knots };
}

function* boards(seed: number, count: number): Generator<{ board: Board; row: number; k: number }> {
  const random = seededRandom(seed);
  for (let turn = 0; turn < count; turn++) {
    const size = { strings: 2 + Math.floor(random() * 6), rows: 1 + Math.floor(random() * 8) };
    const pattern = randomBand(random, size, { untied: random() * 0.4, staying: random() });
    const cells = weave(pattern).shown.flatMap((shown, row) =>
      [...shown].flatMap((string, k) => (string < 0 ? [] : [{ row, k }])),
    );
    const cell = cells[Math.floor(random() * cells.length)];
    if (cell !== undefined) yield { board: boardOf(pattern), ...cell };
  }
}

describe('ifItStays', () => {
  it('[H18] another knot, or none: what weaving the band with it shows, hangs and takes', () => {
    const seen = { same: 0, wrong: 0, hangs: 0 };
    for (const { board, row, k } of boards(18, 150)) {
      const { pattern } = board;
      for (const [code, token] of KNOT_TOKENS.entries()) {
        const changed = withKnot(pattern, row, k, code);
        const { wrong, hangsWrong, endsAsMeant, moreMm } = ifItStays(
          board,
          { part: 'band', repeat: 1, row, k },
          token,
        );
        expect(wrong.map((knot) => `${knot.row} ${knot.k}`)).toEqual(
          differing(coloursOf(pattern), coloursOf(changed)),
        );
        const [meant, is] = [endOf(pattern), endOf(changed)];
        expect(endsAsMeant).toBe(meant.join() === is.join());
        expect(hangsWrong).toEqual(
          meant.flatMap((string, place) =>
            pattern.colours[string] === pattern.colours[is[place]!] ? [] : [place],
          ),
        );
        const ends = cutList(board).ends;
        for (const { place, needMm } of cutList({ ...board, pattern: changed }).ends)
          expect(moreMm[place]).toBeCloseTo(needMm - ends[place]!.needMm, 6);
        seen[wrong.length === 0 ? 'same' : hangsWrong.length === 0 ? 'wrong' : 'hangs']++;
      }
    }
    for (const [what, count] of Object.entries(seen)) expect(count, what).toBeGreaterThan(30);
  });

  it('[H18] one half hitch leaves the string that tied on the other side', () => {
    for (const { board, row, k } of boards(19, 60)) {
      const at = { part: 'band', repeat: 1, row, k } as const;
      const code = board.pattern.knots[row * rowStride(board.pattern.colours.length) + k]!;
      expect(ifItStays(board, at, 'half')).toEqual(
        ifItStays(board, at, code === 1 || code === 3 ? 'f' : 'b'),
      );
    }
  });

  it('[H18] exchanged before it: what weaving the band with the two strings exchanged there shows and hangs', () => {
    let wrongs = 0;
    for (const { board, row, k } of boards(20, 120)) {
      const { pattern } = board;
      const { wrong, endsAsMeant } = ifItStays(board, { part: 'band', repeat: 1, row, k }, 'exchanged');
      const changed = withExchange(pattern, row, k);
      const shown = coloursOf(changed);
      const picture = [...shown.slice(0, row), ...shown.slice(row + 2)];
      expect(wrong.map((knot) => `${knot.row} ${knot.k}`)).toEqual(differing(coloursOf(pattern), picture));
      expect(endsAsMeant).toBe(endOf(pattern).join() === endOf(changed).join());
      if (wrong.length > 1) wrongs++;
    }
    expect(wrongs).toBeGreaterThan(20);
  });

  it('[H34] several knots at once: what weaving the band with all of them shows and hangs; of one, what comes of it alone', () => {
    let wrongs = 0;
    for (const { board, row, k } of boards(34, 100)) {
      const { pattern } = board;
      const stride = rowStride(pattern.colours.length);
      const code = pattern.knots[row * stride + k]!;
      const first = pattern.knots.findIndex((knot) => knot !== 0);
      const at = { row: Math.floor(first / stride), k: first % stride };
      const kinds = new Map<string, KnotToken>([
        [`band 1 ${at.row} ${at.k}`, KNOT_TOKENS[5 - pattern.knots[first]!]!],
        [`band 1 ${row} ${k}`, mistakenKind(KNOT_TOKENS[code]!, 'exchanged')],
      ]);
      const changed = [...kinds].reduce((band, [key, kind]) => {
        const [, , r, c] = key.split(' ');
        return withKnot(band, Number(r), Number(c), KNOT_TOKENS.indexOf(kind));
      }, pattern);
      const found = ifTiedSo(board, kinds);
      expect(found.wrong.map((knot) => `${knot.row} ${knot.k}`)).toEqual(
        differing(coloursOf(pattern), coloursOf(changed)),
      );
      expect(found.endsAsMeant).toBe(endOf(pattern).join() === endOf(changed).join());
      if (found.wrong.length > 1) wrongs++;
      const alone = { part: 'band', repeat: 1, row, k } as const;
      for (const mistake of ['exchanged', 'half', '-', 'f'] as const)
        expect(ifItStays(board, alone, mistake)).toEqual(
          ifTiedSo(board, new Map([[`band 1 ${row} ${k}`, mistakenKind(KNOT_TOKENS[code]!, mistake)]])),
        );
    }
    expect(wrongs).toBeGreaterThan(20);
    const { board } = [...boards(1, 1)][0]!;
    expect(() => ifTiedSo(board, new Map([['band 7 0 0', 'f']]))).toThrow(/no knot band 7 0 0/);
  });

  it('[H18] follows the mistake through the repeats and the end, and refuses what the piece does not tie', () => {
    const band = {
      colours: ['c0', 'c1', 'c0', 'c0'],
      start: 0 as const,
      rows: 1,
      knots: Uint8Array.of(1, 0),
    };
    const board = boardOf(band, { repeats: 3, end: 'triangle' });
    const at = (repeat: number) => ({ part: 'band', repeat, row: 0, k: 0 }) as const;
    const stays: Mistake = 'fb';
    expect(ifItStays(board, at(2), stays).wrong.map(({ part, repeat }) => [part, repeat])).toEqual([
      ['band', 3],
      ['end', 0],
    ]);
    expect(ifItStays(board, { part: 'end', repeat: 0, row: 0, k: 0 }, '-').wrong.length).toBe(1);
    expect(() => ifItStays(board, at(4), stays)).toThrow(/no knot 0 in row 0 of band/);
    expect(() => ifItStays(board, { ...at(1), k: 1 }, stays)).toThrow(RangeError);
  });
});
