/** Lengths and least squares against handbooks and certified data. */
import { describe, expect, it } from 'vitest';
import type { Board, Pattern } from '../../engine/index.ts';
import { hitchLength } from '../../engine/material/cord.ts';
import { MODEL_SPREAD, ROW_PER_WIDTH, THREAD_PER_WIDTH } from '../../engine/material/gauge-model.ts';
import { cutList, fitBar, toMm } from '../../engine/material/index.ts';
import { fitLeastSquares } from '../../engine/material/least-squares.ts';
import { takeUp } from '../../engine/material/take-up.ts';
import { doubtSkeinLength } from '../../engine/material/units.ts';
import { seededRandom } from '../support/seeded-random.ts';

/** Observations of NIST StRD Norris: y, x. */
// biome-ignore format: a data table
const NORRIS: readonly (readonly [number, number])[] = [
  [0.1, 0.2], [338.8, 337.4], [118.1, 118.2], [888.0, 884.6], [9.2, 10.1], [228.1, 226.5], [668.5, 666.3], [998.5, 996.3], [449.1, 448.6],
  [778.9, 777.0], [559.2, 558.2], [0.3, 0.4], [0.1, 0.6], [778.1, 775.5], [668.8, 666.9], [339.3, 338.0], [448.9, 447.5], [10.8, 11.6],
  [557.7, 556.0], [228.3, 228.1], [998.0, 995.8], [888.8, 887.6], [119.6, 120.2], [0.3, 0.3], [0.6, 0.3], [557.6, 556.8], [339.3, 339.1],
  [888.0, 887.2], [998.5, 999.0], [778.9, 779.0], [10.2, 11.1], [117.6, 118.3], [228.9, 229.2], [668.4, 669.1], [449.2, 448.9], [0.2, 0.5],
];

function board(pattern: Pattern, rest: Partial<Board> = {}): Board {
  const ids = [...new Set(pattern.colours)];
  const palette = ids.map((id) => ({ id, name: id, hex: '#808080' }));
  return { title: 'test', palette, pattern, piece: {}, gauge: {}, colourways: [], ...rest };
}

/** Rows of forward knots and rows of backward knots by turns, every pair tied: each string knots as often as it carries. */
function dense(strings: number, rows: number): Pattern {
  const stride = strings >> 1;
  const knots = new Uint8Array(rows * stride);
  for (let row = 0; row < rows; row++)
    for (let k = 0; k < (strings - (row % 2)) >> 1; k++) knots[row * stride + k] = 1 + ((row >> 1) % 2);
  return { colours: Array.from({ length: strings }, () => 'a'), start: 0, rows, knots };
}

describe('who knots over whom', () => {
  it('[L7] Dillmont fig. 560-561: four blue cords are covered by 4, 5, 6 and 7 strings, 22 knots', () => {
    // T. de Dillmont, "Encyclopedia of Needlework", Macramé: blue 4 is covered by the four browns, blue 3 by the browns and
    // blue 4, and so on. Each cord moves one place to the right with every knot tied over it from the right.
    const rows = 10;
    const knots = new Uint8Array(rows * 4);
    for (let cord = 0; cord < 4; cord++)
      for (let place = 3 - cord, row = cord; place <= 6; place++, row++)
        knots[row * 4 + ((place - ((1 + row) % 2)) >> 1)] = 2;
    const colours = ['blue', 'blue', 'blue', 'blue', 'dark', 'dark', 'dark', 'light'];
    const use = takeUp({ colours, start: 1, rows, knots }, { leadInRows: 0, repeats: 1, end: 'straight' });
    expect(use.knots).toBe(4 + 5 + 6 + 7);
    expect([...use.carrier]).toEqual([7, 6, 5, 4, 0, 0, 0, 0]);
    expect([...use.knotting]).toEqual([0, 1, 2, 3, 4, 4, 4, 4]);
    // Order after: dark, dark, dark, light, blue 4, blue 3, blue 2, blue 1.
    expect([...use.finalPlace]).toEqual([7, 6, 5, 4, 0, 1, 2, 3]);
  });
});

