/**
 * How near the fewest crossings `planMount` comes beyond 24 places: against a proof where a far larger search reaches one,
 * else against the best that long searches find. MOUNT_LONG=1 runs the whole range (MOUNT_SIZES=26,36 a part of it)
 * and prints the table kept in mount-large.md; by default a small part of it is checked.
 */
import { describe, expect, it } from 'vitest';
import { planMount } from '../../engine/index.ts';
import { improve } from '../../engine/mount/improve.ts';
import { foldFromLeft } from '../../engine/mount/open-folds.ts';
import { seededRandom } from '../support/seeded-random.ts';

const isLong = process.env.MOUNT_LONG === '1';

interface Reference {
  readonly crossings: number;
  readonly proven: boolean;
}

/** Far more effort than `planMount` spends: many more steps aside, many more rows of open folds. */
function bestKnown(
  colours: readonly number[],
  begin: readonly (readonly [number, number])[],
  first: number,
): Reference {
  const improved = improve(colours, begin, isLong ? 2000 : 200).crossings;
  const known = Math.min(first, improved);
  const fewer = foldFromLeft(colours, { width: isLong ? 150_000 : 30_000, atMost: known - 1 });
  if (fewer.complete) return { crossings: fewer.pairs ? countCrossings(fewer.pairs) : known, proven: true };
  const wide = improve(
    colours,
    foldFromLeft(colours, { width: isLong ? 2000 : 600 }).pairs!,
    isLong ? 800 : 100,
  );
  return { crossings: Math.min(known, wide.crossings), proven: false };
}

function countCrossings(pairs: readonly (readonly [number, number])[]): number {
  let crossings = 0;
  for (const [a, b] of pairs) for (const [c, d] of pairs) if (a < c && c < b && b < d) crossings++;
  return crossings;
}

const longSizes = process.env.MOUNT_SIZES?.split(',').map(Number) ?? [26, 36, 48, 60, 80, 100, 200];
const sizes = isLong ? longSizes : [26, 40, 60];
const kinds = isLong ? [3, 4, 6, 10, 20] : [4, 10];

describe('beyond 24 places', () => {
  it(
    '[M5] within 5 % of the fewest crossings known, and never below the bound',
    () => {
      const rows: string[] = [];
      const far: string[] = [];
      for (const size of sizes)
        for (const kind of kinds) {
          const random = seededRandom(size * 100 + kind);
          const runs = isLong ? (size > 60 ? 2 : 5) : 2;
          let [ours, best, bound, proven, certain, worst] = [0, 0, 0, 0, 0, 0];
          for (let run = 0; run < runs; run++) {
            const half = Array.from({ length: size >> 1 }, () => random.below(kind));
            const order = random.shuffle([...half, ...half]);
            const known = [...new Set(order)];
            const colours = order.map((colour) => known.indexOf(colour));
            const plan = planMount(colours);
            const begin = plan.folds.map(({ left, right }) => [left, right] as const);
            const reference = bestKnown(colours, begin, plan.crossings.length);
            ours += plan.crossings.length;
            best += reference.crossings;
            bound += plan.lowerBound;
            if (reference.proven) proven++;
            if (plan.exact) certain++;
            if (reference.crossings > 0)
              worst = Math.max(worst, plan.crossings.length / reference.crossings - 1);
            expect(plan.lowerBound).toBeLessThanOrEqual(reference.crossings);
            if (plan.exact) expect(plan.crossings.length).toBe(reference.crossings);
            // With even counts the number of crossings is odd for all plans of an order or even for all, so it goes by twos.
            if (plan.crossings.length - reference.crossings > Math.max(2, 0.05 * reference.crossings))
              far.push(`${plan.crossings.length} instead of ${reference.crossings}: ${order.join(' ')}`);
          }
          rows.push(
            `| ${size} | ${kind} | ${runs} | ${certain} | ${proven} | ${bound} | ${best} | ${ours} | ${(100 * (ours / Math.max(1, best) - 1)).toFixed(1)} % | ${(100 * worst).toFixed(1)} % |`,
          );
        }
      // The table is the purpose of the long run.
      if (isLong) process.stdout.write(`${rows.join('\n')}\n`);
      expect(far).toEqual([]);
    },
    isLong ? 3_600_000 : 30_000,
  );
});
