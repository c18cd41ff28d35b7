/** Pictures that cannot be, against HiGHS: asked now where it is quick, and kept answers where it is not. */
import { describe, expect, it } from 'vitest';
import { solvePicture } from '../../engine/index.ts';
import { cases, isLong } from '../support/depth.ts';
import { changedPicture, drawnPicture } from '../support/pictures.ts';
import { keptLeast, pictureOf } from './solve-kept.ts';
import { leastByHighs } from './solve-programme.ts';

const impossible = keptLeast().filter(({ bound }) => bound > 0);

/** Wrong cells that are found within so many steps. */
function wrongWithin(target: Parameters<typeof solvePicture>[0], steps?: number): number {
  const found = solvePicture(target, steps === undefined ? {} : { steps });
  if (!found.ok) throw new Error(found.error.message);
  return found.wrong;
}

describe('pictures that cannot be', () => {
  it('[Z14] of small size: what is proven is what HiGHS finds', async () => {
    const size = { strings: 8, rows: 10, colours: 3 };
    const seen = new Set<number>();
    for (let seed = 1; seed <= cases(4, 40); seed++)
      for (const target of [changedPicture(seed, size, 0.2), drawnPicture(seed, size)]) {
        const found = solvePicture(target);
        const { least } = await leastByHighs(target, 600);
        expect(found).toMatchObject({ ok: true, wrong: least, lowerBound: least, proven: true });
        seen.add(least!);
      }
    expect(seen.size).toBeGreaterThan(1);
  });

  it('[Z14] of 14 x 30 x 4: HiGHS settled at least 60 of over 100', () => {
    expect(impossible.length).toBeGreaterThan(100);
    expect(impossible.filter(({ least }) => least !== null).length).toBeGreaterThanOrEqual(60);
    for (const { least, bound } of impossible) expect(least ?? bound).toBe(bound);
  });

  it('[Z14] of 14 x 30 x 4: at most 1.05 times the fewest wrong cells in all, and never fewer than HiGHS proves', () => {
    const chosen = impossible.filter(
      ({ least, share }, i) => least !== null && (isLong || (share > 0 && i % 12 === 0)),
    );
    let wrong = 0;
    let least = 0;
    for (const entry of chosen) {
      const found = wrongWithin(pictureOf(entry));
      expect(found).toBeGreaterThanOrEqual(entry.bound);
      wrong += found;
      least += entry.least!;
    }
    expect(wrong / least).toBeLessThanOrEqual(1.05);
  });
});
