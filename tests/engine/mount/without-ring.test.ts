import { describe, expect, it } from 'vitest';
import {
  type Board,
  mountFrom,
  type Pattern,
  type Piece,
  planBoard,
  stillNeeded,
  workOrder,
} from '../../../engine/index.ts';
import { cordsWithoutRing } from '../../../engine/mount/index.ts';
import { cutList, cutListOf, minutesOf, pieceSize, shoppingList } from '../../../engine/material/index.ts';

const PALETTE = [
  { id: 'r', name: 'brick', hex: '#aa2211' },
  { id: 's', name: 'sand', hex: '#ddcc99' },
];
const GAUGE = { cordMm: 1, rowMm: 2, knottingMm: 10, carrierMm: 2 };
/** As in cut-list.test.ts: what its four ends take in knots and as they hang is 20, 4, 4 and 12 mm. */
const VEE: Pattern = { colours: ['r', 's', 's', 'r'], start: 0, rows: 2, knots: Uint8Array.of(1, 2, 1, 0) };
const TAKEN = [20, 4, 4, 12];
/** The wound thread is 0.58 of the width. */
const THREAD = 0.58;
/** A turn of it over a stick of 3 mm. */
const TURN = Math.hypot(3.58 * Math.PI, THREAD);
/** What an overhand knot of four strings takes: 16.372 thicknesses of a bundle as thick as two. */
const KNOT = 16.372 * 2 * THREAD;

function board(piece: Piece, rest: Partial<Board> = {}): Board {
  return { title: 'worn', palette: PALETTE, pattern: VEE, piece, gauge: GAUGE, colourways: [], ...rest };
}

/** Crosses on a ring. */
const CROSSED: Pattern = { ...VEE, colours: ['r', 's', 'r', 's'] };

