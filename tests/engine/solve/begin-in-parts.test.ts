import { describe, expect, it } from 'vitest';
import { solvePicture, weave } from '../../../engine/index.ts';
import { beginInParts } from '../../../engine/solve/begin-in-parts.ts';
import { Budget } from '../../../engine/solve/budget.ts';
import { plainRoute } from '../../../engine/solve/plain-route.ts';
import { costOf } from '../../../engine/solve/routing.ts';
import { isLong } from '../../support/depth.ts';
import { changedPicture, possiblePicture, type PictureSize } from '../../support/pictures.ts';
import { routing } from '../../support/routing.ts';

/** The smallest board that is begun in parts. */
const LARGE: PictureSize = { strings: 60, rows: 84, colours: 8 };
/** One that is never searched whole. */
const HUGE: PictureSize = { strings: 60, rows: 330, colours: 8 };

type Target = Parameters<typeof solvePicture>[0];

function solved(target: Target, options: Parameters<typeof solvePicture>[1]) {
  const found = solvePicture(target, options);
  if (!found.ok) throw new Error(found.error.message);
  return { ...found, cells: target.rows.flat().filter((colour) => colour >= 0).length };
}

describe('large boards', () => {
  it('[Z17] a possible one is met', () => {
    expect(solved(possiblePicture(1, LARGE).target, {})).toMatchObject({ wrong: 0, proven: true });
  });

  const changed = isLong ? [LARGE, { strings: 60, rows: 200, colours: 8 }, HUGE] : [LARGE];
  it.each(changed)(
    '[Z17] with 2 % of cells changed at most 3 % are wrong: $strings x $rows x $colours',
    (size) => {
      const wrong: number[] = [];
      const { cells, ...found } = solved(changedPicture(1, size, 0.02), {
        steps: isLong ? 400_000_000 : 150_000_000,
        onBest: (best) => wrong.push(best.wrong),
      });
      expect(found.wrong).toBeLessThanOrEqual(0.03 * cells);
      expect(found.wrong).toBe(wrong.at(-1));
      // Each answer told is better than the one before.
      expect(wrong).toEqual(wrong.toSorted((a, b) => b - a));
      expect(wrong.length).toBeGreaterThan(0);
    },
  );

  it('[Z7] [Z17] repeated without a seam', () => {
    const size = { strings: 20, rows: isLong ? 400 : 60, colours: isLong ? 20 : 8 };
    const { board } = solved(possiblePicture(2, size, 'sparse').target, {
      seamless: true,
      steps: isLong ? 400_000_000 : 80_000_000,
    });
    const { colours } = board.pattern;
    expect(Array.from(weave(board.pattern).finalOrder, (string) => colours[string])).toEqual(
      Array.from(colours),
    );
  });
});

describe('beginning in parts', () => {
  /** Bands of three rows of one colour each. */
  const banded = (strings: number, rows: number): number[][] =>
    Array.from({ length: rows }, (_, row) => Array(strings >> 1).fill(Math.floor(row / 3) % 3));
  const steps = 20_000_000;

  it('each part goes on where the one before ended: what can be met is met', () => {
    const wide = routing(
      44,
      Array.from({ length: 40 }, () => Array(22).fill(2)),
    );
    const route = beginInParts(wide, new Budget(steps))!;
    expect(costOf(wide, route)).toBe(0);
  });

  it('with nothing left to spend strings hang straight; where it matters what hangs below there is no route', () => {
    const picture = routing(8, banded(8, 60));
    expect(beginInParts(picture, new Budget(0))).toEqual(plainRoute(picture));
    const below = { ...picture, bottom: [0, 0, 0, 0, 1, 1, 2, 2] };
    expect(beginInParts(below, new Budget(0))).toBeNull();
  });

  it('[Z7] what must hang below hangs there, and what must repeat hangs as it did', () => {
    const bottom = [2, 1, 0, 2, 1, 0];
    const ended = beginInParts(routing(6, banded(6, 50), { bottom }), new Budget(steps))!;
    expect([...ended.subarray(50 * 6)]).toEqual(bottom);
    const seam = 2;
    const again = beginInParts(routing(6, banded(6, 50), { seam }), new Budget(steps))!;
    expect(again.subarray(50 * 6)).toEqual(again.subarray(seam * 6, (seam + 1) * 6));
  });
});