describe('lengths', () => {
  /** What the mean end takes over the band: straight end, tails, spare and mounting left out. */
  const meanEnd = (of: Board): number => {
    const list = cutList({ ...of, piece: { ...of.piece, tailMm: 0, spareMm: 0 } });
    const all = list.ends.reduce((sum, { needMm }) => sum + needMm - list.allowances.mountMm, 0);
    return all / list.ends.length / list.size.bandMm;
  };

  it('[L2] [L44] an end that knots as often as it carries takes 4 to 5 times the finished length (Pawson, for square knots)', () => {
    // Des Pawson, "Knot Craft", 2nd ed. 2009, p. 68: 4 to 5 times, about 9 times when doubled. For another knot, so a sane range.
    for (const strings of [8, 14, 24, 60]) {
      const mean = meanEnd(board(dense(strings, 400)));
      expect(mean).toBeGreaterThan(4);
      expect(mean).toBeLessThan(5);
    }
  });

  it('[L44] stripe and arrowhead of 14 strings at 90 mm hold all published ranges at once', () => {
    const rows = 57;
    const arrowhead: Pattern = {
      ...dense(14, rows),
      knots: Uint8Array.from({ length: rows * 7 }, (_, i) => {
        const [row, k] = [Math.floor(i / 7), i % 7];
        const place = 2 * k + (row % 2);
        return place + 1 >= 14 ? 0 : place < 6 ? 1 : place > 6 ? 2 : 1;
      }),
    };
    const stripe: Pattern = {
      ...dense(14, rows),
      knots: Uint8Array.from({ length: rows * 7 }, (_, i) =>
        i % 7 === 6 && Math.floor(i / 7) % 2 === 1 ? 0 : 1,
      ),
    };
    for (const pattern of [stripe, arrowhead]) {
      const list = cutList(board(pattern, { piece: { tailMm: 0, spareMm: 0 } }));
      expect(Math.abs(list.size.bandMm - 90)).toBeLessThan(0.1);
      const mean = meanEnd(board(pattern));
      expect(mean).toBeGreaterThan(4.1);
      expect(mean).toBeLessThan(4.4);
      // Makers' rule 3.5 to 4, Pawson 4 to 5; doubled about 9.
      expect(2 * mean).toBeGreaterThan(8.2);
      expect(2 * mean).toBeLessThan(9);
    }
    // Single ends differ and are not brought nearer: who only carries, and who only knots.
    const apart: Pattern = {
      ...dense(14, rows),
      knots: Uint8Array.from({ length: rows * 7 }, (_, i) =>
        Math.floor(i / 7) % 2 === 0 ? 3 : i % 7 === 6 ? 0 : 4,
      ),
    };
    const carried = cutList(board(apart, { piece: { tailMm: 0, spareMm: 0 } }));
    const { cordMm, rowMm, knottingMm, carrierMm } = carried.gauge;
    expect(carrierMm.valueMm / rowMm.valueMm).toBeCloseTo(1.3, 1);
    expect(knottingMm.valueMm / rowMm.valueMm).toBeCloseTo(7.7, 1);
    const times = carried.ends.map(
      ({ needMm }) => (needMm - carried.allowances.mountMm) / carried.size.bandMm,
    );
    expect(times[1]).toBeCloseTo(1.3, 1);
    expect(times[2]).toBeCloseTo(7.6, 1);
    // A bar of 19 mm (3/4 in) for 14 ends; diagonals near 45° (Dillmont figs. 595, 596).
    expect(14 * cordMm.valueMm).toBeCloseTo(18.9, 9);
    expect(Math.abs((Math.atan(rowMm.valueMm / cordMm.valueMm) * 180) / Math.PI - 45)).toBeLessThan(5);
  });

  it('[L44] from 8 to 24 strings the mean end takes 4.0 to 4.4 times the band', () => {
    for (let strings = 8; strings <= 24; strings++) {
      const mean = meanEnd(board(dense(strings, 57)));
      expect(mean).toBeGreaterThan(4);
      expect(mean).toBeLessThan(4.4);
    }
  });

  it('[L44] 95 of 100 hands and threads drawn from the model take 3.5 to 5.2 times the band', () => {
    const random = seededRandom(44);
    const part = (spread: number): number =>
      Math.exp(spread * Math.sqrt(-2 * Math.log(1 - random.next())) * Math.cos(2 * Math.PI * random.next()));
    const times = Array.from({ length: 2000 }, () => {
      const cordMm = 1.35 * part(MODEL_SPREAD.width);
      const rowMm = ROW_PER_WIDTH * cordMm * part(MODEL_SPREAD.rowPerWidth);
      const step = Math.hypot(cordMm, rowMm);
      const knottingMm = hitchLength(THREAD_PER_WIDTH * cordMm * part(MODEL_SPREAD.threadPerWidth)) + step;
      const carrierMm = step * part(MODEL_SPREAD.carrierPerStep);
      return meanEnd(board(dense(14, 20), { gauge: { cordMm, rowMm, knottingMm, carrierMm } }));
    }).sort((a, b) => a - b);
    // At 20 rows the half row at either edge counts for more: 4.03 instead of 4.21 times.
    const scale = meanEnd(board(dense(14, 57))) / meanEnd(board(dense(14, 20)));
    expect(times[50]! * scale).toBeGreaterThan(3.4);
    expect(times[50]! * scale).toBeLessThan(3.6);
    expect(times[1949]! * scale).toBeGreaterThan(5);
    expect(times[1949]! * scale).toBeLessThan(5.2);
  });

  it("[L2] a belt of 1.2 m needs line cut at 10 to 12 m a doubled string (Pawson's worked example)", () => {
    const list = cutList(board(dense(16, 4), { piece: { lengthMm: 1200 } }));
    expect(Math.abs(list.size.bandMm - 1200)).toBeLessThan(10);
    const mean = list.folds.reduce((sum, { cutMm }) => sum + cutMm, 0) / list.folds.length;
    expect(mean).toBeGreaterThan(10_000);
    expect(mean).toBeLessThan(12_000);
  });

  it('[L2] the thicker the material, the more is allowed for the knots (Dillmont, before "Formation of the knots")', () => {
    const needs = [0.5, 0.8, 1.2, 1.35, 2, 3].map((cordMm) =>
      cutList(board(dense(8, 40), { gauge: { cordMm } })).ends.map(({ needMm }) => needMm),
    );
    for (let i = 1; i < needs.length; i++)
      needs[i]?.forEach((need, place) => {
        expect(need).toBeGreaterThan(needs[i - 1]?.[place] ?? Number.POSITIVE_INFINITY);
      });
    const fixedRow = [0.5, 1, 2].map(
      (cordMm) => cutList(board(dense(8, 40), { gauge: { cordMm, rowMm: 1.5 } })).folds,
    );
    expect(fixedRow[0]?.[0]?.cutMm).toBeLessThan(fixedRow[1]?.[0]?.cutMm ?? 0);
    expect(fixedRow[1]?.[0]?.cutMm).toBeLessThan(fixedRow[2]?.[0]?.cutMm ?? 0);
  });

  it('[L8] a fringe without knots is cut double its length and folded (Dillmont, fig. 515)', () => {
    const untied: Pattern = { ...dense(8, 100), knots: new Uint8Array(400) };
    const list = cutList(board(untied, { piece: { tailMm: 0, spareMm: 0 }, gauge: { rowMm: 3 } }));
    for (const { cutMm, foldAtMm } of list.folds) {
      expect(Math.abs(cutMm - 2 * 300)).toBeLessThan(2 * list.allowances.mountMm + 10);
      expect(foldAtMm).toBe(cutMm / 2);
    }
  });

  it('[L13] a skein is 8.7 yards = 7.955 m; 8.7 metres, as one printed page has it, is doubted', () => {
    expect(toMm(8.7, 'yd')).toBeCloseTo(7955.28, 2);
    expect(doubtSkeinLength(toMm(8.7, 'yd'))).toBeNull();
    expect(doubtSkeinLength(8000)).toBeNull();
    expect(doubtSkeinLength(toMm(8.7, 'm'))).toBe('yards-as-metres');
    expect(doubtSkeinLength(8)).toBe('other-unit');
  });

  it('[L5] 14 ends of six-strand floss fit a bar of 3/4 inch (common practice, no source)', () => {
    for (const barMm of [19, 19.05]) {
      const fit = fitBar({ ends: 14, barMm });
      expect(fit).toMatchObject({ endsTaken: 14, verdict: 'fits', isCordEstimated: true });
      expect(fit.sizes.map(({ label }) => label)).toContain('3/4 in');
    }
  });
});

