import { describe, expect, it } from 'vitest';
import { type Board, type Colourway, type Pattern, type Piece, planBoard } from '../../../engine/index.ts';
import { cutList, fitGauge, pieceSize, shoppingList } from '../../../engine/material/index.ts';

const PALETTE = [
  { id: 'r', name: 'brick', hex: '#aa2211' },
  { id: 's', name: 'sand', hex: '#ddcc99' },
];
const GAUGE = { cordMm: 1, rowMm: 2, knottingMm: 10, carrierMm: 2 };

/** Four strings r s s r; one row f b, one row f: the two outer strings knot inwards, then meet. */
const VEE: Pattern = { colours: ['r', 's', 's', 'r'], start: 0, rows: 2, knots: Uint8Array.of(1, 2, 1, 0) };

function board(piece: Piece = {}, rest: Partial<Board> = {}): Board {
  return { title: 'plain', palette: PALETTE, pattern: VEE, piece, gauge: GAUGE, colourways: [], ...rest };
}

describe('cutList', () => {
  it('[L8] a piece of three knots, worked out by hand', () => {
    const list = cutList(board({ tailMm: 50, spareMm: 20 }));
    // Half a lark's head: a turn of thread of 0.58 mm round a bar of 3 mm, centre line 1.79 mm out, pitch 0.58 mm.
    const mount = Math.hypot(3.58 * Math.PI, 0.58);
    const rest = mount + 50 + 20;
    // Outer left: knotting in both rows. Outer right: knotting, then carrier. Inner ones: carrier, then hanging.
    expect(list.ends.map(({ knotting, carrier, untied }) => [knotting, carrier, untied])).toEqual([
      [2, 0, 0],
      [0, 1, 1],
      [0, 1, 1],
      [1, 1, 0],
    ]);
    const [left, inner, , right] = list.ends.map(({ needMm }) => needMm);
    expect(left).toBeCloseTo(20 + rest, 10);
    expect(inner).toBeCloseTo(4 + rest, 10);
    expect(right).toBeCloseTo(12 + rest, 10);
    const outer = list.folds.find(({ colour }) => colour === 'r');
    // The outer fold spans two places between its ends: 2 mm of cord more, half for each end. 102.3 and 94.3 mm.
    expect(outer).toMatchObject({ left: 0, right: 3, turn: 1, cutMm: 105 + 95, foldAtMm: 105 });
    expect(outer?.needMm[0]).toBeCloseTo(20 + rest + 1, 10);
    expect(outer?.needMm[1]).toBeCloseTo(12 + rest + 1, 10);
    expect(list.folds.find(({ colour }) => colour === 's')).toMatchObject({
      left: 1,
      right: 2,
      cutMm: 180,
      foldAtMm: 90,
    });
    expect(list.knots).toBe(3);
    expect(list.singles).toEqual([]);
    expect(list.size).toMatchObject({ rows: 2, repeats: 1, endRows: 0, bandMm: 6 });
  });

  it('[L8] a colour of odd count has a single, with its short end', () => {
    const pattern: Pattern = { ...VEE, colours: ['r', 's', 's', 's'] };
    const list = cutList(board({}, { pattern }));
    expect(list.singles).toHaveLength(2);
    for (const single of list.singles) {
      // 40 mm to hide, and its hitch of the lark's head: a turn of thread of 0.58 mm round a bar of 3 mm.
      expect(single.shortMm).toBeCloseTo(40 + Math.hypot(3.58 * Math.PI, 0.58), 10);
      expect(single.needMm).toBeCloseTo((list.ends[single.place]?.needMm ?? 0) + single.shortMm, 10);
    }
  });

  it('[L8] a plan the maker chose is cut as chosen; one that does not fit is refused', () => {
    const pattern: Pattern = { ...VEE, colours: ['r', 'r', 'r', 'r'] };
    const of = board({}, { pattern });
    const fold = (left: number, right: number, turn: number) => ({
      left,
      right,
      turn,
      spread: right - left > 1,
    });
    const plan = { folds: [fold(0, 2, 1), fold(1, 3, 2)], singles: [] };
    expect(cutList(of, { plan }).folds.map(({ left, right }) => [left, right])).toEqual([
      [0, 2],
      [1, 3],
    ]);
    expect(() => cutList(of, { plan: { folds: [fold(0, 2, 1)], singles: [1] } })).toThrow(
      'each of the 4 places',
    );
    expect(() => cutList(of, { plan: { folds: [fold(0, 2, 1), fold(2, 3, 2)], singles: [] } })).toThrow(
      '4 places',
    );
    expect(() => cutList(board(), { plan })).toThrow('folds r at 0 and s at 2');
  });

  it('[L9] what was not measured is listed', () => {
    expect(cutList(board()).estimates).toEqual([]);
    expect(cutList(board({}, { gauge: {} })).estimates).toEqual([
      'gauge.cordMm',
      'gauge.rowMm',
      'gauge.knottingMm',
      'gauge.carrierMm',
    ]);
  });

  it('[L10] strings come whole from a skein: three of 1.2 m do not come from two skeins of 2 m', () => {
    const pattern: Pattern = { colours: Array(6).fill('r'), start: 0, rows: 0, knots: new Uint8Array(0) };
    const list = cutList(board({ skeinMm: 2000, tailMm: 0, spareMm: 580 }, { pattern }));
    expect(list.folds.map(({ cutMm }) => cutMm)).toEqual([1190, 1190, 1190]);
    expect(list.colours).toEqual([
      {
        colour: 'r',
        pieces: 3,
        totalMm: 3570,
        skeins: 3,
        fromHomeMm: 0,
        leastSkeins: 3,
        wasteMm: 2430,
        tooLong: 0,
        needMm: 3 * 2 * (580 + list.allowances.mountMm),
        doubt: null,
      },
    ]);
    expect(list.warnings).toEqual([]);
  });

  it('[L10] [L13] a string longer than a skein and a doubtful skein length are pointed out', () => {
    const long = cutList(board({ skeinMm: 600, spareMm: 400 }));
    expect(long.warnings.map(({ kind, path }) => [kind, path])).toEqual([
      ['longer-than-skein', 'colours.r'],
      ['longer-than-skein', 'colours.s'],
    ]);
    expect(cutList(board({ skeinMm: 8700 })).warnings.map(({ kind }) => kind)).toEqual([
      'skein-yards-as-metres',
    ]);
    expect(cutList(board({ skeinMm: 8 })).warnings[0]?.kind).toBe('skein-other-unit');
  });

  it('[L7] end rows and lead-in are in the lengths', () => {
    const pattern: Pattern = {
      colours: Array(8).fill('r'),
      start: 0,
      rows: 1,
      knots: Uint8Array.of(1, 1, 1, 1),
    };
    expect(cutList(board({ end: 'triangle' }, { pattern })).knots).toBe(4 + 3 + 2 + 1);
    expect(cutList(board({ end: 'double triangle' }, { pattern })).knots).toBe(4 + 2);
    const twice = cutList(board({ repeats: 5, leadInRows: 1 }));
    expect(twice.knots).toBe(2 + 5 * 1);
  });

  it('[L7] a length is met to the nearest row, at least one, anywhere in the repeat', () => {
    // Rows of 2 mm: n rows are 2 (n + 1) mm.
    const stop = (lengthMm: number) => {
      const { repeats, partRows, rows } = pieceSize(board({ lengthMm }));
      return [repeats, partRows, rows];
    };
    expect([1, 4.9, 5.1, 6.9, 7.1, 402, 404].map(stop)).toEqual([
      [0, 1, 1],
      [0, 1, 1],
      [1, 0, 2],
      [1, 0, 2],
      [1, 1, 3],
      [100, 0, 200],
      [100, 1, 201],
    ]);
  });

  it('[L45] n rows are n + 1 heights long, and so they are measured: "after 20 rows it is 31.5 mm" corrects rows and lengths', () => {
    expect(pieceSize(board({ repeats: 3 })).bandMm).toBe((6 + 1) * 2);
    expect(pieceSize(board({}, { pattern: { ...VEE, rows: 0, knots: new Uint8Array(0) } })).bandMm).toBe(0);
    const fit = fitGauge([{ rows: 20, heightMm: 31.5 }]);
    if (!fit.ok) throw new Error(fit.error.message);
    expect(fit.value.rowMm.valueMm).toBeCloseTo(1.5, 12);
    const list = cutList(board({ repeats: 10 }, { gauge: { rowMm: fit.value.gauge.rowMm! } }));
    expect(list.size).toMatchObject({ rows: 20 });
    expect(list.size.bandMm).toBeCloseTo(31.5, 12);
  });

  it('[L2] [L7] [L8] [L9] a field out of range is refused by its path', () => {
    const path = (of: Board) => {
      try {
        cutList(of);
        return 'accepted';
      } catch (error) {
        return error instanceof RangeError && 'path' in error ? error.path : error;
      }
    };
    expect(path(board({}, { gauge: { cordMm: -1 } }))).toBe('gauge.cordMm');
    expect(path(board({}, { gauge: { knottingMm: Number.NaN } }))).toBe('gauge.knottingMm');
    expect(path(board({ repeats: 0 }))).toBe('piece.repeats');
    expect(path(board({ repeats: 1.5 }))).toBe('piece.repeats');
    expect(path(board({ lengthMm: -3 }))).toBe('piece.lengthMm');
    expect(path(board({ lengthMm: 3, repeats: 1 }))).toBe('piece.lengthMm');
    expect(path(board({ leadInRows: 3 }))).toBe('piece.leadInRows');
    expect(path(board({ tailMm: -1 }))).toBe('piece.tailMm');
    expect(path(board({ spareMm: -1 }))).toBe('piece.spareMm');
    expect(path(board({ skeinMm: 0 }))).toBe('piece.skeinMm');
  });
});

