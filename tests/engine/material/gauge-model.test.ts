/** One number for one thing: the joint model, what it says beside measured values, and that measuring never harms. */
import { describe, expect, it } from 'vitest';
import type { Board, Gauge, Pattern } from '../../../engine/index.ts';
import {
  GAUGE_FIELDS,
  MODEL_SPREAD,
  ROW_PER_WIDTH,
  THREAD_PER_WIDTH,
} from '../../../engine/material/gauge-model.ts';
import {
  cutList,
  fitBoard,
  fitGauge,
  type GaugeField,
  gaugeDoubt,
  workingGauge,
} from '../../../engine/material/index.ts';
import { doubtOf, type Sensitivity } from '../../../engine/material/need-doubt.ts';
import { type SeededRandom, seededRandom } from '../../support/seeded-random.ts';

const ERROR_OF = {
  cordMm: 'cordErrorMm',
  rowMm: 'rowErrorMm',
  knottingMm: 'knottingErrorMm',
  carrierMm: 'carrierErrorMm',
} as const;

/** All 16 ways to have measured some of the four values and not the others. */
const SUBSETS: readonly (readonly GaugeField[])[] = Array.from({ length: 16 }, (_, bits) =>
  GAUGE_FIELDS.filter((_, i) => ((bits >> i) & 1) === 1),
);

const normal = (random: SeededRandom): number =>
  Math.sqrt(-2 * Math.log(1 - random.next())) * Math.cos(2 * Math.PI * random.next());

/** The four values of one hand and thread, drawn from the model. */
function drawn(random: SeededRandom): Record<GaugeField, number> {
  const part = (spread: number) => Math.exp(spread * normal(random));
  const cordMm = 1.35 * part(MODEL_SPREAD.width);
  const rowMm = ROW_PER_WIDTH * cordMm * part(MODEL_SPREAD.rowPerWidth);
  const step = Math.hypot(cordMm, rowMm);
  const wound = THREAD_PER_WIDTH * cordMm * part(MODEL_SPREAD.threadPerWidth);
  return {
    cordMm,
    rowMm,
    knottingMm: 2 * Math.hypot(2 * Math.PI, 1) * wound + step,
    carrierMm: step * part(MODEL_SPREAD.carrierPerStep),
  };
}

function measured(values: Record<GaugeField, number>, fields: readonly GaugeField[], share: number): Gauge {
  return Object.fromEntries(
    fields.flatMap((field) => [
      [field, values[field]],
      [ERROR_OF[field], share * values[field]],
    ]),
  ) as Gauge;
}

function dense(strings: number, rows: number): Pattern {
  const stride = strings >> 1;
  const knots = new Uint8Array(rows * stride);
  for (let row = 0; row < rows; row++)
    for (let k = 0; k < (strings - (row % 2)) >> 1; k++) knots[row * stride + k] = 1 + ((row >> 1) % 2);
  return { colours: Array.from({ length: strings }, () => 'a'), start: 0, rows, knots };
}

function boardOf(pattern: Pattern, gauge: Gauge, piece: Board['piece'] = {}): Board {
  const palette = [{ id: 'a', name: 'a', hex: '#808080' }];
  return { title: '', palette, pattern, piece, gauge, colourways: [] };
}

const LENGTHS: readonly Sensitivity[] = [
  { cord: 1, row: 0, knotting: 0, carrier: 0, knots: 0 },
  { cord: 0, row: 58, knotting: 0, carrier: 0, knots: 0 },
  { cord: 0, row: 0, knotting: 1, carrier: 0, knots: 0 },
  { cord: 0, row: 0, knotting: 0, carrier: 1, knots: 0 },
  { cord: 3, row: 6, knotting: 28, carrier: 24, knots: 0 },
  { cord: 3, row: -240, knotting: 28, carrier: 24, knots: 0 },
  { cord: 14, row: 0, knotting: 0, carrier: 40, knots: 0 },
];

