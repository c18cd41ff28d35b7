import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { finishRows } from '../../../engine/finish/index.ts';
import {
  type Board,
  isCrossing,
  isLeftShown,
  type KnotCode,
  type Pattern,
  pieceRows,
} from '../../../engine/index.ts';
import { CUT_STEP_MM } from '../../../engine/material/cut-list.ts';
import { cutList, pieceSize } from '../../../engine/material/index.ts';
import { takeUp } from '../../../engine/material/take-up.ts';
import type { EndKind } from '../../../engine/pattern/board.ts';
import { workOrder } from '../../../engine/work/index.ts';

const COLOURS = ['red', 'blue', 'sand'];

const patterns = (maxStrings: number, maxRows: number) =>
  fc
    .record({
      strings: fc.integer({ min: 2, max: maxStrings }),
      rows: fc.integer({ min: 0, max: maxRows }),
      start: fc.constantFrom(0 as const, 1 as const),
      seed: fc.infiniteStream(fc.integer({ min: 0, max: 59 })),
    })
    .map(({ strings, rows, start, seed }): Pattern => {
      const draw = () => seed.next().value as number;
      const knots = new Uint8Array(rows * (strings >> 1));
      for (let row = 0; row < rows; row++) {
        const count = (strings - ((start + row) % 2)) >> 1;
        for (let k = 0; k < count; k++) knots[row * (strings >> 1) + k] = draw() % 5;
      }
      const colours = Array.from({ length: strings }, () => COLOURS[draw() % 3] as string);
      return { colours, start, rows, knots };
    });

const pieces = fc.record({
  repeats: fc.integer({ min: 1, max: 12 }),
  end: fc.constantFrom<EndKind>('straight', 'triangle', 'double triangle'),
  leadInPart: fc.integer({ min: 0, max: 3 }),
});

function boardOf(pattern: Pattern, rest: Partial<Board> = {}): Board {
  const palette = COLOURS.map((id) => ({ id, name: id, hex: '#808080' }));
  return { title: 'plain', palette, pattern, piece: {}, gauge: {}, colourways: [], ...rest };
}

interface Row {
  readonly parity: number;
  readonly knots: readonly number[];
}

/** Every row of the piece written out, one after the other. */
function writtenOut(
  pattern: Pattern,
  repeats: number,
  leadInRows: number,
  end: EndKind,
  partRows = 0,
): readonly Row[] {
  const stride = pattern.colours.length >> 1;
  const rowsOf = (p: { start: number; rows: number; knots: Uint8Array }): Row[] =>
    Array.from({ length: p.rows }, (_, row) => ({
      parity: (p.start + row) % 2,
      knots: [...p.knots.slice(row * stride, (row + 1) * stride)],
    }));
  const own = rowsOf(pattern);
  const rows = own.slice(0, leadInRows);
  const repeat = own.slice(leadInRows);
  for (let i = 0; i < repeats + (partRows > 0 ? 1 : 0); i++) {
    if (i > 0 && repeat.length % 2 === 1) rows.push({ parity: 1 - (repeat[0] as Row).parity, knots: [] });
    rows.push(...(i < repeats ? repeat : repeat.slice(0, partRows)));
  }
  const stopped = partRows > 0 ? { ...pattern, rows: leadInRows + partRows } : pattern;
  return [...rows, ...rowsOf(finishRows(stopped, end))];
}

/** Works the written-out rows with strings as objects that count for themselves. */
function workByHand(strings: number, rows: readonly Row[]) {
  const all = Array.from({ length: strings }, (_, place) => ({ place, knotting: 0, carrier: 0, untied: 0 }));
  const hanging = [...all];
  let knots = 0;
  for (const row of rows) {
    const tied = new Set<number>();
    row.knots.forEach((code, k) => {
      const knot = code as KnotCode;
      if (knot === 0) return;
      const place = 2 * k + row.parity;
      const left = hanging[place] as (typeof all)[number];
      const right = hanging[place + 1] as (typeof all)[number];
      const [over, under] = isLeftShown(knot) ? [left, right] : [right, left];
      over.knotting += 1;
      under.carrier += 1;
      tied.add(left.place).add(right.place);
      knots += 1;
      if (isCrossing(knot)) {
        hanging[place] = right;
        hanging[place + 1] = left;
      }
    });
    for (const string of all) if (!tied.has(string.place)) string.untied += 1;
  }
  return { all, knots, finalPlace: all.map((string) => hanging.indexOf(string)) };
}

