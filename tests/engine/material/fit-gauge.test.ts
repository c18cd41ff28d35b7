import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { hitchLength } from '../../../engine/material/cord.ts';
import { ROW_PER_WIDTH, THREAD_PER_WIDTH } from '../../../engine/material/gauge-model.ts';
import { fitGauge, type Swatch, workingGauge } from '../../../engine/material/index.ts';

function gaugeFrom(swatches: readonly Swatch[]) {
  const result = fitGauge(swatches);
  if (!result.ok) throw new Error(`${result.error.path}: ${result.error.message}`);
  return result.value;
}

function failure(swatch: Swatch) {
  const result = fitGauge([swatch]);
  return result.ok ? null : { kind: result.error.kind, path: result.error.path };
}

/** A swatch as a ruler without any error would read it. */
function exactSwatch(
  truth: { cord: number; row: number; knotting: number; carrier: number },
  of: Tied,
): Swatch {
  const { strings, rows, knotting, carrier } = of;
  const used = knotting * truth.knotting + carrier * truth.carrier + (rows - knotting - carrier) * truth.row;
  return {
    strings,
    widthMm: strings * truth.cord,
    rows,
    heightMm: (rows + 1) * truth.row,
    cutMm: used + 100,
    leftMm: 100,
    knotting,
    carrier,
  };
}

interface Tied {
  readonly strings: number;
  readonly rows: number;
  readonly knotting: number;
  readonly carrier: number;
}

const tied = fc
  .record({
    strings: fc.integer({ min: 2, max: 24 }),
    knotting: fc.integer({ min: 0, max: 30 }),
    carrier: fc.integer({ min: 0, max: 30 }),
    untied: fc.integer({ min: 0, max: 5 }),
  })
  .filter(({ knotting, carrier }) => knotting + carrier > 0)
  .map(
    ({ strings, knotting, carrier, untied }): Tied => ({
      strings,
      knotting,
      carrier,
      rows: knotting + carrier + untied,
    }),
  );

const millimetres = fc.double({ min: 0.2, max: 20, noNaN: true });

