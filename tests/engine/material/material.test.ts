import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { HARDWARE_SIZES, RING_SIZES } from '../../../engine/material/fit-bar.ts';
import {
  fitBar,
  fitBoard,
  formatInch,
  fromMm,
  inchToMm,
  mmToInch,
  toMm,
} from '../../../engine/material/index.ts';
import { cordsInside } from '../../../engine/material/round-ring.ts';
import { countSkeins } from '../../../engine/material/skeins.ts';

describe('units', () => {
  it('[L12] convert there and back', () => {
    for (const unit of ['mm', 'cm', 'm', 'in', 'yd'] as const)
      expect(fromMm(toMm(3.7, unit), unit)).toBeCloseTo(3.7, 12);
    expect(inchToMm(1)).toBe(25.4);
    expect(mmToInch(19.05)).toBeCloseTo(0.75, 12);
    expect(toMm(1, 'yd')).toBe(914.4);
    expect(fromMm(914.4, 'yd')).toBe(1);
    expect(toMm(12, 'cm')).toBe(120);
  });

  it('[L12] inches are shown in eighths, in lowest terms', () => {
    expect([0, 3.175, 6.35, 19.05, 25.4, 263.525].map((mm) => formatInch(mm))).toEqual([
      '0 in',
      '1/8 in',
      '1/4 in',
      '3/4 in',
      '1 in',
      '10 3/8 in',
    ]);
    expect(formatInch(inchToMm(2 + 5 / 16), 16)).toBe('2 5/16 in');
    expect(formatInch(26)).toBe('1 in');
    expect(formatInch(26, 8, 'up')).toBe('1 1/8 in');
    expect(() => formatInch(-1)).toThrow('-1');
    expect(() => formatInch(1, 3)).toThrow('3');
  });

  it('[L12] an eighth rounded up is never short and never an eighth too long', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 4000 }), (eighths) => {
        const shown = formatInch(inchToMm(eighths / 8), 8, 'up')
          .replace(' in', '')
          .split(' ');
        const value = shown.reduce((sum, part) => {
          const [above, below] = part.split('/').map(Number);
          return sum + (above as number) / (below ?? 1);
        }, 0);
        expect(value).toBe(eighths / 8);
      }),
    );
  });
});