describe('the joint model', () => {
  it('[L40] floss that nobody measured: w 1.35, h 1.15 w, a step √(w² + h²), knotting 12.7245 d + s, carrier s', () => {
    const { cordMm, rowMm, knottingMm, carrierMm } = workingGauge({});
    const step = Math.hypot(1.35, 1.5525);
    expect(cordMm.valueMm).toBeCloseTo(1.35, 12);
    expect(rowMm.valueMm).toBeCloseTo(1.5525, 12);
    expect(carrierMm.valueMm).toBeCloseTo(step, 12);
    expect(knottingMm.valueMm).toBeCloseTo(12.7245 * 0.58 * 1.35 + step, 4);
  });

  it('[L40] a row height measured alone says little of the width: 14 ends still fit their bar of 3/4 inch', () => {
    const board = (gauge: Gauge) => boardOf(dense(14, 4), gauge, { barMm: 19.05 });
    expect(fitBoard(board({})).verdict).toBe('fits');
    const fit = fitBoard(board({ rowMm: 1.35 }));
    expect(fit).toMatchObject({ verdict: 'fits', isCordEstimated: true });
    // Of what the row is off, the width has its share of the variance of ln h: 0.09² of 0.09² + 0.07².
    const off = Math.log(1.35 / 1.5525) * (0.09 ** 2 / (0.09 ** 2 + 0.07 ** 2));
    expect(fit.cordMm).toBeCloseTo(1.35 * Math.exp(off), 10);
  });

  it('[L40] width and row measured alike keep an end within the range of the handbooks', () => {
    const list = cutList(boardOf(dense(14, 60), { cordMm: 1.35, rowMm: 1.35 }, { tailMm: 0, spareMm: 0 }));
    const mean = list.ends.reduce((sum, { needMm }) => sum + needMm - list.allowances.mountMm, 0) / 14;
    expect(mean / list.size.bandMm).toBeGreaterThan(4);
    expect(mean / list.size.bandMm).toBeLessThan(5);
  });

  it('[L40] what is estimated is the mean of thousands of drawn gauges that have about the measured values', () => {
    // Beside the formula: draw from the model, weigh each draw by how near it comes to what was measured, and average the logarithms.
    const random = seededRandom(40_016);
    const draws = Array.from({ length: 60_000 }, () => drawn(random));
    const seen: Record<GaugeField, number> = { cordMm: 1.45, rowMm: 1.6, knottingMm: 13.4, carrierMm: 2.2 };
    for (const fields of SUBSETS.filter(({ length }) => length < 4)) {
      const weights = draws.map((draw) =>
        fields.reduce(
          (weight, field) => weight * Math.exp(-0.5 * (Math.log(draw[field] / seen[field]) / 0.015) ** 2),
          1,
        ),
      );
      const total = weights.reduce((sum, weight) => sum + weight, 0);
      const used = total ** 2 / weights.reduce((sum, weight) => sum + weight ** 2, 0);
      const gauge = workingGauge(Object.fromEntries(fields.map((field) => [field, seen[field]])));
      for (const field of GAUGE_FIELDS.filter((one) => !fields.includes(one))) {
        const mean = draws.reduce((sum, draw, i) => sum + weights[i]! * Math.log(draw[field]), 0) / total;
        expect(
          Math.abs(mean - Math.log(gauge[field].valueMm)),
          `${field} beside ${fields.join(' ')}`,
        ).toBeLessThan(0.006 + 0.5 / Math.sqrt(used));
      }
    }
  });

  it('[L41] no measured value changes another: all 16 subsets, with values at random and such as contradict each other', () => {
    const random = seededRandom(41);
    for (let round = 0; round < 300; round++)
      for (const fields of SUBSETS) {
        const gauge = Object.fromEntries(
          fields.map((field) => [field, Math.exp(6 * random.next() - 3 + (field === 'knottingMm' ? 2 : 0))]),
        ) as Gauge;
        const working = workingGauge(gauge);
        for (const field of GAUGE_FIELDS) {
          if (fields.includes(field))
            expect(working[field]).toEqual({ valueMm: gauge[field], estimate: false });
          else expect(working[field].estimate).toBe(true);
          expect(working[field].valueMm).toBeGreaterThan(0);
          expect(Number.isFinite(working[field].valueMm)).toBe(true);
        }
        for (const { effect } of gaugeDoubt(gauge).sources)
          for (const part of effect) expect(Number.isFinite(part)).toBe(true);
      }
  });

  it('[L41] whatever else is measured, the ratio of row and width is 1.15 until both are', () => {
    for (const cordMm of [0.7, 1.35, 3]) {
      const { rowMm } = workingGauge({ cordMm });
      expect(rowMm.valueMm / cordMm).toBeCloseTo(1.15, 12);
    }
  });

  it('[L42] measuring anything never widens any ±: all 16 subsets, surely and poorly measured', () => {
    const centre = Object.fromEntries(
      Object.entries(workingGauge({})).map(([field, { valueMm }]) => [field, valueMm]),
    ) as Record<GaugeField, number>;
    const freedoms = { cordFreedom: 1, rowFreedom: 2, takeUpFreedom: 1 };
    for (const share of [0, 0.01, 0.05, 0.1, 0.4])
      for (const rest of [{}, freedoms, { cordFreedom: 0, rowFreedom: 0, takeUpFreedom: 0 }])
        for (const fields of SUBSETS)
          for (const added of GAUGE_FIELDS.filter((field) => !fields.includes(field))) {
            const before = gaugeDoubt({ ...measured(centre, fields, share), ...rest });
            const after = gaugeDoubt({ ...measured(centre, [...fields, added], share), ...rest });
            for (const length of LENGTHS)
              expect(doubtOf(after, length)!.plusMinusMm).toBeLessThanOrEqual(
                doubtOf(before, length)!.plusMinusMm * (1 + 1e-9),
              );
          }
  });

  it('[L42] it holds for hands and threads drawn from the model too, where estimates move with what is measured', () => {
    const random = seededRandom(42);
    let narrower = 0;
    for (let round = 0; round < 200; round++) {
      const values = drawn(random);
      for (const fields of SUBSETS) {
        const list = (some: readonly GaugeField[]) =>
          cutList(boardOf(dense(6, 8), measured(values, some, 0.005))).folds.map(
            ({ doubt, needMm: [left, right] }) => doubt!.plusMinusMm / (left + right),
          );
        const before = list(fields);
        for (const added of GAUGE_FIELDS.filter((field) => !fields.includes(field)))
          list([...fields, added]).forEach((share, i) => {
            // Part of the length: what turns out larger than expected may be unsure by more millimetres.
            expect(share).toBeLessThan(before[i]! * 1.06);
            if (share < before[i]!) narrower += 1;
          });
      }
    }
    expect(narrower).toBeGreaterThan(10_000);
  });

  it('[L42] from real swatches: a width measured once or twice never makes a length less sure', () => {
    const widths = [18.4, 19.4, 18.8].map((widthMm) => ({ strings: 14, widthMm }));
    const bare = cutList(boardOf(dense(14, 57), {}));
    for (const count of [1, 2, 3]) {
      const fit = fitGauge(widths.slice(0, count));
      if (!fit.ok) throw new Error(fit.error.message);
      const gauge = Object.fromEntries(Object.entries(fit.value.patch).filter(([, value]) => value !== null));
      const list = cutList(boardOf(dense(14, 57), gauge as Gauge));
      list.folds.forEach(({ doubt }, i) => {
        expect(doubt!.plusMinusMm).toBeLessThan(bare.folds[i]!.doubt!.plusMinusMm * 1.01);
      });
    }
  });
});

