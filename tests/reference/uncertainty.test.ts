/** Uncertainty of lengths against the worked examples of the guide that gives the rules. */
import { describe, expect, it } from 'vitest';
import { cutList, gaugeDoubt, workingGauge } from '../../engine/material/index.ts';
import { fitLeastSquares } from '../../engine/material/least-squares.ts';
import { studentQuantile, studentTail } from '../../engine/material/student.ts';
import { effectiveFreedom, propagate, sourcesOf } from '../../engine/material/uncertainty.ts';
import { patternFromText } from '../../engine/pattern/index.ts';

function sourcesFrom(covariance: readonly (readonly number[])[]) {
  const sources = sourcesOf(covariance, 'all', null);
  if (sources === null) throw new Error('no such covariance');
  return sources;
}

describe('propagation', () => {
  it('[L15] GUM H.2: resistance, reactance and impedance from correlated readings', () => {
    // JCGM 100:2008, H.2, tables H.2 to H.4. Inputs, correlations and rounded results as quoted in the documentation of a library of a
    // national metrology institute; the third digit of the uncertainties is from memory of the same tables.
    const [V, I, phi] = [4.999, 19.661e-3, 1.04446];
    const u = [3.2e-3, 9.5e-6, 7.5e-4];
    const r = [
      [1, -0.36, 0.86],
      [-0.36, 1, -0.65],
      [0.86, -0.65, 1],
    ];
    const sources = sourcesFrom(r.map((row, i) => row.map((value, j) => value * u[i]! * u[j]!)));
    const [cos, sin] = [Math.cos(phi), Math.sin(phi)];
    const R = [cos / I, (-V * cos) / I ** 2, (-V * sin) / I];
    const X = [sin / I, (-V * sin) / I ** 2, (V * cos) / I];
    const Z = [1 / I, -V / I ** 2, 0];
    expect((V * cos) / I).toBeCloseTo(127.732, 3);
    expect(propagate(R, sources).standardMm).toBeCloseTo(0.07, 2);
    expect(propagate(X, sources).standardMm).toBeCloseTo(0.3, 1);
    expect(propagate(Z, sources).standardMm).toBeCloseTo(0.24, 2);
    expect(Math.abs(propagate(R, sources).standardMm - 0.071)).toBeLessThan(0.002);
    expect(Math.abs(propagate(X, sources).standardMm - 0.295)).toBeLessThan(0.002);
    expect(Math.abs(propagate(Z, sources).standardMm - 0.236)).toBeLessThan(0.002);
    // Correlation of two results from the variance of their sum: -0.59, -0.49 and +0.99.
    const together = (a: readonly number[], b: readonly number[]): number => {
      const [one, two] = [propagate(a, sources).standardMm, propagate(b, sources).standardMm];
      const sum = propagate(
        a.map((value, i) => value + b[i]!),
        sources,
      ).standardMm;
      return (sum ** 2 - one ** 2 - two ** 2) / (2 * one * two);
    };
    expect(together(R, X)).toBeCloseTo(-0.59, 1);
    expect(together(R, Z)).toBeCloseTo(-0.49, 1);
    expect(together(X, Z)).toBeCloseTo(0.99, 1);
  });

  it('[L15] [L3] GUM H.3: a calibration line by least squares, and what it gives at 30 °C', () => {
    // JCGM 100:2008, H.3, table H.6 and H.3.3 to H.3.4, as quoted there too: -0.1712(29), 0.00218(67), r = -0.93, b(30 °C) = -0.1494(41).
    const t = [21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.01, 26.511];
    const b = [-0.171, -0.169, -0.166, -0.159, -0.164, -0.165, -0.156, -0.157, -0.159, -0.161, -0.16];
    const fit = fitLeastSquares(
      t.map((reading) => [1, reading - 20]),
      b,
    );
    if (fit === null) throw new Error('not decided');
    const variance = fit.residualSumOfSquares / fit.degreesOfFreedom;
    const covariance = fit.covarianceFactors.map((row) => row.map((factor) => factor * variance));
    const sources = sourcesOf(covariance, 'line', fit.degreesOfFreedom);
    if (sources === null) throw new Error('no such covariance');
    expect(fit.coefficients[0]).toBeCloseTo(-0.1712, 4);
    expect(fit.coefficients[1]).toBeCloseTo(0.00218, 5);
    expect(fit.residualSumOfSquares).toBeCloseTo(0.000110096583109, 12);
    expect(propagate([1, 0], sources).standardMm).toBeCloseTo(0.0029, 4);
    expect(propagate([0, 1], sources).standardMm).toBeCloseTo(0.00067, 5);
    expect(covariance[0]![1]! / Math.sqrt(covariance[0]![0]! * covariance[1]![1]!)).toBeCloseTo(-0.93, 2);
    const at30 = propagate([1, 10], sources);
    expect(fit.coefficients[0]! + 10 * fit.coefficients[1]!).toBeCloseTo(-0.1494, 4);
    expect(at30.standardMm).toBeCloseTo(0.0041, 4);
    expect(at30.freedom).toBeCloseTo(9, 9);
    // Without the covariance it would be more than twice as much.
    expect(Math.hypot(0.0029, 10 * 0.00067)).toBeGreaterThan(0.007);
  });

  it('[L16] GUM H.1: 32 nm for the end gauge, with 16 degrees of freedom; ± 93 nm covers 99 of 100', () => {
    // JCGM 100:2008, H.1: the parts and their degrees of freedom (table H.1) as quoted there too; 32 nm, 16 and 93 nm from memory of H.1.6.
    const parts = [
      { standard: 25, freedom: 18 },
      { standard: Math.hypot(5.8, 3.9, 6.7), freedom: 25.6 },
      { standard: 2.9, freedom: 50 },
      { standard: 16.6, freedom: 2 },
    ];
    const whole = Math.hypot(...parts.map(({ standard }) => standard));
    expect(Math.round(whole)).toBe(32);
    const freedom = effectiveFreedom(parts);
    expect(Math.floor(freedom ?? 0)).toBe(16);
    expect(Math.round(32 * studentQuantile(0.995, 16))).toBe(93);
    // 5.8, 3.9 and 6.7 nm with 24, 5 and 8 degrees of freedom make the 25.6 of the second part.
    const second = effectiveFreedom([
      { standard: 5.8, freedom: 24 },
      { standard: 3.9, freedom: 5 },
      { standard: 6.7, freedom: 8 },
    ]);
    expect(Math.abs((second ?? 0) - 25.6)).toBeLessThan(0.3);
    expect(effectiveFreedom([{ standard: 3, freedom: null }])).toBeNull();
  });

  it('[L15] what two causes of one fit share is not counted twice, and impossible covariances are refused', () => {
    expect(
      sourcesOf(
        [
          [1, 2],
          [2, 1],
        ],
        'x',
        3,
      ),
    ).toBeNull();
    const exact = sourcesOf(
      [
        [4, -2],
        [-2, 1],
      ],
      'x',
      3,
    );
    expect(propagate([1, 2], exact ?? []).standardMm).toBeCloseTo(0, 12);
    expect(propagate([1, -2], exact ?? []).standardMm).toBeCloseTo(4, 12);
  });
});

