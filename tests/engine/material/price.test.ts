/** What a piece costs. The reference is arithmetic: every expected figure was worked out by hand from the formula of rule L77. */
import { describe, expect, it } from 'vitest';
import {
  type Board,
  type Colourway,
  lotOf,
  type Pattern,
  type Piece,
  type Price,
  type Priced,
  planBoard,
  type ShoppingList,
  shoppingList,
} from '../../../engine/index.ts';
import type { Supplies } from '../../../engine/pattern/index.ts';
import { priceOf } from '../../../engine/material/price.ts';
import { minutesOf } from '../../../engine/material/minutes.ts';
import { demoFile, readBoard } from '../../support/own-board.ts';

function priced(price: Price): Priced {
  if (price.kind !== 'priced') throw new Error(`the price is ${price.kind}`);
  return price;
}

/** Two of thread, one of parts, half an hour; of one piece. */
const ONE = { thread: 2, parts: 1, minutes: 30, pieces: 1 };
/** The same for four pieces. */
const FOUR = { thread: 8, parts: 4, minutes: 120, pieces: 4 };
const NONE = { thread: null, parts: null, minutes: 0, pieces: 1 };

describe('the price, in ten examples worked by hand', () => {
  const examples: readonly (readonly [string, Piece, typeof ONE | typeof NONE, Partial<Priced>])[] = [
    [
      'thread 2 + parts 1 + 30 minutes at 12',
      { hourlyRate: 12 },
      ONE,
      { work: 6, cost: 9, price: 9, margin: 0 },
    ],
    [
      'a margin of a quarter of the price: 9 / 0.75, and not 9 x 1.25',
      { hourlyRate: 12, marginShare: 0.25 },
      ONE,
      { cost: 9, price: 12, margin: 3 },
    ],
    [
      'a tenth of the thread wasted: (2.2 + 1 + 6) / 0.8',
      { hourlyRate: 12, wasteShare: 0.1, marginShare: 0.2 },
      ONE,
      { thread: 2, waste: 0.2, cost: 9.2, price: 11.5, margin: 2.3 },
    ],
    [
      'a market that keeps a tenth, and three tenths for the maker: 9 / 0.6',
      { hourlyRate: 12, feeShare: 0.1, marginShare: 0.3 },
      ONE,
      { price: 15, margin: 4.5, fee: 1.5 },
    ],
    [
      'post and a fixed fee: (9 + 2.4 + 0.6) / 0.8',
      { hourlyRate: 12, postPrice: 2.4, fixedFee: 0.6, marginShare: 0.2 },
      ONE,
      { post: 2.4, fixedFee: 0.6, cost: 12, price: 15, margin: 3 },
    ],
    [
      'tax stands apart: 12, and 19 % of it on top',
      { hourlyRate: 12, marginShare: 0.25, taxShare: 0.19 },
      ONE,
      { price: 12, tax: 2.28, withTax: 14.28 },
    ],
    [
      'work alone: 90 minutes at 20',
      { hourlyRate: 20 },
      { thread: null, parts: null, minutes: 90, pieces: 1 } as unknown as typeof NONE,
      { thread: null, waste: null, parts: null, work: 30, post: null, cost: 30, price: 30 },
    ],
    [
      'thread alone: 0.84 / 0.6',
      { marginShare: 0.4 },
      { thread: 0.84, parts: null, minutes: 30, pieces: 1 } as unknown as typeof NONE,
      { thread: 0.84, waste: 0, work: null, cost: 0.84, price: 1.4 },
    ],
    [
      'four pieces, each with its post: (8 + 4 + 24 + 4 x 1.5) / 0.7',
      { hourlyRate: 12, postPrice: 1.5, marginShare: 0.3 },
      FOUR,
      { work: 24, post: 6, cost: 42, price: 60, margin: 18 },
    ],
    [
      'four pieces sent together: (8 + 4 + 24 + 1.5) / 0.75',
      { hourlyRate: 12, postPrice: 1.5, soldAs: 'together', marginShare: 0.2, feeShare: 0.05 },
      FOUR,
      { post: 1.5, cost: 37.5, price: 50, margin: 10, fee: 2.5 },
    ],
  ];
  it.each(examples)('[L77] [L78] %s', (_, piece, outlay, expected) => {
    const price = priced(priceOf(piece, outlay));
    for (const [term, value] of Object.entries(expected)) {
      const found = price[term as keyof Priced];
      if (value === null) expect([term, found]).toEqual([term, null]);
      else expect(found, term).toBeCloseTo(value as number, 9);
    }
    const terms = [price.thread, price.waste, price.parts, price.work, price.post, price.fixedFee];
    expect(terms.reduce<number>((sum, term) => sum + (term ?? 0), 0)).toBeCloseTo(price.cost, 9);
    expect(price.cost + price.margin + price.fee).toBeCloseTo(price.price, 9);
  });

  it('[L79] where nothing is stated there is no price', () => {
    expect(priceOf({ marginShare: 0.2, wasteShare: 0.1, taxShare: 0.2 }, NONE)).toEqual({ kind: 'unstated' });
    expect(priceOf({ postPrice: 2 }, NONE)).toMatchObject({ kind: 'priced', price: 2, thread: null });
  });

  it('[L80] margin and fee that leave nothing of the price are told, and no price is made of them', () => {
    for (const [marginShare, feeShare] of [
      [0.6, 0.4],
      [0.95, 0.95],
      [0.5, 0.495],
    ] as const)
      expect(priceOf({ marginShare, feeShare }, ONE)).toEqual({
        kind: 'nothing-left',
        share: marginShare + feeShare,
      });
    expect(priced(priceOf({ marginShare: 0.9, feeShare: 0.05 }, ONE)).price).toBeCloseTo(60, 9);
  });

  it('[L77] a rate out of range is refused by its path', () => {
    for (const [field, value] of [
      ['hourlyRate', -1],
      ['wasteShare', -0.1],
      ['postPrice', Number.NaN],
      ['fixedFee', -1],
      ['marginShare', 1],
      ['feeShare', -0.1],
      ['taxShare', Number.POSITIVE_INFINITY],
    ] as const)
      expect(() => priceOf({ [field]: value }, ONE)).toThrow(`piece.${field} must be`);
  });
});

