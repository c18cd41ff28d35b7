/**
 * Simulated annealing for the fewest crossings: shares nothing with the engine, so that both can check each other.
 * S. Kirkpatrick, C. D. Gelatt, M. P. Vecchi, "Optimization by simulated annealing", Science 220 (1983) 671-680.
 */
import { seededRandom } from '../support/seeded-random.ts';

/** Crossings above which half the worsening steps by two are taken at first and at last. */
const WARM = 2;
const COLD = 0.18;

/**
 * The fewest crossings met, one single for each colour of odd count and no other.
 * @param steps two folds of a colour, or a fold and its single, are exchanged so many times
 * O(steps x folds).
 */
export function anneal(colours: readonly number[], seed: number, steps: number): number {
  const random = seededRandom(seed);
  const units: number[][] = [];
  const lefts: number[] = [];
  const rights: number[] = [];
  const kinds = Math.max(...colours) + 1;
  for (let kind = 0; kind < kinds; kind++) {
    const places = random.shuffle(colours.flatMap((colour, place) => (colour === kind ? [place] : [])));
    const own: number[] = [];
    for (let i = 0; i < places.length; i += 2) {
      own.push(lefts.length);
      // A single is a fold from a place to itself: it crosses nothing.
      const [a, b] = [places[i]!, places[i + 1] ?? places[i]!];
      lefts.push(Math.min(a, b));
      rights.push(Math.max(a, b));
    }
    units.push(own);
  }
  const folds = lefts.length;
  const left = Int16Array.from(lefts);
  const right = Int16Array.from(rights);
  // A colour is drawn as often as it has folds.
  const drawn = units.filter((own) => own.length > 1).flatMap((own) => own.map(() => own));
  const crossingsOf = (l: number, r: number, but: number, andBut: number): number => {
    let count = 0;
    for (let i = 0; i < folds; i++) {
      if (i === but || i === andBut) continue;
      const a = left[i]!;
      const b = right[i]!;
      if (a < l ? b > l && b < r : a < r && b > r) count++;
    }
    return count;
  };
  const cross = (a: number, b: number, c: number, d: number): number =>
    (a < c && c < b && b < d) || (c < a && a < d && d < b) ? 1 : 0;
  let now = 0;
  for (let i = 0; i < folds; i++)
    for (let j = i + 1; j < folds; j++) now += cross(left[i]!, right[i]!, left[j]!, right[j]!);
  let best = now;
  if (drawn.length === 0) return best;
  let warmth = WARM;
  const cooling = (COLD / WARM) ** (1 / (steps / 1024));
  for (let step = 0; step < steps; step++) {
    if (step % 1024 === 0) warmth *= cooling;
    const own = drawn[random.below(drawn.length)]!;
    const i = own[random.below(own.length)]!;
    let j = own[random.below(own.length - 1)]!;
    if (j === i) j = own[own.length - 1]!;
    const [a, b, c, d] = [left[i]!, right[i]!, left[j]!, right[j]!];
    // Of a fold and a single, the single joins one end and leaves the other.
    const swap = random.next() < 0.5;
    let [p, q, r, s] = swap ? [a, c, b, d] : [a, d, b, c];
    if (a === b && c === d) continue;
    if (a === b) [p, q, r, s] = swap ? [a, c, d, d] : [a, d, c, c];
    else if (c === d) [p, q, r, s] = swap ? [c, a, b, b] : [c, b, a, a];
    const [l1, r1, l2, r2] = [Math.min(p, q), Math.max(p, q), Math.min(r, s), Math.max(r, s)];
    const before = crossingsOf(a, b, i, j) + crossingsOf(c, d, i, j) + cross(a, b, c, d);
    const after = crossingsOf(l1, r1, i, j) + crossingsOf(l2, r2, i, j) + cross(l1, r1, l2, r2);
    if (after > before && random.next() >= Math.exp((before - after) / warmth)) continue;
    left[i] = l1;
    right[i] = r1;
    left[j] = l2;
    right[j] = r2;
    now += after - before;
    if (now < best) best = now;
  }
  return best;
}
