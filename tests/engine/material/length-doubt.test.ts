/** How sure lengths are: by hand, by laws, and against the engine's own model fed with errors. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Board, type Gauge, patternFromText, planBoard, repeatCycle } from '../../../engine/index.ts';
import { hitchLength } from '../../../engine/material/cord.ts';
import { HAND_SHARE } from '../../../engine/material/gauge-doubt.ts';
import { MODEL_SPREAD, ROW_PER_WIDTH, THREAD_PER_WIDTH } from '../../../engine/material/gauge-model.ts';
import {
  cutList,
  fitGauge,
  type GaugePatchValues,
  gaugeDoubt,
  type Swatch,
  shoppingList,
  workingGauge,
} from '../../../engine/material/index.ts';
import { type SeededRandom, seededRandom } from '../../support/seeded-random.ts';

/** Normal, by Box and Muller. */
const normal = (random: SeededRandom): number =>
  Math.sqrt(-2 * Math.log(1 - random.next())) * Math.cos(2 * Math.PI * random.next());

const PATTERN = patternFromText(['r', 's', 's', 'r'], ['f b', 'f', 'fb b', '-']);

/** Repeats after which every string has done the same again. */
const CYCLE = repeatCycle(PATTERN).strings;

function board(gauge: Gauge, rest: Partial<Board> = {}): Board {
  const palette = ['r', 's'].map((id, i) => ({ id, name: id, hex: i === 0 ? '#112233' : '#ddcc99' }));
  return { title: 'test', palette, pattern: PATTERN, piece: {}, gauge, colourways: [], ...rest };
}

const EXACT: Gauge = {
  ...{ cordMm: 1.25, rowMm: 2, knottingMm: 18, carrierMm: 2.5 },
  ...{ cordErrorMm: 0, rowErrorMm: 0, knottingErrorMm: 0, carrierErrorMm: 0 },
};

function stored(patch: GaugePatchValues): Gauge {
  return Object.fromEntries(Object.entries(patch).filter(([, value]) => value !== null)) as Gauge;
}

function fitted(swatches: readonly Swatch[], known: Gauge = {}) {
  const result = fitGauge(swatches, known);
  if (!result.ok) throw new Error(result.error.message);
  return result.value;
}