describe('shoppingList', () => {
  const colourway = (id: string, r: string, s: string): Colourway => ({
    id,
    name: id,
    colours: [
      { id: 'r', name: `thread ${r}`, hex: r },
      { id: 's', name: `thread ${s}`, hex: s },
    ],
  });

  it('[L10] makers share the skeins of one thread', () => {
    const list = shoppingList(
      board({ skeinPrice: 2 }),
      [colourway('ada', '#112233', '#445566'), colourway('ben', '#445566', '#112233')],
      planBoard,
    );
    expect(
      list.threads.map(({ hex, shares, pieces, skeins }) => ({
        hex,
        colourways: shares.map(({ colourway }) => colourway),
        pieces,
        skeins,
      })),
    ).toEqual([
      { hex: '#112233', colourways: ['ada', 'ben'], pieces: 2, skeins: 1 },
      { hex: '#445566', colourways: ['ada', 'ben'], pieces: 2, skeins: 1 },
    ]);
    expect(list.threads[0]?.names).toEqual(['thread #112233']);
    expect(list).toMatchObject({ pieces: 2, skeins: 2, knots: 6 });
    expect(list.parts).toMatchObject([{ kind: 'ring', count: 2 }]);
    expect(list.toPay.thread).toBe(2 * 2);
  });

  it('[L10] as much is used as all makers cut; what a colourway leaves out keeps the own colour', () => {
    const one = cutList(board());
    const cut = one.colours.reduce((sum, { totalMm }) => sum + totalMm, 0);
    const partly = { id: 'cy', name: 'cy', colours: [{ id: 'r', name: 'ink', hex: '#000000' }] };
    const list = shoppingList(board(), [colourway('ada', '#112233', '#DDCC99'), partly], planBoard);
    expect(list.totalMm).toBe(2 * cut);
    expect(list.threads.map(({ hex, names }) => [hex, names.join()])).toEqual([
      ['#112233', 'thread #112233'],
      ['#ddcc99', 'thread #DDCC99'],
      ['#000000', 'ink'],
      ['#ddcc99', 'sand'],
    ]);
  });

  it('[L10] two different colourways of one id, or a colour that is nowhere, are refused', () => {
    const [ada, other] = ['#112233', '#223344'].map((hex) => colourway('ada', hex, '#445566'));
    expect(() => shoppingList(board(), [ada!, other!], planBoard)).toThrow('two colourways have the id ada');
    const bare = board({}, { palette: [] });
    expect(() => shoppingList(bare, [{ id: 'x', name: 'x', colours: [] }], planBoard)).toThrow(
      'colour "r" is not in the palette',
    );
  });
});