describe('a band without a ring', () => {
  it('[X111] [X112] [L100] [L102] loose ends: each string is a cord, with a braid on both sides', () => {
    const list = cutList(board({ begin: 'loose' }));
    expect(list.begin).toBe('loose');
    expect(list.folds).toEqual([]);
    expect(list.singles.map(({ place, shortMm }) => [place, shortMm])).toEqual(
      [0, 1, 2, 3].map((p) => [p, 0]),
    );
    // Braid of 120 mm above, of 120 mm below, 100 mm to spare.
    expect(list.singles.map(({ needMm }) => needMm)).toEqual(TAKEN.map((mm) => mm + 340));
    expect(list.singles.map(({ cutMm }) => cutMm)).toEqual([360, 345, 345, 355]);
    expect(list.allowances).toEqual({ mountMm: 0, headMm: 120, tailMm: 120, spareMm: 100 });
    expect(list.colours.map(({ colour, pieces, totalMm }) => [colour, pieces, totalMm])).toEqual([
      ['r', 2, 715],
      ['s', 2, 690],
    ]);
  });

  it('[X112] [L100] both ends take what is stated of them', () => {
    const needs = (piece: Piece) => cutList(board({ ...piece, spareMm: 0 })).ends[1]!.needMm - 4;
    expect(needs({ begin: 'loose', headKnot: 'overhand', endKnot: 'overhand' })).toBe(80 + 80);
    expect(needs({ begin: 'loose', headKnot: 'none', endKnot: 'tassel' })).toBe(20 + 60);
    expect(needs({ begin: 'loose', headMm: 7, tailMm: 11 })).toBe(18);
    expect(needs({ begin: 'loop', headKnot: 'braid' })).toBe(15 + 40 + 120);
    expect(needs({ begin: 'loop', headKnot: 'none', loopMm: 22 })).toBe(22 + 120);
    expect(needs({ begin: 'loop', headMm: 9 })).toBe(15 + 9 + 120);
  });

  it('[X111] [L100] over a stick each string goes round once more', () => {
    const list = cutList(board({ begin: 'stick' }));
    expect(list.folds).toEqual([]);
    list.singles.forEach(({ needMm, shortMm }, place) => {
      expect(needMm).toBeCloseTo(TAKEN[place]! + TURN + 340, 10);
      expect(shortMm).toBe(0);
    });
  });

  it('[X111] [L100] [L102] a loop: all cords in one bundle, two strings of a colour each, and what is over with one long end', () => {
    const list = cutList(board({ begin: 'loop' }));
    expect(list.singles).toEqual([]);
    expect(list.folds.map(({ left, right, turn }) => [left, right, turn])).toEqual([
      [0, 3, 0],
      [1, 2, 0],
    ]);
    // Half a loop of 15 mm, the knot below it, braid of 120 mm at the other end, 100 mm to spare; no middle piece, however far apart they hang.
    const rest = 15 + KNOT + 220;
    expect(list.folds[0]!.needMm[0]).toBeCloseTo(20 + rest, 10);
    expect(list.folds[0]!.needMm[1]).toBeCloseTo(12 + rest, 10);
    // 273.99 and 265.99 mm.
    expect(list.folds[0]).toMatchObject({ foldAtMm: 275, cutMm: 275 + 270 });

    const odd = cutList(board({ begin: 'loop' }, { pattern: { ...VEE, colours: ['r', 's', 's', 's'] } }));
    expect(odd.folds.map(({ left, right }) => [left, right])).toEqual([[1, 2]]);
    expect(odd.singles.map(({ place }) => place)).toEqual([0, 3]);
    for (const { place, shortMm, needMm } of odd.singles) {
      expect(shortMm).toBeCloseTo(40 + 15 + KNOT, 10);
      expect(needMm).toBeCloseTo(TAKEN[place]! + rest + shortMm, 10);
    }
  });

  it('[X110] nothing is mounted and nothing crosses; on a ring again all is as it was', () => {
    const ring = board({ barMm: 19, singles: 'forced' }, { pattern: CROSSED });
    const before = planBoard(ring);
    expect(before.neat).toBe(false);
    for (const begin of ['loose', 'loop', 'stick'] as const) {
      const worn = { ...ring, piece: { ...ring.piece, begin } };
      const plan = planBoard(worn);
      expect(plan).toMatchObject({
        folds: [],
        singles: [],
        crossings: [],
        faults: [],
        neat: true,
        exact: true,
      });
      expect(mountFrom(plan, worn.pattern.colours, 'right')).toBe(plan);
      // Whatever plan is at hand still, the cords are those of the beginning.
      expect(cutListOf(worn, before)).toEqual(cutListOf(worn, plan));
    }
    expect(planBoard({ ...ring, piece: { ...ring.piece, begin: 'ring' } })).toEqual(before);
    expect(cordsWithoutRing(ring)).toBeNull();
  });

  it('[X111] cords of a loop serve every place once, in one colour, in any order of colours', () => {
    for (let order = 0; order < 3 ** 6; order++) {
      const colours = Array.from({ length: 6 }, (_, place) => 'rst'[Math.floor(order / 3 ** place) % 3]!);
      const cords = cordsWithoutRing({ pattern: { ...VEE, colours }, piece: { begin: 'loop' } })!;
      const served = [...cords.folds.flatMap(({ left, right }) => [left, right]), ...cords.singles];
      expect([...served].sort()).toEqual([0, 1, 2, 3, 4, 5]);
      for (const { left, right } of cords.folds)
        expect([colours[left], left < right]).toEqual([colours[right], true]);
      const odd = ['r', 's', 't'].filter((id) => colours.filter((one) => one === id).length % 2 === 1);
      expect(cords.singles.map((place) => colours[place]!).sort()).toEqual(odd);
    }
  });

  it('[X113] rows, steps and knots are those of the same board on a ring', () => {
    const piece: Piece = { repeats: 3, end: 'triangle' };
    const onRing = board(piece);
    const of = (one: Board) => workOrder(one, { covers: 'piece' });
    for (const begin of ['loose', 'loop', 'stick'] as const) {
      const worn = board({ ...piece, begin });
      expect(of(worn)).toEqual(of(onRing));
      const { wholeMm: _worn, ...size } = pieceSize(worn);
      const { wholeMm: _ring, ...same } = pieceSize(onRing);
      expect(size).toEqual(same);
      expect(cutList(worn).knots).toBe(cutList(onRing).knots);
    }
  });

  it('[L101] the whole piece is head, band and what hangs below; a length asked of it is met with them', () => {
    const bundle = 2 * THREAD;
    const band = 6;
    const whole = (piece: Piece) => pieceSize(board(piece)).wholeMm;
    expect(whole({ begin: 'loose' })).toBeCloseTo(96 + band + 96, 10);
    expect(whole({ begin: 'stick' })).toBeCloseTo(96 + band + 96, 10);
    expect(whole({ begin: 'loose', headKnot: 'none', tailMm: 50 })).toBeCloseTo(20 + band + 40, 10);
    expect(whole({ begin: 'loop' })).toBeCloseTo(15 + 3 * bundle + band + 96, 10);
    expect(whole({ begin: 'loop', headKnot: 'braid', loopMm: 10 })).toBeCloseTo(10 + 32 + band + 96, 10);
    // A ring or bar that the board still names does not count.
    expect(whole({ begin: 'loose', ring: 'round', ringMm: 25 })).toBe(whole({ begin: 'loose' }));
    const asked = pieceSize(board({ begin: 'loose', lengthMm: 250, lengthOf: 'whole' }));
    expect(asked.askedMm).toBeCloseTo(250 - 192, 10);
    expect(asked.bandMm).toBe(58);
    expect(asked.wholeMm).toBeCloseTo(250, 10);
  });

  it('[L103] minutes to begin follow what is done', () => {
    const minutes = (piece: Piece) => minutesOf(piece, 60, 4).mounting;
    expect(minutes({})).toBe(2);
    expect(minutes({ begin: 'loose' })).toBe(5);
    expect(minutes({ begin: 'loop' })).toBe(5);
    expect(minutes({ begin: 'stick' })).toBe(7);
    expect(minutes({ begin: 'stick', mountMinutes: 1 })).toBe(1);
  });

  it('[L104] no ring is bought or priced, and what the maker said of rings stays on the board', () => {
    const parts = [
      { id: 'a', kind: 'ring' as const, price: 4 },
      { id: 'b', kind: 'bead' as const, count: 3, price: 1 },
    ];
    const supplies = { threads: [], parts };
    const ids = (one: Board) =>
      shoppingList(one, [null, null], planBoard).parts.map(({ id, kind }) => [id, kind]);
    const worn = board({ begin: 'loop', skeinPrice: 2 }, { supplies });
    expect(ids(worn)).toEqual([['b', 'bead']]);
    expect(ids({ ...worn, piece: { skeinPrice: 2 } })).toEqual([
      ['a', 'ring'],
      ['b', 'bead'],
    ]);
    expect(ids(board({ begin: 'loose' }))).toEqual([]);
    expect(ids(board({}))).toEqual([[null, 'ring']]);
    const price = (one: Board) => {
      const { price: of } = shoppingList(one, [null, null], planBoard);
      return of.kind === 'priced' ? of.parts : of.kind;
    };
    expect(price(worn)).toBe(6);
    expect(price({ ...worn, piece: { skeinPrice: 2 } })).toBe(14);
  });

  it('[L105] only the knot below a loop depends on the thread', () => {
    const slope = (piece: Piece) => {
      const { folds, singles } = cutList(board(piece));
      return (folds[0] ?? singles[0])!.sensitivity.cord;
    };
    expect(slope({ begin: 'loose' })).toBe(0);
    expect(slope({ begin: 'loop', headKnot: 'braid' })).toBe(0);
    expect(slope({ begin: 'loop', headMm: 30 })).toBe(0);
    expect(slope({ begin: 'loop' })).toBeCloseTo(2 * 16.372 * 2 * 0.58, 10);
    // Against the lengths themselves, beside a width a little larger.
    const need = (cordMm: number, begin: 'loop' | 'stick') => {
      const { folds, singles } = cutList(board({ begin }, { gauge: { ...GAUGE, cordMm } }));
      return begin === 'loop' ? folds[0]!.needMm[0] + folds[0]!.needMm[1] : singles[0]!.needMm;
    };
    for (const begin of ['loop', 'stick'] as const)
      expect((need(1.0001, begin) - need(0.9999, begin)) / 0.0002).toBeCloseTo(slope({ begin }), 5);
    const odd = (cordMm: number) =>
      cutList(
        board(
          { begin: 'loop' },
          { gauge: { ...GAUGE, cordMm }, pattern: { ...VEE, colours: ['r', 's', 's', 's'] } },
        ),
      ).singles[0]!;
    expect((odd(1.0001).needMm - odd(0.9999).needMm) / 0.0002).toBeCloseTo(odd(1).sensitivity.cord, 5);
  });

  it('[H13] [L100] what is still needed before the first knot, with what is above the first row, is what was cut for', () => {
    for (const begin of ['ring', 'loose', 'loop', 'stick'] as const) {
      const worn = board({ begin, repeats: 3 });
      const order = workOrder(worn, { covers: 'piece' });
      if (!order.ok) throw new Error(order.error.message);
      const { ends, allowances } = cutList(worn);
      stillNeeded(worn, order.steps, 0).forEach(({ knotsMm, endMm, spareMm }, place) => {
        const above = allowances.mountMm + allowances.headMm;
        expect(knotsMm + endMm + spareMm + above).toBeCloseTo(ends[place]!.needMm, 9);
      });
    }
  });

  it('[L100] what makes no sense of head and loop is refused by its place', () => {
    expect(() => cutList(board({ begin: 'loose', headMm: -1 }))).toThrow('piece.headMm');
    expect(() => cutList(board({ begin: 'loop', loopMm: 0 }))).toThrow('piece.loopMm');
  });
});
