/** Helices, yarn diameters and rings against published numbers. */
import { describe, expect, it } from 'vitest';
import { helixLength, hitchLength, turnLength } from '../../engine/material/cord.ts';
import { cordsInside } from '../../engine/material/round-ring.ts';

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

describe('cords inside a ring', () => {
  it('[L6] round one of their own size lie six circles, round one of 1/2.41421 four, of 1/0.619914 eight: inside what holds both', () => {
    expect(cordsInside(2 + 2 * 2, 2)).toBe(6);
    expect(cordsInside(2 + 4 * 2.41421, 2 * 2.41421)).toBe(4);
    expect(cordsInside(2 + 4 * 0.619914, 2 * 0.619914)).toBe(8);
  });

  it('[L6] neighbouring centres are at least a cord apart, and one cord more would overlap', () => {
    for (let bar = 1; bar <= 40; bar += 0.7)
      for (const cord of [0.4, 1, 1.35, 2.2]) {
        const count = cordsInside(bar, cord);
        const apart = (n: number) => (bar - cord) * Math.sin(Math.PI / n);
        if (count >= 2) expect(apart(count)).toBeGreaterThanOrEqual(cord - 1e-6);
        if (count >= 1) expect(apart(count + 1)).toBeLessThan(cord);
        else expect(cord).toBeGreaterThan(bar);
      }
  });

  it('[L6] inside: seven equal circles fill a circle of three diameters, six of them at its edge', () => {
    expect(cordsInside(3, 1)).toBe(6);
    expect(cordsInside(2, 1)).toBe(2);
    expect(cordsInside(1.99, 1)).toBe(1);
    expect(cordsInside(0.9, 1)).toBe(0);
  });
});
