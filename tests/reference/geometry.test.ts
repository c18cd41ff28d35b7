/** Helices, yarn diameters and rings against published numbers. */
import { describe, expect, it } from 'vitest';
import {
  cordDiameterFromTex,
  cordsAround,
  cordsInside,
  helixLength,
  hitchLength,
  texFromCottonCount,
  texFromSkein,
  turnLength,
} from '../../engine/material/index.ts';

describe('length of a helix', () => {
  it('[L1] is that of J. D. Cook, "Christmas helix", 2023: radius 10 with pitch 4 and with pitch 10', () => {
    expect(helixLength(1, 10, 4)).toBeCloseTo(62.96, 2);
    expect(helixLength(1, 10, 0)).toBeCloseTo(62.83, 2);
    expect(helixLength(1, 10, 10)).toBeCloseTo(63.6, 1);
  });

  it('[L1] lies between the circles and circles plus pitch (University of Luxembourg, "The length of a helix")', () => {
    for (const [radius, pitch] of [
      [1, 1],
      [3, 0.5],
      [0.2, 4],
    ] as const) {
      const turn = helixLength(1, radius, pitch);
      expect(turn).toBeGreaterThan(2 * Math.PI * radius);
      expect(turn).toBeLessThan(2 * Math.PI * radius + pitch);
      expect(helixLength(7, radius, pitch)).toBeCloseTo(7 * turn, 10);
    }
  });

  it('[L1] agrees with the helix measured as a chain of many short chords', () => {
    const chords = 200_000;
    let sum = 0;
    for (let i = 0; i < chords; i++) {
      const angle = (j: number) => (2 * Math.PI * j) / chords;
      const dx = 1.7 * (Math.cos(angle(i + 1)) - Math.cos(angle(i)));
      const dy = 1.7 * (Math.sin(angle(i + 1)) - Math.sin(angle(i)));
      sum += Math.hypot(dx, dy, 0.9 / chords);
    }
    expect(helixLength(1, 1.7, 0.9)).toBeCloseTo(sum, 6);
  });

  it('[L1] a turn round an equal cord takes 6.3623 diameters, a double half hitch 12.7245', () => {
    expect(turnLength(1)).toBeCloseTo(6.3623, 4);
    expect(hitchLength(1)).toBeCloseTo(12.7245, 4);
    expect(hitchLength(2.5)).toBeCloseTo(2.5 * 12.7245, 3);
  });

  it('[L1] no turn is shorter than a loop linked once with an equal cord can be', () => {
    // Cantarella, Kusner, Sullivan 2002 (bound read in a secondary page): length >= 2 pi + 2 pi sqrt(linking number) radii.
    const leastRadii = 2 * Math.PI + 2 * Math.PI * Math.sqrt(1);
    expect(turnLength(1)).toBeGreaterThan(leastRadii / 2);
    // Denne, Diao, Sullivan, Geom. Topol. 10 (2006) 1-26: a closed knot takes at least 15.66 diameters. A hitch is open and has
    // its carrier to hold on to: it takes less than that, more than one loop.
    expect(hitchLength(1)).toBeLessThan(15.66);
  });
});

describe('diameter of a yarn', () => {
  // J. T. Taylor, "Cotton Weaving and Designing", 6th ed., yarn diameters: threads that lie side by side in an inch.
  const THREADS_PER_INCH: readonly (readonly [count: number, threads: number])[] = [
    [15, 106.5],
    [26, 140.5],
    [32, 156],
    [60, 213],
    [78, 243],
    [200, 390],
  ];

  it("[L11] is within 2 % of Taylor's table", () => {
    for (const [count, threads] of THREADS_PER_INCH) {
      const diameter = cordDiameterFromTex(texFromCottonCount(count));
      expect(Math.abs((diameter * threads) / 25.4 - 1)).toBeLessThan(0.02);
    }
  });

  it("[L11] doubles when the weight is four times as much (Taylor: 15s against 60s, Peirce's formula alike)", () => {
    expect(cordDiameterFromTex(4 * 71)).toBeCloseTo(2 * cordDiameterFromTex(71), 12);
    expect(cordDiameterFromTex(texFromCottonCount(15))).toBeCloseTo(
      2 * cordDiameterFromTex(texFromCottonCount(60)),
      12,
    );
  });

  it('[L11] is 1/27.93 inch for a cotton count of 1, and 0.592 mm for 250 tex (Peirce 1937, as quoted in handbooks)', () => {
    expect(25.4 / cordDiameterFromTex(texFromCottonCount(1))).toBeCloseTo(27.93, 1);
    expect(cordDiameterFromTex(250)).toBeCloseTo(0.592, 3);
    expect(cordDiameterFromTex(texFromCottonCount(60))).toBeCloseTo(0.1174, 4);
  });

  it('[L11] tex x cotton count = 590.5 (ISO 1144); a skein of 2 g and 8 m has 250 tex', () => {
    expect(texFromCottonCount(20) * 20).toBeCloseTo(590.5, 10);
    expect(texFromSkein(2, 8000)).toBeCloseTo(250, 10);
  });
});

describe('cords round a ring', () => {
  it('[L6] six circles lie round one of their own size, four round one of 1/2.41421, eight round one of 1/0.619914', () => {
    expect(cordsAround(2, 2)).toBe(6);
    expect(cordsAround(2, 2 * 2.41421)).toBe(4);
    expect(cordsAround(2, 2 * 0.619914)).toBe(8);
  });

  it('[L6] a ring of 10 mm outside radius takes 65 cords of 1 mm, one of 5 mm 34 (computed, no published table)', () => {
    expect(cordsAround(20, 1)).toBe(65);
    expect(cordsAround(10, 1)).toBe(34);
  });

  it('[L6] neighbouring centres are at least a cord apart, and one cord more would overlap', () => {
    for (let bar = 1; bar <= 40; bar += 0.7)
      for (const cord of [0.4, 1, 1.35, 2.2]) {
        for (const [count, centre] of [
          [cordsAround(bar, cord), (bar + cord) / 2],
          [cordsInside(bar, cord), (bar - cord) / 2],
        ] as const) {
          const apart = (n: number) => 2 * centre * Math.sin(Math.PI / n);
          if (count >= 2) expect(apart(count)).toBeGreaterThanOrEqual(cord - 1e-6);
          if (count >= 1) expect(apart(count + 1)).toBeLessThan(cord);
          else expect(cord).toBeGreaterThan(bar);
        }
      }
  });

  it('[L6] inside: seven equal circles fill a circle of three diameters, six of them at its edge', () => {
    expect(cordsInside(3, 1)).toBe(6);
    expect(cordsInside(2, 1)).toBe(2);
    expect(cordsInside(1.99, 1)).toBe(1);
    expect(cordsInside(0.9, 1)).toBe(0);
  });
});