describe('which thread it is', () => {
  it('[L43] a firm cord sets the centre of the width by its thickness, another thread by a turn of it, floss by neither', () => {
    const width = (gauge: Gauge) => workingGauge(gauge).cordMm;
    expect(width({ thread: 'cord', threadMm: 2 }).valueMm).toBeCloseTo(2 / 0.58, 12);
    expect(width({ thread: 'own', threadMm: 1.16 }).valueMm).toBeCloseTo(2, 12);
    expect(width({ thread: 'floss', threadMm: 2 }).valueMm).toBeCloseTo(1.35, 12);
    expect(width({ thread: 'own' }).valueMm).toBeCloseTo(1.35, 12);
    expect(width({ thread: 'cord', threadMm: 2, cordMm: 3 })).toEqual({ valueMm: 3, estimate: false });
    expect(() => width({ thread: 'cord', threadMm: 0 })).toThrow('gauge.threadMm');
  });

  it('[L43] of a thread of which nothing is said the width is much less sure, and as sure as any once it is measured', () => {
    const share = (gauge: Gauge) => {
      const { plusMinusMm } = doubtOf(gaugeDoubt(gauge), LENGTHS[0]!)!;
      return plusMinusMm / workingGauge(gauge).cordMm.valueMm;
    };
    expect(share({})).toBeCloseTo(1.96 * 0.09, 3);
    expect(share({ thread: 'cord', threadMm: 3 })).toBeCloseTo(1.96 * 0.09, 3);
    expect(share({ thread: 'own' })).toBeCloseTo(1.96 * 0.25, 3);
    const sure = { cordMm: 2, cordErrorMm: 0.02 };
    expect(share({ thread: 'own', ...sure })).toBeCloseTo(share(sure), 12);
  });
});