describe('least squares', () => {
  it('[L3] gives the certified values of NIST StRD NoInt1, a line through the origin', () => {
    // NIST Statistical Reference Datasets, linear regression, NoInt1 (values as quoted in several public test suites).
    const x = Array.from({ length: 11 }, (_, i) => 60 + i);
    const fit = fitLeastSquares(
      x.map((value) => [value]),
      x.map((value) => value + 70),
    );
    expect(fit?.coefficients[0]).toBeCloseTo(2.07438016528926, 12);
    expect((fit?.residualDeviation ?? 0) * Math.sqrt(fit?.varianceFactors[0] ?? 0)).toBeCloseTo(
      0.0165289256198347,
      12,
    );
    expect(fit?.residualDeviation).toBeCloseTo(3.56753034006338, 11);
  });

  it('[L3] gives the certified values of NIST StRD Norris, a slope and an intercept', () => {
    // The same collection, Norris: y = B0 + B1 x, 36 observations (values as quoted in several public test suites).
    const fit = fitLeastSquares(
      NORRIS.map(([, x]) => [1, x]),
      NORRIS.map(([y]) => y),
    );
    const error = (i: number) => (fit?.residualDeviation ?? 0) * Math.sqrt(fit?.varianceFactors[i] ?? 0);
    expect(fit?.coefficients[0]).toBeCloseTo(-0.262323073774029, 10);
    expect(fit?.coefficients[1]).toBeCloseTo(1.00211681802045, 12);
    expect(error(0)).toBeCloseTo(0.232818234301152, 10);
    expect(error(1)).toBeCloseTo(0.000429796848199937, 12);
    expect(fit?.residualDeviation).toBeCloseTo(0.884796396144373, 11);
  });

  it('[L3] does not decide between columns that depend on each other', () => {
    expect(
      fitLeastSquares(
        [
          [1, 2],
          [2, 4],
          [3, 6],
        ],
        [1, 2, 3],
      ),
    ).toBeNull();
    expect(fitLeastSquares([[1, 2]], [1])).toBeNull();
    expect(fitLeastSquares([], [])).toBeNull();
    expect(() => fitLeastSquares([[1]], [1, 2])).toThrow('1 rows but 2 values');
  });
});