describe('a length and its doubt', () => {
  it('[L15] a piece worked out by hand: errors shared by many knots add up whole', () => {
    const gauge = { ...EXACT, knottingErrorMm: 0.5, carrierErrorMm: 0.25, knottingCarrierCorrelation: -0.6 };
    const list = cutList(board(gauge, { piece: { repeats: 10 } }));
    for (const { knotting, carrier, doubt } of list.ends) {
      const variance =
        (knotting * 0.5) ** 2 + (carrier * 0.25) ** 2 - 2 * 0.6 * knotting * 0.5 * carrier * 0.25;
      expect(doubt?.standardMm).toBeCloseTo(Math.sqrt(variance), 9);
      // No freedom stated: known well, so 1.96 standard deviations.
      expect(doubt?.plusMinusMm).toBeCloseTo(1.95996 * Math.sqrt(variance), 3);
    }
    const outer = list.folds.find(({ left }) => left === 0)!;
    const [a, b] = [list.ends[0]!, list.ends[3]!];
    const [k, c] = [a.knotting + b.knotting, a.carrier + b.carrier];
    expect(outer.doubt?.standardMm).toBeCloseTo(
      Math.sqrt((k * 0.5) ** 2 + (c * 0.25) ** 2 - 2 * 0.6 * k * c * 0.125),
      9,
    );
    // One fold of each colour: its total is as sure as the fold.
    expect(list.colours.find(({ colour }) => colour === 'r')?.doubt).toEqual(outer.doubt);
  });

  it('[L15] the band is as sure as its rows: 0.02 mm a row make 0.82 mm in forty, which are 41 heights of a row', () => {
    const list = cutList(board({ ...EXACT, rowErrorMm: 0.02, rowFreedom: 4 }, { piece: { repeats: 10 } }));
    expect(list.size.rows).toBe(40);
    expect(list.doubt.band?.standardMm).toBeCloseTo(0.82, 9);
    expect(list.doubt.band?.plusMinusMm).toBeCloseTo(0.82 * 2.776, 2);
  });

  it('[L15] without any error there is no doubt', () => {
    const list = cutList(board(EXACT, { piece: { repeats: 7 } }));
    for (const { doubt } of [...list.folds, ...list.ends, ...list.colours])
      expect(doubt).toMatchObject({ standardMm: 0, plusMinusMm: 0 });
    expect(list.doubt).toMatchObject({ unknown: [], assumed: [], chanceOfShort: 0 });
  });

  it('[L15] errors so many times as large make all doubt so many times as large; a turn of a hundred repeats a hundred times', () => {
    const errors = fc.record({
      // So small that no part of what was measured is surer than all of it.
      cordErrorMm: fc.double({ min: 0.0001, max: 0.003, noNaN: true }),
      rowErrorMm: fc.double({ min: 0.0001, max: 0.003, noNaN: true }),
      knottingErrorMm: fc.double({ min: 0.001, max: 0.05, noNaN: true }),
      carrierErrorMm: fc.double({ min: 0.001, max: 0.005, noNaN: true }),
    });
    const small = fc.double({ min: -0.5, max: 0.5, noNaN: true });
    fc.assert(
      fc.property(
        errors,
        small,
        small,
        small,
        fc.double({ min: 0.1, max: 1, noNaN: true }),
        (given, a, b, c, times) => {
          const correlations = {
            knottingCarrierCorrelation: a,
            rowKnottingCorrelation: b,
            rowCarrierCorrelation: c,
          };
          const bare = { ...EXACT, ...given, ...correlations, knotScatterMm: 0.4 };
          const scaled = { ...bare, knotScatterMm: 0.4 * times };
          for (const key of ['cordErrorMm', 'rowErrorMm', 'knottingErrorMm', 'carrierErrorMm'] as const)
            scaled[key] = given[key] * times;
          const [one, other] = [cutList(board(bare)), cutList(board(scaled))];
          other.folds.forEach(({ doubt }, i) => {
            expect(doubt!.standardMm).toBeCloseTo(one.folds[i]!.doubt!.standardMm * times, 6);
          });
          expect(other.folds.map(({ cutMm }) => cutMm)).toEqual(one.folds.map(({ cutMm }) => cutMm));
        },
      ),
    );
    // Only the take-ups unsure: nothing but knots counts, and the errors of all of them are one.
    const only = { ...EXACT, knottingErrorMm: 0.3, carrierErrorMm: 0.1 };
    const inRepeats = (repeats: number) =>
      cutList(board(only, { piece: { repeats } })).colours.map(({ doubt }) => doubt!.standardMm);
    const once = inRepeats(CYCLE);
    inRepeats(100 * CYCLE).forEach((standard, i) => {
      expect(standard).toBeCloseTo(100 * once[i]!, 6);
    });
  });

  it('[L15] what varies from knot to knot adds up by squares', () => {
    const inRepeats = (repeats: number) =>
      cutList(board({ ...EXACT, knotScatterMm: 0.6, takeUpFreedom: 5 }, { piece: { repeats } }));
    const [one, four] = [inRepeats(CYCLE), inRepeats(4 * CYCLE)];
    one.folds.forEach(({ doubt, sensitivity }, i) => {
      expect(doubt?.standardMm).toBeCloseTo(0.6 * Math.sqrt(sensitivity.knots), 9);
      expect(four.folds[i]?.doubt?.standardMm).toBeCloseTo(2 * doubt!.standardMm, 9);
    });
  });

  it('[L17] a measured value whose error is not stated makes lengths that depend on it unsure by an unknown amount', () => {
    const { cordErrorMm: _, ...noCord } = EXACT;
    const list = cutList(board(noCord));
    expect(list.doubt.unknown).toEqual(['gauge.cordErrorMm']);
    expect(list.folds.map(({ doubt }) => doubt)).toEqual([null, null]);
    expect(list.doubt).toMatchObject({ chanceOfShort: null, likeliestShort: null });
    // The band hangs on the row height alone.
    expect(list.doubt.band).toMatchObject({ standardMm: 0 });
    const old = cutList(
      board({ cordMm: 1.25, rowMm: 2, knottingMm: 18, carrierMm: 2.5 }, { piece: { shortOneIn: 20 } }),
    );
    expect(old.doubt.band).toBeNull();
    expect(old.doubt.unknown).toHaveLength(4);
    expect(old.folds.map(({ cutMm }) => cutMm)).toEqual(
      cutList(board(EXACT)).folds.map(({ cutMm }) => cutMm),
    );
  });

  it('[L17] correlations that cannot stand together count as none, and errors beside no value are not read', () => {
    const unsure = { ...EXACT, rowErrorMm: 0.1, knottingErrorMm: 0.5, carrierErrorMm: 0.2 };
    const apart = gaugeDoubt(unsure).sources;
    const impossible = {
      knottingCarrierCorrelation: 0.9,
      rowKnottingCorrelation: 0.9,
      rowCarrierCorrelation: -0.9,
    };
    const of = (gauge: Gauge) => cutList(board(gauge)).folds.map(({ doubt }) => doubt?.standardMm);
    expect(of({ ...unsure, ...impossible })).toEqual(of(unsure));
    expect(apart.length).toBe(3);
    expect(gaugeDoubt({ rowErrorMm: 4, knottingErrorMm: 9, knotScatterMm: 3 })).toEqual(gaugeDoubt({}));
  });

  it('[L17] a bad error is refused by its path', () => {
    const path = (gauge: Gauge) => {
      try {
        cutList(board(gauge));
        return 'accepted';
      } catch (error) {
        return error instanceof RangeError && 'path' in error ? error.path : error;
      }
    };
    expect(path({ cordErrorMm: -1 })).toBe('gauge.cordErrorMm');
    expect(path({ knottingErrorMm: Number.NaN })).toBe('gauge.knottingErrorMm');
    expect(path({ knotScatterMm: -0.1 })).toBe('gauge.knotScatterMm');
    expect(path({ takeUpFreedom: 0.5 })).toBe('gauge.takeUpFreedom');
    expect(path({ rowFreedom: -1 })).toBe('gauge.rowFreedom');
    expect(path({ rowCarrierCorrelation: 1.01 })).toBe('gauge.rowCarrierCorrelation');
    const short = (shortOneIn: number) => () => cutList(board({}, { piece: { shortOneIn } }));
    expect(short(2)).toThrow('piece.shortOneIn');
    expect(short(2.5)).toThrow('piece.shortOneIn');
    expect(short(1001)).toThrow('piece.shortOneIn');
  });
});