describe('coverage', () => {
  // NIST Technical Note 1297, appendix B, table B.1 (the same values as GUM table G.2): half width for 68.27, 90, 95, 95.45, 99, 99.73 %.
  // biome-ignore format: a data table
  const TABLE: readonly (readonly [freedom: number | null, ...values: readonly number[]])[] = [
    [1, 1.84, 6.31, 12.71, 13.97, 63.66, 235.8], [2, 1.32, 2.92, 4.3, 4.53, 9.92, 19.21], [3, 1.2, 2.35, 3.18, 3.31, 5.84, 9.22],
    [4, 1.14, 2.13, 2.78, 2.87, 4.6, 6.62], [5, 1.11, 2.02, 2.57, 2.65, 4.03, 5.51], [8, 1.07, 1.86, 2.31, 2.37, 3.36, 4.28],
    [10, 1.05, 1.81, 2.23, 2.28, 3.17, 3.96], [16, 1.03, 1.75, 2.12, 2.17, 2.92, 3.54], [20, 1.03, 1.72, 2.09, 2.13, 2.85, 3.42],
    [50, 1.01, 1.68, 2.01, 2.05, 2.68, 3.16], [100, 1.005, 1.66, 1.984, 2.025, 2.626, 3.077], [null, 1, 1.645, 1.96, 2, 2.576, 3],
  ];

  it('[L16] the factors are those of the printed table', () => {
    const shares = [0.6827, 0.9, 0.95, 0.9545, 0.99, 0.9973];
    for (const [freedom, ...values] of TABLE)
      for (const [i, value] of values.entries()) {
        const found = studentQuantile((1 + shares[i]!) / 2, freedom);
        expect(Math.abs(found - value), `${freedom} ${shares[i]}`).toBeLessThan(
          Math.max(0.0051, value * 0.0005),
        );
      }
  });

  it('[L16] tail and quantile undo each other, and the two sides are alike', () => {
    for (const freedom of [1, 1.01, 1.7, 2, 3, 4, 8.45, 23.5, 100, 400, 5000, 123_456, null])
      for (const p of [0.5001, 0.6, 2 / 3, 0.9, 0.95, 0.975, 0.99, 0.999, 0.9999]) {
        const t = studentQuantile(p, freedom);
        expect(studentTail(t, freedom)).toBeCloseTo(1 - p, 9);
        expect(studentQuantile(1 - p, freedom)).toBeCloseTo(-t, 9);
      }
    expect(studentTail(0, 3)).toBeCloseTo(0.5, 12);
    // One degree of freedom is the Cauchy distribution: P(T > 1) = 1/4.
    expect(studentTail(1, 1)).toBeCloseTo(0.25, 12);
    expect(() => studentQuantile(1, 3)).toThrow('between 0 and 1');
    expect(() => studentTail(1, 0)).toThrow('above 0');
  });
});