describe('takeUp', () => {
  it('[L7] is what comes out of working the written-out piece knot by knot', () => {
    const reached = { odd: 0, leadIn: 0, long: 0 };
    fc.assert(
      fc.property(patterns(12, 8), pieces, (pattern, { repeats, end, leadInPart }) => {
        const leadInRows = Math.floor((pattern.rows * leadInPart) / 4);
        const use = takeUp(pattern, { leadInRows, repeats, end });
        const rows = writtenOut(pattern, repeats, leadInRows, end);
        const plain = workByHand(pattern.colours.length, rows);
        expect([...use.knotting]).toEqual(plain.all.map(({ knotting }) => knotting));
        expect([...use.carrier]).toEqual(plain.all.map(({ carrier }) => carrier));
        expect([...use.untied]).toEqual(plain.all.map(({ untied }) => untied));
        expect([...use.finalPlace]).toEqual(plain.finalPlace);
        expect(use.rows).toBe(rows.length);
        expect(use.knots).toBe(plain.knots);
        if ((pattern.rows - leadInRows) % 2 === 1 && repeats > 1) reached.odd += 1;
        if (leadInRows > 0 && repeats > 1) reached.leadIn += 1;
        if (repeats > pattern.colours.length) reached.long += 1;
      }),
      { numRuns: 400 },
    );
    for (const count of Object.values(reached)) expect(count).toBeGreaterThan(20);
  });

  it('[L7] each knot has one knotting string and one carrier', () => {
    fc.assert(
      fc.property(patterns(40, 20), pieces, (pattern, { repeats, end }) => {
        const { knotting, carrier, untied, knots, rows } = takeUp(pattern, { leadInRows: 0, repeats, end });
        const sum = (values: Float64Array) => values.reduce((total, value) => total + value, 0);
        expect(sum(knotting)).toBe(knots);
        expect(sum(carrier)).toBe(knots);
        expect(sum(knotting) + sum(carrier) + sum(untied)).toBe(rows * pattern.colours.length);
      }),
    );
  });

  it('[L7] a million repeats count as exactly as one', () => {
    // One forward knot changes the two strings each repeat: either is the knotting string every second time.
    const swap: Pattern = { colours: ['a', 'b'], start: 0, rows: 1, knots: Uint8Array.of(1) };
    const use = takeUp(swap, { leadInRows: 0, repeats: 1_000_001, end: 'straight' });
    expect([...use.knotting]).toEqual([500_001, 500_000]);
    expect([...use.carrier]).toEqual([500_000, 500_001]);
    expect([...use.untied]).toEqual([1_000_000, 1_000_000]);
    expect([...use.finalPlace]).toEqual([1, 0]);
  });
});