describe('minutes', () => {
  it('[L76] knots, cutting, mounting and finishing, as stated or estimated', () => {
    expect(minutesOf({}, 120, 12)).toEqual({ knots: 20, cutting: 6, mounting: 6, finishing: 5, all: 37 });
    const stated = { knotsPerMinute: 4, cutMinutes: 1, mountMinutes: 2, finishMinutes: 0 };
    expect(minutesOf(stated, 120, 12)).toEqual({ knots: 30, cutting: 1, mounting: 2, finishing: 0, all: 33 });
    for (const [field, value] of [
      ['knotsPerMinute', 0],
      ['cutMinutes', -1],
      ['mountMinutes', -1],
      ['finishMinutes', -1],
    ] as const)
      expect(() => minutesOf({ [field]: value }, 1, 1)).toThrow(`piece.${field} must be`);
  });
});

const RED = { hex: '#aa2211', name: 'brick' };
const SAND = { hex: '#ddcc99', name: 'sand' };
const MOSS = { hex: '#446633', name: 'moss' };
const INK = { hex: '#222244', name: 'ink' };
type Thread = typeof RED;

/** Four strings, outer, inner, inner, outer; three knots. Cut by this gauge an outer cord is 205 mm and an inner one 180 mm. */
const VEE: Pattern = { colours: ['o', 'i', 'i', 'o'], start: 0, rows: 2, knots: Uint8Array.of(1, 2, 1, 0) };
const LENGTHS: Piece = { tailMm: 50, spareMm: 21, skeinMm: 1000 };

function board(piece: Piece = {}, supplies?: Supplies, rest: Partial<Board> = {}): Board {
  return {
    title: 'plain',
    palette: [
      { id: 'o', ...RED },
      { id: 'i', ...SAND },
    ],
    pattern: VEE,
    piece: { ...LENGTHS, ...piece },
    gauge: { cordMm: 1, rowMm: 2, knottingMm: 10, carrierMm: 2 },
    colourways: [],
    ...(supplies === undefined ? {} : { supplies }),
    ...rest,
  };
}

const way = (id: string, outer: Thread, inner: Thread, pieces = 1): Colourway => ({
  id,
  name: id,
  ...(pieces === 1 ? {} : { pieces }),
  colours: [
    { id: 'o', ...outer },
    { id: 'i', ...inner },
  ],
});
const list = (of: Board, ways: readonly (Colourway | null)[] = [null]): ShoppingList =>
  shoppingList(of, ways, planBoard);

