/** How the strings hang once some steps are done. */
import type { WorkStep } from '../work/index.ts';

/**
 * Strings, by their place at the top, left to right after these steps.
 * @param steps each after those on its strings, as any order of work gives them
 * @param before how they hang before the first of these; default as at the top
 * O(strings + steps). Rule H5.
 */
export function hangingAfter(
  strings: number,
  steps: Iterable<WorkStep>,
  before?: ArrayLike<number>,
): Int16Array {
  const order =
    before === undefined
      ? Int16Array.from({ length: strings }, (_, place) => place)
      : Int16Array.from(before);
  for (const step of steps) if (isExchange(step)) exchange(order, step.place);
  return order;
}

/** Whether a step leaves its two strings in each other's place. */
export function isExchange({ kind }: Pick<WorkStep, 'kind'>): boolean {
  return kind === 'f' || kind === 'b';
}

/** Lets the strings at a place and right of it change places. */
export function exchange(order: Int16Array, place: number): void {
  const left = order[place]!;
  order[place] = order[place + 1]!;
  order[place + 1] = left;
}