describe('cutList', () => {
  it('[L8] every end gets what it needs on its side of the fold, in lengths a maker can measure', () => {
    fc.assert(
      fc.property(patterns(16, 10), pieces, (pattern, { repeats, end }) => {
        const list = cutList(boardOf(pattern, { piece: { repeats, end } }));
        for (const { left, right, colour, cutMm, foldAtMm, needMm } of list.folds) {
          expect(pattern.colours[left]).toBe(colour);
          expect(pattern.colours[right]).toBe(colour);
          expect(cutMm % CUT_STEP_MM).toBe(0);
          expect(foldAtMm % CUT_STEP_MM).toBe(0);
          expect(foldAtMm).toBeGreaterThanOrEqual(needMm[0]);
          expect(cutMm - foldAtMm).toBeGreaterThanOrEqual(needMm[1]);
          expect(cutMm).toBeLessThan(needMm[0] + needMm[1] + 2 * CUT_STEP_MM);
        }
        for (const { cutMm, needMm, place } of list.singles) {
          expect(cutMm).toBeGreaterThanOrEqual(needMm);
          expect(cutMm).toBeLessThan(needMm + CUT_STEP_MM);
          expect(needMm).toBeGreaterThan(list.ends[place]?.needMm ?? Number.POSITIVE_INFINITY);
        }
        const places = [
          ...list.folds.flatMap(({ left, right }) => [left, right]),
          ...list.singles.map(({ place }) => place),
        ];
        expect(places.sort((a, b) => a - b)).toEqual(pattern.colours.map((_, place) => place));
      }),
    );
  });

  it('[L8] totals are the sum of what is cut, and need follows from the counts by the gauge', () => {
    fc.assert(
      fc.property(patterns(16, 10), pieces, (pattern, { repeats, end }) => {
        const gauge = { cordMm: 1.25, rowMm: 1.5, knottingMm: 11.25, carrierMm: 1.75 };
        const list = cutList(boardOf(pattern, { gauge, piece: { repeats, end, tailMm: 64, spareMm: 32 } }));
        const cut = [...list.folds, ...list.singles].reduce((sum, { cutMm }) => sum + cutMm, 0);
        expect(list.colours.reduce((sum, { totalMm }) => sum + totalMm, 0)).toBe(cut);
        expect(list.ends.reduce((sum, { knotting }) => sum + knotting, 0)).toBe(list.knots);
        for (const { knotting, carrier, untied, needMm } of list.ends)
          expect(needMm).toBeCloseTo(
            knotting * 11.25 + carrier * 1.75 + untied * 1.5 + 64 + 32 + list.allowances.mountMm,
            8,
          );
        expect(list.size.bandMm).toBeCloseTo(list.size.rows === 0 ? 0 : (list.size.rows + 1) * 1.5, 8);
        expect(list.estimates).toEqual([]);
      }),
    );
  });

  it('[L7] the working order of the piece ties what the cutting list counts, string by string', () => {
    fc.assert(
      fc.property(patterns(10, 6), pieces, (pattern, { repeats, end, leadInPart }) => {
        const leadInRows = Math.floor((pattern.rows * leadInPart) / 4);
        const board = boardOf(pattern, { piece: { repeats, end, leadInRows } });
        const order = workOrder(board, { method: 'rows', covers: 'piece' });
        if ('error' in order) throw new Error(order.error.message);
        const list = cutList(board);
        expect(order.steps.length).toBe(list.knots);
        for (const { place, knotting, carrier } of list.ends) {
          expect(order.steps.filter((step) => step.knotting === place).length).toBe(knotting);
          expect(order.steps.filter((step) => step.carrier === place).length).toBe(carrier);
        }
      }),
    );
  });

  it('[L8] a thicker cord never needs less, whatever is measured beside it', () => {
    fc.assert(
      fc.property(
        patterns(10, 8),
        fc.double({ min: 0.3, max: 4, noNaN: true }),
        fc.double({ min: 0.01, max: 2, noNaN: true }),
        fc.option(fc.double({ min: 0.5, max: 5, noNaN: true })),
        (pattern, cordMm, more, rowMm) => {
          const need = (cord: number) =>
            cutList(boardOf(pattern, { gauge: { cordMm: cord, ...(rowMm === null ? {} : { rowMm }) } })).ends;
          const thin = need(cordMm);
          need(cordMm + more).forEach(({ needMm }, i) => {
            expect(needMm).toBeGreaterThan(thin[i]?.needMm ?? Number.POSITIVE_INFINITY);
          });
        },
      ),
    );
  });

  it('[L7] more repeats, longer: each repeat adds the same to the whole', () => {
    fc.assert(
      fc.property(patterns(10, 8), fc.integer({ min: 1, max: 30 }), (pattern, repeats) => {
        const knots = (count: number) => cutList(boardOf(pattern, { piece: { repeats: count } })).knots;
        expect(knots(repeats + 1) - knots(repeats)).toBe(knots(1));
      }),
    );
  });
});

