/** Random numbers that a seed repeats. */
export interface SeededRandom {
  /** From 0 up to, not including, 1. */
  next(): number;
  /** Whole number from 0 up to, not including, `end` (1 or more). */
  below(end: number): number;
  /** Whether something of this probability happens. */
  chance(probability: number): boolean;
  pick<T>(list: readonly T[]): T;
  shuffle<T>(list: readonly T[]): T[];
}

/** Mulberry32: a 32-bit state, one number a step. Enough to vary tests, no more. */
export function seededRandom(seed: number): SeededRandom {
  let state = seed | 0;
  const next = (): number => {
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4_294_967_296;
  };
  const below = (end: number): number => Math.floor(next() * end);
  return {
    next,
    below,
    chance: (probability) => next() < probability,
    pick: (list) => list[below(list.length)]!,
    shuffle: (list) => {
      const copy = [...list];
      for (let i = copy.length - 1; i > 0; i--) {
        const j = below(i + 1);
        [copy[i], copy[j]] = [copy[j]!, copy[i]!];
      }
      return copy;
    },
  };
}
