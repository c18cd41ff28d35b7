/** The threads of a photo: colours that knots have, gathered. Distances are in CIELAB and count once, not squared: a stain draws nothing to it. */
import type { Lab } from '../colour/index.ts';

const MOST_ROUNDS = 40;
/** Of more colours than these only some begin a group. */
const MOST_BEGINNERS = 150;

/**
 * Gathers colours around so many middles: one after the other the colour that brings all nearest to a middle, then each middle into the
 * median of those that are nearest to it, until none moves. Same colours, same middles.
 * @param count 1 or more; fewer come back where there are fewer colours
 * O(colours x (150 + rounds) x count).
 */
export function clusterColours(labs: readonly Lab[], count: number): readonly Lab[] {
  const every = Math.ceil(labs.length / MOST_BEGINNERS);
  const beginners = labs.filter((_, i) => i % every === 0);
  let middles: readonly Lab[] = [];
  let away = labs.map(() => Infinity);
  while (middles.length < count && away.some((one) => one > 0)) {
    const tried = beginners.map((lab) => labs.map((one, i) => Math.min(away[i]!, apart(one, lab))));
    const sums = tried.map((one) => one.reduce((sum, distance) => sum + distance, 0));
    const best = sums.indexOf(Math.min(...sums));
    middles = [...middles, beginners[best]!];
    away = tried[best]!;
  }
  for (let round = 0; round < MOST_ROUNDS; round++) {
    const groups: Lab[][] = middles.map(() => []);
    for (const lab of labs) groups[nearestIndex(middles, lab)]!.push(lab);
    const next = groups.map((group, i) => (group.length === 0 ? middles[i]! : medianLab(group)));
    if (next.every((lab, i) => apart(lab, middles[i]!) < 1e-6)) return next;
    middles = next;
  }
  return middles;
}

/** Index of the nearest middle, the first of equals. */
export function nearestIndex(middles: readonly Lab[], lab: Lab): number {
  return middles.reduce((best, one, i) => (apart(one, lab) < apart(middles[best]!, lab) ? i : best), 0);
}

/** How far two colours are from each other in CIELAB. */
export function apart(one: Lab, two: Lab): number {
  return Math.hypot(one[0] - two[0], one[1] - two[1], one[2] - two[2]);
}

/** The median of L*, of a* and of b*. @param labs one at least */
export function medianLab(labs: readonly Lab[]): Lab {
  const of = (channel: 0 | 1 | 2): number => {
    const values = labs.map((lab) => lab[channel]).sort((a, b) => a - b);
    return values[values.length >> 1]!;
  };
  return [of(0), of(1), of(2)];
}