describe('pieceSize', () => {
  it('[L7] no other row of any repeat comes nearer to the length asked for', () => {
    const reached = { odd: 0, leadIn: 0, part: 0, whole: 0 };
    fc.assert(
      fc.property(
        patterns(10, 7),
        pieces,
        fc.double({ min: 1, max: 200, noNaN: true }),
        (pattern, { end, leadInPart }, lengthMm) => {
          const leadInRows = Math.floor((pattern.rows * leadInPart) / 4);
          const piece = { lengthMm, end, leadInRows };
          const asked = pieceSize(boardOf(pattern, { gauge: { rowMm: 1.5 }, piece }));
          const least = Math.abs(asked.bandMm - lengthMm);
          const length = pattern.rows - leadInRows;
          if (length === 0) return;
          expect(asked.repeats + (asked.partRows > 0 ? 1 : 0)).toBeGreaterThan(0);
          // Every stop in as many repeats as can matter, its rows written out.
          for (let repeats = 0; repeats <= asked.repeats + 2; repeats++)
            for (let partRows = 0; partRows < length; partRows++) {
              if (repeats + partRows === 0) continue;
              const rows = writtenOut(pattern, repeats, leadInRows, end, partRows).length;
              expect(Math.abs((rows + 1) * 1.5 - lengthMm)).toBeGreaterThan(least - 1e-9);
              if (repeats === asked.repeats && partRows === asked.partRows) expect(asked.rows).toBe(rows);
            }
          if (asked.repeats > 1 && length % 2 === 1) reached.odd += 1;
          if (asked.repeats > 1 && leadInRows > 0) reached.leadIn += 1;
          reached[asked.partRows > 0 ? 'part' : 'whole'] += 1;
        },
      ),
    );
    for (const count of Object.values(reached)) expect(count).toBeGreaterThan(8);
  });

  it('[L7] [F4] a piece that stops within a repeat is worked, ordered and drawn as its rows written out', () => {
    const reached = { odd: 0, triangle: 0 };
    fc.assert(
      fc.property(
        patterns(10, 8),
        fc.constantFrom<EndKind>('straight', 'triangle', 'double triangle'),
        fc.double({ min: 4, max: 80, noNaN: true }),
        (pattern, end, lengthMm) => {
          const board = boardOf(pattern, { gauge: { rowMm: 1.5 }, piece: { lengthMm, end } });
          const size = pieceSize(board);
          if (size.partRows === 0) return;
          const rows = writtenOut(pattern, size.repeats, 0, end, size.partRows);
          const plain = workByHand(pattern.colours.length, rows);
          const use = takeUp(pattern, size);
          expect([...use.knotting]).toEqual(plain.all.map(({ knotting }) => knotting));
          expect([...use.carrier]).toEqual(plain.all.map(({ carrier }) => carrier));
          expect([...use.finalPlace]).toEqual(plain.finalPlace);
          expect(use.rows).toBe(rows.length);
          const order = workOrder(board, { method: 'rows', covers: 'piece' });
          if (!order.ok) throw new Error(order.error.message);
          expect(order.steps.length).toBe(plain.knots);
          const drawn = pieceRows(board, 1000);
          expect(drawn.rows).toBe(rows.length);
          expect(drawn.knots.filter((knot) => knot !== 0).length).toBe(plain.knots);
          // The end's first row hangs one half string beside the last row of the band, as every row does.
          rows.forEach(({ parity }, row) => {
            expect(parity).toBe((pattern.start + row) % 2);
          });
          if (pattern.rows % 2 === 1 && size.repeats > 0) reached.odd += 1;
          if (size.endRows > 0) reached.triangle += 1;
        },
      ),
      { numRuns: 300 },
    );
    for (const count of Object.values(reached)) expect(count).toBeGreaterThan(20);
  });
});
