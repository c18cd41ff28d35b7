/** Colours to add to a palette. */
import { describe, expect, it } from 'vitest';
import { differences, distinctColour, labInEachSight } from '../../../engine/colour/index.ts';

/** How far a colour is from its nearest neighbour, in whichever sight it is nearest. */
const gapOf = (hex: string, others: readonly string[]): number =>
  Math.min(
    ...others.map((other) =>
      Math.min(...Object.values(differences(labInEachSight(hex), labInEachSight(other)))),
    ),
  );

const BEGINNINGS: readonly (readonly string[])[] = [
  ['#7a6a58'],
  ['#ffffff', '#000000'],
  ['#1f6266', '#e8c98a', '#e6c27c'],
];

describe('a distinct colour', () => {
  it.each(BEGINNINGS)(
    '[S18] is farther from its nearest neighbour than any that comes later would have been: %s',
    (...there) => {
      const palette = [...there];
      for (let i = 0; i < 12; i++) palette.push(distinctColour(palette));
      for (let at = there.length; at < palette.length; at++) {
        const gap = gapOf(palette[at]!, palette.slice(0, at));
        for (const later of palette.slice(at + 1))
          expect(gapOf(later, palette.slice(0, at))).toBeLessThanOrEqual(gap);
      }
      // Six are told apart in every sight.
      for (let at = there.length; at < there.length + 6; at++)
        expect(gapOf(palette[at]!, palette.slice(0, at))).toBeGreaterThan(10);
    },
  );

  it('[S18] is the same each time, also for an empty palette, and refuses what is no colour', () => {
    expect(distinctColour(['#7a6a58'])).toBe(distinctColour(['#7a6a58', '#7a6a58']));
    expect(distinctColour([])).toMatch(/^#[0-9a-f]{6}$/);
    expect(() => distinctColour(['red'])).toThrow(RangeError);
  });
});