describe('fitGauge', () => {
  it('[L3] finds the gauge that made the swatches, and says it is sure of it', () => {
    let both = 0;
    fc.assert(
      fc.property(
        fc.record({ cord: millimetres, row: millimetres, knotting: millimetres, carrier: millimetres }),
        fc.array(tied, { minLength: 3, maxLength: 6 }),
        (truth, pieces) => {
          const decided = pieces.some((one) =>
            pieces.some((two) => Math.abs(one.knotting * two.carrier - two.knotting * one.carrier) > 20),
          );
          fc.pre(decided);
          const fitted = gaugeFrom(pieces.map((piece) => exactSwatch(truth, piece)));
          expect(fitted.cordMm.valueMm).toBeCloseTo(truth.cord, 6);
          expect(fitted.rowMm.valueMm).toBeCloseTo(truth.row, 6);
          expect(fitted.knottingMm.valueMm).toBeCloseTo(truth.knotting, 6);
          expect(fitted.carrierMm.valueMm).toBeCloseTo(truth.carrier, 6);
          for (const value of [fitted.cordMm, fitted.rowMm, fitted.knottingMm, fitted.carrierMm]) {
            expect(value.estimate).toBe(false);
            expect(value.standardErrorMm).toBeLessThan(1e-6);
            expect(value.measurements).toBe(pieces.length);
          }
          both += 1;
        },
      ),
    );
    expect(both).toBeGreaterThan(50);
  });

  it('[L3] without a swatch everything is the model, each value marked as an estimate', () => {
    const fitted = gaugeFrom([]);
    const cord = fitted.cordMm.valueMm;
    expect(fitted.gauge).toEqual({});
    const step = Math.hypot(cord, ROW_PER_WIDTH * cord);
    expect(fitted.rowMm.valueMm).toBeCloseTo(ROW_PER_WIDTH * cord, 10);
    expect(fitted.knottingMm.valueMm).toBeCloseTo(hitchLength(THREAD_PER_WIDTH * cord) + step, 10);
    expect(fitted.carrierMm.valueMm).toBeCloseTo(step, 10);
    for (const value of [fitted.cordMm, fitted.rowMm, fitted.knottingMm, fitted.carrierMm])
      expect(value).toMatchObject({
        estimate: true,
        standardErrorMm: null,
        readingErrorMm: null,
        measurements: 0,
      });
  });

  it('[L3] one swatch gives cord, row and knotting; the carrier stays an estimate, and no scatter can be told', () => {
    const fitted = gaugeFrom([
      {
        strings: 12,
        widthMm: 15,
        rows: 20,
        heightMm: 31.5,
        cutMm: 400,
        leftMm: 145,
        knotting: 15,
        carrier: 5,
      },
    ]);
    expect(fitted.cordMm).toMatchObject({ valueMm: 1.25, estimate: false, standardErrorMm: null });
    expect(fitted.rowMm).toMatchObject({ valueMm: 1.5, estimate: false });
    expect(fitted.carrierMm.estimate).toBe(true);
    expect(fitted.carrierMm.valueMm).toBeCloseTo(Math.hypot(1.25, 1.5), 10);
    expect(fitted.knottingMm.valueMm).toBeCloseTo((255 - 5 * Math.hypot(1.25, 1.5)) / 15, 10);
    expect(fitted.cordMm.readingErrorMm).toBeCloseTo(0.5 / 12, 10);
    expect(fitted.gauge).toEqual({
      cordMm: fitted.cordMm.valueMm,
      rowMm: fitted.rowMm.valueMm,
      knottingMm: fitted.knottingMm.valueMm,
    });
  });

  it('[L3] a string that was only ever the carrier gives the carrier, and leaves the knotting string estimated', () => {
    const fitted = gaugeFrom([{ rows: 10, heightMm: 15, cutMm: 120, leftMm: 102, knotting: 0, carrier: 10 }]);
    expect(fitted.carrierMm).toMatchObject({ estimate: false });
    expect(fitted.carrierMm.valueMm).toBeCloseTo(1.8, 10);
    expect(fitted.knottingMm.estimate).toBe(true);
  });

  it('[L3] strings all tied alike do not tell knotting from carrier: the carrier stays an estimate', () => {
    const one = { rows: 20, cutMm: 300, leftMm: 100, knotting: 10, carrier: 10 };
    const fitted = gaugeFrom([
      { ...one, heightMm: 31.5, strings: 10, widthMm: 20 },
      { ...one, leftMm: 104 },
    ]);
    expect(fitted.carrierMm.estimate).toBe(true);
    expect(fitted.knottingMm.valueMm).toBeCloseTo((198 - 10 * Math.hypot(2, 1.5)) / 10, 10);
    expect(fitted.knottingMm.standardErrorMm).toBeGreaterThan(0);
  });

  it('[L3] standard errors cover the truth about as often as they promise', () => {
    // 400 seeded pairs of swatches with an error of 0.4 mm (sum of twelve uniforms less six is nearly normal, variance 1).
    let seed = 20_251;
    const uniform = () => {
      seed = (Math.imul(seed, 1_664_525) + 1_013_904_223) >>> 0;
      return seed / 2 ** 32;
    };
    const normal = () => Array.from({ length: 12 }, uniform).reduce((sum, value) => sum + value, -6);
    let within = 0;
    const trials = 400;
    for (let trial = 0; trial < trials; trial++) {
      const swatches = Array.from({ length: 12 }, (_, i) => ({
        strings: 8 + i,
        widthMm: (8 + i) * 1.3 + 0.4 * normal(),
      }));
      const { valueMm, standardErrorMm } = gaugeFrom(swatches).cordMm;
      if (Math.abs(valueMm - 1.3) <= (standardErrorMm ?? 0)) within += 1;
    }
    // Student's t with 11 degrees of freedom lies within one standard error in 66 of 100; three deviations of 400 trials are 7.
    expect(within / trials).toBeGreaterThan(0.59);
    expect(within / trials).toBeLessThan(0.73);
  });

  it('[L4] bad swatches are refused with the field named', () => {
    const string = { rows: 20, cutMm: 300, leftMm: 100, knotting: 10, carrier: 10 };
    expect(failure({ ...string, leftMm: 301 })).toEqual({
      kind: 'more-left-than-cut',
      path: 'swatches[0].leftMm',
    });
    expect(failure({ strings: 0, widthMm: 10 })).toEqual({
      kind: 'not-positive',
      path: 'swatches[0].strings',
    });
    expect(failure({ strings: 8, widthMm: -1 })).toEqual({
      kind: 'not-positive',
      path: 'swatches[0].widthMm',
    });
    expect(failure({ strings: 8, widthMm: Number.NaN })).toEqual({
      kind: 'not-positive',
      path: 'swatches[0].widthMm',
    });
    expect(failure({ strings: 8.5, widthMm: 9 })).toEqual({ kind: 'not-whole', path: 'swatches[0].strings' });
    expect(failure({ rows: 5, heightMm: 0 })).toEqual({ kind: 'not-positive', path: 'swatches[0].heightMm' });
    expect(failure({ ...string, carrier: -1 })).toEqual({ kind: 'negative', path: 'swatches[0].carrier' });
    expect(failure({ ...string, knotting: 11 })).toEqual({
      kind: 'more-knots-than-rows',
      path: 'swatches[0].knotting',
    });
    expect(failure({ ...string, knotting: 0, carrier: 0 })).toEqual({
      kind: 'no-knots',
      path: 'swatches[0].knotting',
    });
    expect(failure({ cutMm: 100, knotting: 3, carrier: 3 })).toEqual({
      kind: 'incomplete',
      path: 'swatches[0].leftMm',
    });
    expect(failure({ strings: 8 })).toEqual({ kind: 'incomplete', path: 'swatches[0].widthMm' });
    expect(failure({ heightMm: 8 })).toEqual({ kind: 'incomplete', path: 'swatches[0].rows' });
    expect(failure({ ...string, leftMm: 300 })).toEqual({ kind: 'contradictory', path: 'swatches' });
  });

  it('[L4] swatches that together make the carrier negative are refused as contradictory', () => {
    const result = fitGauge([
      { cutMm: 200, leftMm: 20, knotting: 10, carrier: 0 },
      { cutMm: 200, leftMm: 50, knotting: 10, carrier: 10 },
    ]);
    expect(result.ok ? null : result.error.kind).toBe('contradictory');
    expect(result.ok ? '' : result.error.message).toContain('carrierMm -3.000');
  });
});

describe('workingGauge', () => {
  it('[L2] keeps what was measured and estimates the rest', () => {
    const gauge = workingGauge({ cordMm: 1.6, rowMm: 2, carrierMm: 2.5 });
    expect(gauge).toMatchObject({
      cordMm: { valueMm: 1.6, estimate: false },
      rowMm: { valueMm: 2, estimate: false },
      knottingMm: { estimate: true },
      carrierMm: { valueMm: 2.5, estimate: false },
    });
    const knotting = hitchLength(THREAD_PER_WIDTH * 1.6) + Math.hypot(1.6, 2);
    expect(gauge.knottingMm.valueMm).toBeCloseTo(knotting, 10);
  });

  it('[L2] refuses a negative gauge by name', () => {
    expect(() => workingGauge({ cordMm: -1 })).toThrow('gauge.cordMm must be a number above 0, not -1');
    expect(() => workingGauge({ knottingMm: 0 })).toThrow('gauge.knottingMm');
  });
});
