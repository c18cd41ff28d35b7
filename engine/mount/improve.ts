/** Improves a pairing with crossings: one colour at a time is folded anew; where that ends, a step aside and again. */
import { CROSSING, Folding } from './refold.ts';

export interface Improved {
  readonly pairs: readonly [number, number][];
  readonly crossings: number;
}

/**
 * A local optimum of folding one colour at a time, bettered by stepping aside and coming back.
 * @param colours colour number of each place, numbers from 0 without gaps
 * @param pairs   where to begin: equal colours joined, one single for each colour of odd count
 * @param stepsAside how many times to step aside; 0 gives the first local optimum
 * @param enough  stop at this number of crossings
 * Deterministic: the steps come from a fixed sequence. Each costs about O(colours x (m^3 + m n)) for m places of a colour.
 */
export function improve(
  colours: ArrayLike<number>,
  pairs: readonly (readonly [number, number])[],
  stepsAside: number,
  enough = 0,
): Improved {
  const folding = new Folding(colours, pairs);
  const kinds = folding.placesOf.flatMap((places, kind) => (places.length >= 3 ? [kind] : []));
  settle(folding, kinds);
  let best = folding.total();
  let kept = folding.partner.slice();
  let state = 12_345;
  const draw = (below: number): number => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return Math.floor((state / 2 ** 32) * below);
  };
  for (let step = 0; step < stepsAside && kinds.length > 1 && best >= (enough + 1) * CROSSING; step++) {
    const strength = 1 + draw(4);
    const moved = 1 + draw(2);
    for (let i = 0; i < moved; i++)
      folding.refold(kinds[draw(kinds.length)]!, () => draw(strength * CROSSING));
    settle(folding, kinds, draw(kinds.length));
    const cost = folding.total();
    if (cost <= best) {
      best = cost;
      kept = folding.partner.slice();
    } else folding.partner.set(kept);
  }
  folding.partner.set(kept);
  return { pairs: folding.pairs, crossings: Math.floor(best / CROSSING) };
}

/** Folds colour after colour anew until none gains. */
function settle(folding: Folding, kinds: readonly number[], first = 0): void {
  for (let at = first, idle = 0; idle < kinds.length; at++)
    idle = folding.refold(kinds[at % kinds.length]!) ? 0 : idle + 1;
}