describe('fitBar', () => {
  it('[L5] says which bars the ends need, and how full a bar is', () => {
    const fit = fitBar({ strings: 10, cordMm: 2, barMm: 25 });
    expect(fit).toMatchObject({
      neededMm: 20,
      endsTaken: 12,
      fullness: 0.8,
      verdict: 'fits',
      isCordEstimated: false,
    });
    expect(fit.sizes.map(({ label }) => label)).toEqual(['3/4 in', '20 mm', '25 mm']);
    expect(fit.fittingMm![0]).toBeCloseTo(20 / 1.05, 9);
    expect(fit.fittingMm![1]).toBeCloseTo(25, 9);
    expect(fitBar({ ends: 14, barMm: 16 }).verdict).toBe('too tight');
    expect(fitBar({ ends: 14, barMm: 25.4 }).verdict).toBe('too loose');
    expect(fitBar({ ends: 15, barMm: 19 }).verdict).toBe('too tight');
  });

  it('[L5] ends or bar alone give half of the answer', () => {
    expect(fitBar({ barMm: 30, cordMm: 1.5 })).toMatchObject({
      endsTaken: 20,
      neededMm: null,
      verdict: null,
      fittingMm: null,
      sizes: [],
    });
    expect(fitBar({ ends: 20, cordMm: 1.5 })).toMatchObject({ endsTaken: null, neededMm: 30, verdict: null });
  });

  it('[L5] bars fit within what is said to fit, and not beyond it', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 200 }),
        fc.double({ min: 0.2, max: 6, noNaN: true }),
        (ends, cordMm) => {
          const [least, most] = fitBar({ ends, cordMm }).fittingMm!;
          const verdictOf = (barMm: number) => fitBar({ ends, cordMm, barMm }).verdict;
          expect([least * 1.001, most * 0.999].map(verdictOf)).toEqual(['fits', 'fits']);
          expect([least * 0.999, most * 1.001].map(verdictOf)).toEqual(['too tight', 'too loose']);
        },
      ),
    );
    expect(fitBar({ ends: 8, ringMm: 25, cordMm: 2 }).fittingMm).toBeNull();
  });

  it('[L5] the bar that the ends need takes them', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 200 }),
        fc.double({ min: 0.2, max: 6, noNaN: true }),
        (ends, cordMm) => {
          const barMm = fitBar({ ends, cordMm }).neededMm ?? 0;
          expect(fitBar({ ends, cordMm, barMm })).toMatchObject({ endsTaken: ends, verdict: 'fits' });
        },
      ),
    );
  });

  it('[L6] the round ring that the ends need takes them on half of its inner edge, and a smaller one does not', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 2, max: 120 }),
        fc.double({ min: 0.3, max: 4, noNaN: true }),
        (ends, cordMm) => {
          const ringMm = fitBar({ ends, cordMm, ring: 'round' }).neededMm ?? 0;
          expect(cordsInside(ringMm + 1e-6, cordMm)).toBe(2 * ends);
          expect(fitBar({ ends, cordMm, ringMm: ringMm + 1e-6 })).toMatchObject({
            endsTaken: ends,
            verdict: 'fits',
          });
          expect(fitBar({ ends, cordMm, ringMm: ringMm * 0.97 }).verdict).toBe('too tight');
        },
      ),
    );
    expect(fitBar({ ends: 2, cordMm: 5, ringMm: 4 })).toMatchObject({
      endsTaken: 0,
      fullness: null,
      verdict: 'too tight',
    });
  });

  it('[L6] common rings are listed from the first that is large enough, and only for a round ring', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 2, max: 60 }),
        fc.double({ min: 0.3, max: 3, noNaN: true }),
        (ends, cordMm) => {
          const { neededMm, ringSizes, sizes } = fitBar({ ends, cordMm, ring: 'round' });
          expect(ringSizes).toEqual(RING_SIZES.filter(({ ringMm }) => ringMm >= neededMm! - 1e-6));
          expect(sizes).toEqual([]);
          expect(fitBar({ ends, cordMm }).ringSizes).toEqual([]);
        },
      ),
    );
  });

  it('[L5] sizes are listed narrow to wide', () => {
    const rings = RING_SIZES.map(({ ringMm }) => ringMm);
    expect([...rings].sort((a, b) => a - b)).toEqual(rings);
    const widths = HARDWARE_SIZES.map(({ barMm }) => barMm);
    expect([...widths].sort((a, b) => a - b)).toEqual(widths);
  });

  it('[L5] a board is judged by its own strings, bar and cord', () => {
    const pattern = { colours: Array(14).fill('a'), start: 0 as const, rows: 0, knots: new Uint8Array(0) };
    const board = { title: 'plain', palette: [], pattern, piece: {}, gauge: {}, colourways: [] };
    expect(fitBoard(board)).toMatchObject({ verdict: null, isCordEstimated: true });
    expect(fitBoard({ ...board, piece: { barMm: 19, ringMm: 5 } }).verdict).toBe('fits');
    expect(fitBoard({ ...board, piece: { barMm: 19 }, gauge: { cordMm: 2 } })).toMatchObject({
      verdict: 'too tight',
      neededMm: 28,
      isCordEstimated: false,
    });
    expect(fitBoard({ ...board, piece: { ring: 'round', barMm: 19, ringMm: 5 } }).verdict).toBe('too tight');
    expect(() => fitBoard({ ...board, gauge: { cordMm: -2 } })).toThrow('gauge.cordMm');
  });

  it('[L5] bad input is refused by name', () => {
    expect(() => fitBar({})).toThrow('give ends');
    expect(() => fitBar({ ends: 0 })).toThrow('ends');
    expect(() => fitBar({ ends: 4, strings: 5 })).toThrow('disagree');
    expect(() => fitBar({ ends: 4, barMm: -1 })).toThrow('barMm must be a number above 0, not -1');
    expect(() => fitBar({ ends: 4, cordMm: 0 })).toThrow('cordMm');
    expect(() => fitBar({ ends: 4, barMm: 20, ringMm: 20 })).toThrow('say which in ring');
  });
});