describe('a lot of twelve pieces in five colourways, worked by hand', () => {
  const ways = [
    way('w1', RED, SAND, 4),
    way('w2', SAND, RED, 3),
    way('w3', MOSS, SAND, 2),
    way('w4', MOSS, INK, 2),
    way('w5', INK, MOSS),
  ];
  const supplies: Supplies = {
    threads: [
      { ...RED, number: '321', price: 1.5, haveMm: 400 },
      { ...MOSS, price: 2 },
      { ...SAND, price: 1.2 },
    ],
    parts: [
      { id: 'b', kind: 'bead', count: 3, price: 0.1, have: 10 },
      { id: 'r', kind: 'ring', price: 0.4 },
    ],
  };
  const piece: Piece = {
    skeinPrice: 1,
    knotsPerMinute: 1,
    cutMinutes: 2,
    mountMinutes: 3,
    finishMinutes: 4,
    hourlyRate: 15,
    wasteShare: 0.1,
    postPrice: 3.5,
    fixedFee: 0.3,
    marginShare: 0.25,
    feeShare: 0.1,
    taxShare: 0.2,
  };
  const set = board(piece, supplies, { colourways: ways });
  const lot = list(set, lotOf(set, ways));

  it('[L71] twelve are made, as many of each colourway as it says', () => {
    expect(lot.pieces).toBe(12);
    expect(lot.batches.map(({ colourway, pieces }) => [colourway, pieces])).toEqual([
      ['w1', 4],
      ['w2', 3],
      ['w3', 2],
      ['w4', 2],
      ['w5', 1],
    ]);
    expect(lot.knots).toBe(12 * 3);
  });

  it('[L70] [L73] [L75] what is used, what is at home and what must be bought', () => {
    // Red: 4 x 205 + 3 x 180, one of each from the 400 at home, the rest (3 x 205 + 2 x 180 = 975) from one skein.
    expect(
      lot.threads.map(({ names, number, totalMm, fromHomeMm, skeins }) => [
        names.join(),
        number,
        totalMm,
        fromHomeMm,
        skeins,
      ]),
    ).toEqual([
      ['brick', '321', 1360, 385, 1],
      ['sand', null, 1695, 0, 2],
      ['moss', null, 1000, 0, 1],
      ['ink', null, 565, 0, 1],
    ]);
    expect([lot.totalMm, lot.skeins, lot.boughtMm]).toEqual([12 * 385, 5, 5000]);
    // 1.5 + 2 x 1.2 + 2 + 1 in the shop for thread; twelve rings, and 36 beads less ten.
    expect(lot.toPay.thread).toBeCloseTo(6.9, 9);
    expect(lot.parts.map(({ id, count, buy }) => [id, count, buy])).toEqual([
      ['b', 36, 26],
      ['r', 12, 12],
    ]);
    expect(lot.toPay.parts).toBeCloseTo(2.6 + 4.8, 9);
    expect(lot.toPay.all).toBeCloseTo(14.3, 9);
  });

  it('[L76] [L77] the price has every term', () => {
    expect(lot.minutes).toEqual({ knots: 36, cutting: 24, mounting: 36, finishing: 48, all: 144 });
    const price = priced(lot.price);
    // By length: 1.36 x 1.5 + 1.695 x 1.2 + 1 x 2 + 0.565 x 1.
    expect(price.thread).toBeCloseTo(6.639, 9);
    expect(price.waste).toBeCloseTo(0.6639, 9);
    expect(price.parts).toBeCloseTo(12 * 0.4 + 36 * 0.1, 9);
    expect(price.work).toBeCloseTo(36, 9);
    expect(price.post).toBeCloseTo(42, 9);
    expect(price.fixedFee).toBeCloseTo(3.6, 9);
    expect(price.cost).toBeCloseTo(97.3029, 9);
    expect(price.price).toBeCloseTo(97.3029 / 0.65, 9);
    expect(price.margin).toBeCloseTo((97.3029 / 0.65) * 0.25, 9);
    expect(price.fee).toBeCloseTo((97.3029 / 0.65) * 0.1, 9);
    expect(price.tax).toBeCloseTo((97.3029 / 0.65) * 0.2, 9);
    expect([lot.isPartial, lot.estimates]).toEqual([false, []]);
  });

  it('[L78] each piece has its price, and the lot costs what they cost one by one', () => {
    const [first, , , , last] = lot.batches.map(({ price }) => priced(price));
    // Red 0.205 x 1.5 + sand 0.18 x 1.2 = 0.5235, a tenth more; 0.7 of parts, 12 minutes at 15, 3.5 and 0.3.
    expect(first!.cost).toBeCloseTo(0.57585 + 0.7 + 3 + 3.5 + 0.3, 9);
    // Ink 0.205 x 1 + moss 0.18 x 2 = 0.565.
    expect(last!.price).toBeCloseTo((0.6215 + 0.7 + 3 + 3.5 + 0.3) / 0.65, 9);
    const sum = lot.batches.reduce((total, { pieces, price }) => total + pieces * priced(price).price, 0);
    expect(sum).toBeCloseTo(priced(lot.price).price, 9);
    const sent = board({ ...piece, soldAs: 'together' }, supplies, { colourways: ways });
    const together = list(sent, lotOf(sent, ways));
    expect(priced(together.price).cost).toBeCloseTo(97.3029 - 11 * 3.8, 9);
    const shared = together.batches.reduce((total, one) => total + one.pieces * priced(one.price).price, 0);
    expect(shared).toBeCloseTo(priced(together.price).price, 9);
  });
});