describe('drawn at random', () => {
  it('[L15] 4,000 gauges drawn with the stated errors scatter the needs as told, to 4 in 100', () => {
    const random = seededRandom(30_117);
    const errors = { cordErrorMm: 0.05, rowErrorMm: 0.03, knottingErrorMm: 0.4, carrierErrorMm: 0.15 };
    const [kc, rk, rc] = [-0.5, -0.3, -0.2];
    const gauge = {
      ...{ ...EXACT, ...errors },
      ...{ knottingCarrierCorrelation: kc, rowKnottingCorrelation: rk, rowCarrierCorrelation: rc },
    };
    const told = cutList(board(gauge, { piece: { repeats: 6 } }));
    const sums = told.folds.map(() => [0, 0] as [number, number]);
    const draws = 4000;
    for (let draw = 0; draw < draws; draw++) {
      const row = normal(random);
      const knotting = rk * row + Math.sqrt(1 - rk ** 2) * normal(random);
      // The part of the carrier that follows from the other two: solved from its two correlations.
      const b = (kc - rk * rc) / (1 - rk ** 2);
      const a = rc - b * rk;
      const rest = Math.sqrt(1 - a * rc - b * kc);
      const carrier = a * row + b * knotting + rest * normal(random);
      const drawn = cutList(
        board(
          {
            cordMm: 1.25 + 0.05 * normal(random),
            rowMm: 2 + 0.03 * row,
            knottingMm: 18 + 0.4 * knotting,
            carrierMm: 2.5 + 0.15 * carrier,
          },
          { piece: { repeats: 6 } },
        ),
      );
      drawn.folds.forEach(({ needMm: [left, right] }, i) => {
        const off = left + right - told.folds[i]!.needMm[0] - told.folds[i]!.needMm[1];
        sums[i]![0] += off;
        sums[i]![1] += off * off;
      });
    }
    sums.forEach(([sum, squares], i) => {
      const found = Math.sqrt(squares / draws - (sum / draws) ** 2);
      expect(Math.abs(found / told.folds[i]!.doubt!.standardMm - 1)).toBeLessThan(0.04);
    });
  });

  it('[L18] 4,000 estimates with the parts of the model drawn scatter as the estimate says, to 6 in 100', () => {
    const random = seededRandom(8_120);
    const told = cutList(board({}, { piece: { repeats: 20 } }));
    const part = (spread: number) => Math.exp(spread * normal(random));
    const offs: number[] = [];
    for (let draw = 0; draw < 4000; draw++) {
      const cordMm = 1.35 * part(MODEL_SPREAD.width);
      const rowMm = ROW_PER_WIDTH * cordMm * part(MODEL_SPREAD.rowPerWidth);
      const wound = THREAD_PER_WIDTH * cordMm * part(MODEL_SPREAD.threadPerWidth);
      const step = Math.hypot(cordMm, rowMm);
      const knottingMm = hitchLength(wound) + step;
      const carrierMm = step * part(MODEL_SPREAD.carrierPerStep);
      const { needMm } = cutList(board({ cordMm, rowMm, knottingMm, carrierMm }, { piece: { repeats: 20 } }))
        .folds[0]!;
      offs.push(needMm[0] + needMm[1] - told.folds[0]!.needMm[0] - told.folds[0]!.needMm[1]);
    }
    const mean = offs.reduce((sum, off) => sum + off, 0) / offs.length;
    const found = Math.sqrt(offs.reduce((sum, off) => sum + (off - mean) ** 2, 0) / offs.length);
    expect(Math.abs(found / told.folds[0]!.doubt!.standardMm - 1)).toBeLessThan(0.06);
    expect(told.folds[0]!.doubt!.freedom).toBeNull();
  });

  it('[L16] [L19] [L20] from swatch to cord: ± holds about 95 of 100 needs, and 1 cord in 10 is short when asked so', () => {
    const random = seededRandom(4_711);
    const truth = { rowMm: 2.1, knottingMm: 19, carrierMm: 2.6 };
    const scatter = 0.8;
    let inside = 0;
    let short = 0;
    let cords = 0;
    const trials = 800;
    for (let trial = 0; trial < trials; trial++) {
      const swatches = Array.from({ length: 5 }, (_, i): Swatch => {
        const [knotting, carrier] = [8 + 4 * i, 24 - 4 * i];
        const used =
          knotting * truth.knottingMm + carrier * truth.carrierMm + scatter * Math.sqrt(32) * normal(random);
        return {
          rows: 32,
          heightMm: 32 * truth.rowMm + 0.6 * normal(random),
          cutMm: used + 80,
          leftMm: 80,
          knotting,
          carrier,
        };
      });
      const { patch } = fitted(swatches);
      const gauge = { cordMm: 1.2, cordErrorMm: 0, ...stored(patch) };
      const list = cutList(board(gauge, { piece: { repeats: 15, spareMm: 0, shortOneIn: 10 } }));
      for (const { doubt, needMm, marginMm, sensitivity: s } of list.folds) {
        const need = list.allowances.mountMm * 2 + list.allowances.tailMm * 2;
        const spread = needMm[0] + needMm[1] - need;
        const told = s.knotting * list.gauge.knottingMm.valueMm + s.carrier * list.gauge.carrierMm.valueMm;
        const cordPart = spread - told - s.row * list.gauge.rowMm.valueMm;
        const really =
          s.knotting * truth.knottingMm +
          s.carrier * truth.carrierMm +
          s.row * truth.rowMm +
          cordPart +
          scatter * Math.sqrt(s.knots) * normal(random);
        cords += 1;
        if (Math.abs(really - spread) <= doubt!.plusMinusMm) inside += 1;
        if (really > spread + marginMm[0] + marginMm[1]) short += 1;
      }
    }
    // Three standard deviations of 1,600 cords, two of which share a gauge each time, are 2.3 and 3.2 in 100.
    expect(inside / cords).toBeGreaterThan(0.95 - 0.025);
    expect(inside / cords).toBeLessThan(0.95 + 0.025);
    // The margins of two ends together: a little surer than asked, since the ends' own scatter evens out.
    expect(short / cords).toBeGreaterThan(0.05);
    expect(short / cords).toBeLessThan(0.13);
  });
});