describe('countSkeins', () => {
  /** Pieces one by one, longest first, each into the first skein with room: what packing equal ones at once must come to. */
  function plainly(pieces: readonly number[], skein: number, have: number): number {
    const whole = Math.floor(have / skein);
    const rooms = [have - whole * skein, ...Array<number>(whole).fill(skein)].filter((room) => room > 0);
    const atHome = rooms.length;
    for (const piece of [...pieces].sort((a, b) => b - a)) {
      const at = rooms.findIndex((room) => room >= piece);
      if (at < 0) rooms.push(skein - piece);
      else rooms[at]! -= piece;
    }
    return rooms.length - atHome;
  }

  it('[L75] many equal pieces are packed as they are one by one, those from home first', () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.integer({ min: 1, max: 40 }), fc.integer({ min: 1, max: 30 })), {
          maxLength: 6,
        }),
        fc.integer({ min: 0, max: 170 }),
        (groups, have) => {
          const pieces = groups.flatMap(([length, count]) => Array<number>(count).fill(length));
          const count = countSkeins(pieces, 40, have);
          expect(count.skeins).toBe(plainly(pieces, 40, have));
          expect(count.leastSkeins).toBeLessThanOrEqual(count.skeins);
          expect(count.fromHomeMm).toBeLessThanOrEqual(Math.min(have, count.totalMm));
          expect(count.wasteMm).toBe(count.skeins * 40 + have - count.totalMm);
          expect(count.wasteMm).toBeGreaterThanOrEqual(0);
        },
      ),
    );
  });

  it('[L75] a cord comes whole from one length: a rest of 4 m gives none of 5 m', () => {
    expect(countSkeins([5000], 8000, 4000)).toMatchObject({ skeins: 1, fromHomeMm: 0 });
    expect(countSkeins([5000], 8000, 12_000)).toMatchObject({ skeins: 0, fromHomeMm: 5000 });
  });

  /** Fewest skeins by trying every way: pieces one after the other into any skein with room, or a new one. */
  function fewest(pieces: readonly number[], skein: number, free: readonly number[] = []): number {
    const [piece, ...rest] = pieces;
    if (piece === undefined) return free.length;
    let best = fewest(rest, skein, [...free, skein - piece]);
    free.forEach((room, i) => {
      if (room >= piece) best = Math.min(best, fewest(rest, skein, free.with(i, room - piece)));
    });
    return best;
  }

  it('[L10] lies between the bound and 11/9 of the fewest and 6/9, for small lists tried out in full', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 1, max: 20 }), { maxLength: 7 }), (pieces) => {
        const count = countSkeins(pieces, 20);
        const best = fewest(pieces, 20);
        expect(count.leastSkeins).toBeLessThanOrEqual(best);
        expect(count.skeins).toBeGreaterThanOrEqual(best);
        expect(count.skeins).toBeLessThanOrEqual((11 * best + 6) / 9);
        expect(count.wasteMm).toBe(count.skeins * 20 - count.totalMm);
        expect(count.tooLong).toBe(0);
      }),
    );
  });

  it('[L10] the longest pieces come first: two of 6 and two of 4 fill two skeins of 10', () => {
    expect(countSkeins([4, 6, 4, 6], 10)).toMatchObject({ skeins: 2, leastSkeins: 2, wasteMm: 0 });
  });

  it('[L10] a piece longer than a skein takes skeins of its own', () => {
    expect(countSkeins([25, 12, 8], 10)).toEqual({
      totalMm: 45,
      skeins: 6,
      leastSkeins: 6,
      fromHomeMm: 0,
      wasteMm: 15,
      tooLong: 2,
    });
  });
});