describe('material', () => {
  it('[L70] thread is charged by what is used, and not by the skeins it is cut from', () => {
    const one = list(board({ skeinMm: 8000, skeinPrice: 1.6 }));
    expect([one.totalMm, one.boughtMm, one.skeins]).toEqual([385, 16_000, 2]);
    expect(priced(one.price).thread).toBeCloseTo((385 / 8000) * 1.6, 9);
    expect(one.toPay.thread).toBeCloseTo(3.2, 9);
  });

  it('[L71] the same board many times, and a thousand at once', () => {
    const three = list(board(), [null, null, null]);
    expect([three.pieces, three.totalMm, three.batches.length]).toEqual([3, 3 * 385, 1]);
    const many = board({ pieces: 1000 });
    const lot = list(many, lotOf(many, [null]));
    // Four cords of 205 mm or five of 180 come from a skein of 1 m.
    expect([lot.pieces, lot.skeins, lot.parts[0]]).toMatchObject([1000, 250 + 200, { count: 1000 }]);
    const two = { ...way('w', RED, SAND), name: 'another' };
    expect(() => list(board(), [way('w', RED, SAND), two])).toThrow('two colourways have the id w');
  });

  it('[L72] a thread is colour and name: one colour of two names is two threads, until the maker says they are one', () => {
    const rust = { ...RED, name: 'rust' };
    const ways = [way('a', RED, SAND), way('b', rust, SAND)];
    const names = (of: ShoppingList) => of.threads.map((thread) => [thread.hex, thread.names.join('+')]);
    expect(names(list(board(), ways))).toEqual([
      [RED.hex, 'brick'],
      [SAND.hex, 'sand'],
      [RED.hex, 'rust'],
    ]);
    const same: Supplies = { threads: [{ ...rust, sameAs: `${RED.hex}.brick` }], parts: [] };
    const one = list(board({}, same), ways);
    expect(names(one)).toEqual([
      [RED.hex, 'brick+rust'],
      [SAND.hex, 'sand'],
    ]);
    expect(one.threads[0]).toMatchObject({ totalMm: 2 * 205, pieces: 2, threads: [RED, rust] });
  });

  it('[L72] two colours can be one too; what is said of either counts, what stands for both first, and home adds up', () => {
    const supplies: Supplies = {
      threads: [
        { ...MOSS, sameAs: `${RED.hex}.brick`, price: 9, number: 'M', haveMm: 180 },
        { ...RED, price: 1, haveMm: 205 },
        { ...INK, sameAs: `${MOSS.hex}.moss`, haveMm: 15 },
      ],
      parts: [],
    };
    const [thread, ...others] = list(board({}, supplies), [way('a', RED, MOSS)]).threads;
    expect(others).toEqual([]);
    expect(thread).toMatchObject({
      hex: RED.hex,
      names: ['brick', 'moss'],
      price: 1,
      number: 'M',
      haveMm: 400,
    });
    expect(thread).toMatchObject({ totalMm: 385, fromHomeMm: 385, skeins: 0, buyPrice: 0, wasteMm: 15 });
  });

  it('[L72] threads said to be one in a ring are one; a thread without a name is the only named one of its colour', () => {
    const ring: Supplies = {
      threads: [
        { ...RED, sameAs: `${SAND.hex}.sand` },
        { ...SAND, sameAs: `${RED.hex}.brick` },
      ],
      parts: [],
    };
    expect(list(board({}, ring)).threads.map(({ hex, names }) => [hex, names])).toEqual([
      [RED.hex, ['brick', 'sand']],
    ]);
    const nameless = { ...RED, name: '' };
    const ways = [way('a', RED, SAND), way('b', nameless, SAND)];
    expect(list(board(), ways).threads.map(({ names }) => names)).toEqual([['brick'], ['sand']]);
    const rust = { ...RED, name: 'rust' };
    expect(list(board(), [...ways, way('c', rust, SAND)]).threads.map(({ names }) => names)).toEqual([
      ['brick'],
      ['sand'],
      [],
      ['rust'],
    ]);
  });

  it('[L73] a thread has its own price and length of skein, else the board’s', () => {
    const supplies: Supplies = { threads: [{ ...RED, price: 3, skeinMm: 20_000 }], parts: [] };
    const [red, sand] = list(board({ skeinPrice: 1 }, supplies)).threads;
    expect([red!.price, red!.skeinMm, sand!.price, sand!.skeinMm]).toEqual([3, 20_000, 1, 1000]);
    expect(red!.usedPrice).toBeCloseTo((205 / 20_000) * 3, 12);
    for (const [field, value] of [
      ['price', -1],
      ['skeinMm', 0],
      ['haveMm', -1],
    ] as const)
      expect(() => list(board({}, { threads: [{ ...RED, [field]: value }], parts: [] }))).toThrow(
        `supplies.threads[0].${field} must be`,
      );
  });

  it('[L74] every piece hangs from a ring, unless a line of parts is one', () => {
    const parts = (lines: Supplies['parts'], piece: Piece = {}) =>
      list(board(piece, { threads: [], parts: lines }), [null, null]).parts.map(
        ({ id, kind, count, buy }) => [id, kind, count, buy],
      );
    expect(list(board()).parts).toMatchObject([{ id: null, kind: 'ring', count: 1, price: null }]);
    expect(parts([{ id: 'x', name: 'charm' }])).toEqual([
      [null, 'ring', 2, 2],
      ['x', 'other', 2, 2],
    ]);
    expect(parts([{ id: 'c', kind: 'clasp', have: 5 }])).toEqual([['c', 'clasp', 2, 0]]);
    expect(() => parts([{ id: 'c', count: -1 }])).toThrow('supplies.parts[0].count must be');
  });

  it('[L74] [L79] other parts have one price a piece; what has no price is left out, and that is said', () => {
    const lines = { threads: [], parts: [{ id: 'c', kind: 'clasp', price: 0.5 } as const] };
    const plain = list(board({ partsPrice: 0.2 }, lines), [null, null]);
    expect(priced(plain.price).parts).toBeCloseTo(1.4, 9);
    expect(plain.toPay.parts).toBeCloseTo(1.4, 9);
    expect(plain.isPartial).toBe(false);
    const some = list(board({}, { threads: [{ ...RED, price: 2 }], parts: [] }));
    expect([some.isPartial, priced(some.price).thread]).toEqual([true, (205 / 1000) * 2]);
    expect(list(board()).price).toEqual({ kind: 'unstated' });
    expect(list(board()).toPay).toEqual({ thread: null, parts: null, all: null });
    expect(list(board()).estimates).toEqual([
      'piece.knotsPerMinute',
      'piece.cutMinutes',
      'piece.mountMinutes',
      'piece.finishMinutes',
    ]);
  });

  it('[L70] a keychain of the demo set is charged for the thread in it', () => {
    const club = readBoard(demoFile('club-set'));
    const one = list(club);
    expect(one.boughtMm).toBeGreaterThan(one.totalMm);
    const rate = club.piece.skeinPrice! / (club.piece.skeinMm ?? 8000);
    expect(priced(one.price).thread).toBeCloseTo(one.totalMm * rate, 9);
  });
});