describe('from the swatches to the board', () => {
  const swatch = (knotting: number, carrier: number, leftMm: number): Swatch => ({
    ...{ strings: 12, widthMm: 15, rows: 30, heightMm: 60, cutMm: 600, leftMm, knotting, carrier },
  });

  it('[L19] several swatches: errors from their scatter with all that belongs to them', () => {
    const { patch, knottingMm, carrierMm } = fitted([
      swatch(20, 10, 170),
      swatch(10, 20, 350),
      swatch(15, 15, 262),
      swatch(25, 5, 85),
    ]);
    expect(patch).toMatchObject({ cordFreedom: 3, rowFreedom: 3, takeUpFreedom: 2 });
    expect(patch.knottingMm).toBe(knottingMm.valueMm);
    expect(patch.carrierMm).toBe(carrierMm.valueMm);
    expect(patch.knottingErrorMm).toBeGreaterThan(0);
    expect(patch.knottingCarrierCorrelation).toBeLessThan(-0.3);
    expect(patch.knotScatterMm).toBeGreaterThan(0);
    // All widths alike: no scatter at all, so what the ruler leaves open counts.
    expect(patch.cordErrorMm).toBeCloseTo(0.5 / Math.sqrt(4 * 144), 9);
  });

  it('[L19] one swatch: the ruler is known and the hand assumed; a second take-up replaces both of the first', () => {
    const one = fitted([swatch(20, 10, 170)]);
    expect(one.patch).toMatchObject({
      cordFreedom: 0,
      takeUpFreedom: 0,
      carrierMm: null,
      carrierErrorMm: null,
    });
    const list = cutList(board(stored(one.patch)));
    expect(list.doubt.assumed).toEqual(['cord', 'row', 'takeUp']);
    expect(list.doubt.unknown).toEqual([]);
    const knotting = one.knottingMm.valueMm;
    for (const end of list.ends.filter((end) => end.knotting > 0))
      expect(end.doubt?.standardMm).toBeGreaterThan(end.knotting * HAND_SHARE * knotting * 0.9);
    expect(list.doubt.band?.freedom).toBeCloseTo(8, 9);
  });

  it('[L19] only a width: nothing else of the board is touched', () => {
    expect(Object.keys(fitted([{ strings: 12, widthMm: 15 }]).patch).sort()).toEqual([
      'cordErrorMm',
      'cordFreedom',
      'cordMm',
    ]);
  });

  it('[L3] the row height that is taken off a string is the board’s where the swatch measures none', () => {
    const string = { rows: 20, cutMm: 500, leftMm: 100, knotting: 10, carrier: 5 };
    const known = { rowMm: 3, rowErrorMm: 0.05, rowFreedom: 4 };
    const { patch } = fitted([string], known);
    const { cordMm, carrierMm } = workingGauge(known);
    expect(patch.knottingMm).toBeCloseTo((400 - 5 * 3 - 5 * carrierMm.valueMm) / 10, 9);
    // A row higher by 1 mm takes 5 mm off for the untied rows, and 5 times what it adds to the carrier's estimate, whose width follows it.
    const perRow = ((patch.rowKnottingCorrelation as number) * (patch.knottingErrorMm as number)) / 0.05;
    const slope = (workingGauge({ rowMm: 3.0001 }).carrierMm.valueMm - carrierMm.valueMm) / 0.0001;
    expect(perRow).toBeCloseTo(-(5 + 5 * slope) / 10, 4);
    expect(slope).toBeGreaterThan(3 / Math.hypot(cordMm.valueMm, 3));
  });

  it('[L19] a piece that works the string as the swatch did does not depend on the row height or the carrier’s estimate', () => {
    // The swatch's string carried as often as it knotted and hung untied as often; so does each end of the piece below.
    const rows = { cordMm: 1, cordErrorMm: 0, rowMm: 2, rowErrorMm: 0.1, rowFreedom: 9 };
    const { patch } = fitted([{ rows: 40, cutMm: 600, leftMm: 100, knotting: 10, carrier: 10 }], rows);
    const { sources } = gaugeDoubt({ ...rows, ...stored(patch) });
    for (const cause of ['row', 'carrierModel']) {
      const part = sources.filter((source) => source.cause === cause);
      expect(part.length).toBe(1);
      for (const { effect } of part) {
        const need = 10 * effect[2]! + 10 * effect[3]! + 20 * effect[1]!;
        expect(need).toBeCloseTo(0, 9);
        expect(Math.abs(effect[2]!)).toBeGreaterThan(0.1);
      }
    }
  });
});