describe('without a swatch', () => {
  it('[L18] the published rules of 3.5 to 5 times the finished length lie within ± of the estimate, and 10 to 12 m of the belt too', () => {
    // Des Pawson, "Knot Craft", 2nd ed. 2009, p. 68: 4 to 5 times, a belt of 1.2 m from lines of 10 to 12 m doubled; 3.5 to 4 a makers' rule.
    const { sources } = gaugeDoubt({});
    const { cordMm, rowMm, knottingMm, carrierMm } = workingGauge({});
    // 14 strings, all pairs tied: 6.5 knots a row, so that of 14 strings 6.5 knot, 6.5 carry and 1 hangs untied. What a row takes over its
    // height, whose own error counts against it.
    const [h, K, C] = [rowMm.valueMm, knottingMm.valueMm, carrierMm.valueMm];
    const times = (6.5 * K + 6.5 * C + h) / 14 / h;
    const doubt = propagate([0, (1 / 14 - times) / h, 6.5 / 14 / h, 6.5 / 14 / h], sources);
    expect(times).toBeGreaterThan(4.1);
    expect(times).toBeLessThan(4.4);
    expect(times - doubt.plusMinusMm).toBeLessThan(3.5);
    expect(times + doubt.plusMinusMm).toBeGreaterThan(5);
    expect(doubt.plusMinusMm / times).toBeLessThan(0.21);
    // The width cancels: to know it makes the times no surer.
    const known = propagate(
      [0, (1 / 14 - times) / h, 6.5 / 14 / h, 6.5 / 14 / h],
      gaugeDoubt({ cordMm: cordMm.valueMm, cordErrorMm: 0 }).sources,
    );
    expect(known.plusMinusMm).toBeCloseTo(doubt.plusMinusMm, 9);
    const pattern = patternFromText(
      Array(16).fill('a'),
      ['f', 'f', 'b', 'b'].map((knot, row) =>
        Array(8 - (row % 2))
          .fill(knot)
          .join(' '),
      ),
    );
    const palette = [{ id: 'a', name: '', hex: '#808080' }];
    const belt = { title: '', palette, pattern, colourways: [], gauge: {}, piece: { lengthMm: 1200 } };
    const { folds, doubt: about } = cutList(belt);
    const mean = (of: (fold: (typeof folds)[number]) => number) =>
      folds.reduce((sum, fold) => sum + of(fold), 0) / folds.length;
    const off = mean((fold) => fold.doubt?.plusMinusMm ?? Number.NaN);
    expect(mean(({ cutMm }) => cutMm) - off).toBeLessThan(10_000);
    expect(mean(({ cutMm }) => cutMm) + off).toBeGreaterThan(12_000);
    expect(about.unknown).toEqual([]);
  });
});