describe('cutting longer for doubt', () => {
  const gauge = { ...EXACT, knottingErrorMm: 1, takeUpFreedom: 6 };
  const piece = { repeats: 40, spareMm: 30 };

  it('[L20] nothing is added unless asked, and then what the spare does not cover already', () => {
    const plain = cutList(board(gauge, { piece }));
    const asked = cutList(board(gauge, { piece: { ...piece, shortOneIn: 20 } }));
    for (const [i, { needMm, marginMm, cutMm }] of asked.folds.entries()) {
      expect(needMm).toEqual(plain.folds[i]!.needMm);
      expect(plain.folds[i]!.marginMm).toEqual([0, 0]);
      [asked.ends[asked.folds[i]!.left]!, asked.ends[asked.folds[i]!.right]!].forEach((end, side) => {
        // t for 19 of 20 on one side with 6 degrees of freedom is 1.943 (printed tables).
        expect(marginMm[side]).toBeCloseTo(Math.max(0, 1.943 * end.knotting * 1 - 30), 1);
      });
      expect(cutMm).toBeGreaterThanOrEqual(needMm[0] + needMm[1] + marginMm[0] + marginMm[1]);
    }
    expect(asked.doubt).toMatchObject({ shortOneIn: 20 });
    expect(asked.doubt.chanceOfShort).toBeCloseTo(0.05, 9);
    const [likeliest] = plain.ends.toSorted((a, b) => b.knotting - a.knotting);
    expect(plain.doubt.likeliestShort).toBe(likeliest!.colour);
    expect(plain.doubt.chanceOfShort).toBeGreaterThan(0.05);
    expect(asked.folds.some(({ marginMm }) => marginMm[0] > 0)).toBe(true);
    const covered = cutList(board(gauge, { piece: { ...piece, spareMm: 5000, shortOneIn: 20 } }));
    expect(covered.folds.map(({ marginMm }) => marginMm)).toEqual([
      [0, 0],
      [0, 0],
    ]);
    expect(covered.doubt.chanceOfShort).toBeLessThan(0.05);
  });

  it('[L20] what is known without error is cut no longer and never short', () => {
    const sure = { ...EXACT, knotScatterMm: 0 };
    const asked = cutList(board(sure, { piece: { ...piece, spareMm: 0, shortOneIn: 1000 } }));
    const plain = cutList(board(sure, { piece: { ...piece, spareMm: 0 } }));
    expect(asked.folds.map(({ doubt, marginMm }) => [doubt?.standardMm, marginMm])).toEqual(
      asked.folds.map(() => [0, [0, 0]]),
    );
    expect(asked.folds.map(({ cutMm }) => cutMm)).toEqual(plain.folds.map(({ cutMm }) => cutMm));
    expect([asked.doubt.chanceOfShort, plain.doubt.chanceOfShort]).toEqual([0, 0]);
    expect([asked.doubt.likeliestShort, plain.doubt.likeliestShort]).toEqual([null, null]);
  });

  it('[L20] the rarer a short cord shall be, the longer all are cut', () => {
    const total = (shortOneIn: number) =>
      cutList(board(gauge, { piece: { ...piece, shortOneIn } })).colours.reduce(
        (sum, { totalMm }) => sum + totalMm,
        0,
      );
    const totals = [3, 10, 20, 100, 1000].map(total);
    for (let i = 1; i < totals.length; i++) expect(totals[i]).toBeGreaterThan(totals[i - 1]!);
  });

  it('[L15] in a shopping list the doubt of two makers with one thread adds up whole', () => {
    const colours = ['r', 's'].map((id) => ({ id, name: id, hex: '#445566' }));
    const alike = { id: 'b', name: 'b', colours };
    const one = shoppingList(board(gauge, { piece }), [alike], planBoard).threads[0]!;
    const two = shoppingList(board(gauge, { piece }), [alike, { ...alike, id: 'c' }], planBoard).threads[0]!;
    expect(two.doubt?.standardMm).toBeCloseTo(2 * one.doubt!.standardMm, 9);
    expect(one.doubt?.standardMm).toBeGreaterThan(0);
  });
});
