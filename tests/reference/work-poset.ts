/**
 * Plain reference for working orders: a labelled partial order given by what each element waits for, solved over its ideals.
 * Knows nothing of knots. Exponential; for some twenty elements.
 */
export interface LabelledPoset {
  /** For each element those it comes directly after; all of smaller number. */
  readonly after: readonly (readonly number[])[];
  readonly labels: readonly (number | string)[];
}

type Ideal = number;

function readyIn(poset: LabelledPoset, ideal: Ideal): readonly number[] {
  const ready: number[] = [];
  poset.after.forEach((before, element) => {
    if ((ideal >> element) & 1) return;
    if (before.every((other) => (ideal >> other) & 1)) ready.push(element);
  });
  return ready;
}

/** Orders in which every element comes after those it waits for. */
export function countOrders(poset: LabelledPoset): number {
  const full = 2 ** poset.after.length - 1;
  const known = new Map<Ideal, number>();
  const count = (ideal: Ideal): number => {
    if (ideal === full) return 1;
    const found = known.get(ideal);
    if (found !== undefined) return found;
    const sum = readyIn(poset, ideal).reduce((total, element) => total + count(ideal | (1 << element)), 0);
    known.set(ideal, sum);
    return sum;
  };
  return count(0);
}

/** Least total price over all orders; `price(last, next)` for each element, `last` -1 at first. Dynamic programme over ideals. */
function cheapest(poset: LabelledPoset, price: (last: number, next: number) => number): number {
  let layer = new Map<string, { ideal: Ideal; last: number; paid: number }>();
  layer.set('', { ideal: 0, last: -1, paid: 0 });
  for (let tied = 0; tied < poset.after.length; tied++) {
    const next: typeof layer = new Map();
    for (const { ideal, last, paid } of layer.values()) {
      for (const element of readyIn(poset, ideal)) {
        const grown = ideal | (1 << element);
        const key = `${grown} ${element}`;
        const total = paid + price(last, element);
        const known = next.get(key);
        if (!known || known.paid > total) next.set(key, { ideal: grown, last: element, paid: total });
      }
    }
    layer = next;
  }
  return Math.min(...[...layer.values()].map(({ paid }) => paid));
}

/** Fewest runs of equal labels. */
export function fewestRuns(poset: LabelledPoset): number {
  return cheapest(poset, (last, next) => (last >= 0 && poset.labels[last] === poset.labels[next] ? 0 : 1));
}

/** Fewest jumps: neighbours in the order of which the second is not above the first. */
export function fewestJumps(poset: LabelledPoset): number {
  const above = closure(poset);
  return cheapest(poset, (last, next) => (last < 0 || above[next]!.has(last) ? 0 : 1));
}

function closure(poset: LabelledPoset): readonly ReadonlySet<number>[] {
  const below: Set<number>[] = [];
  poset.after.forEach((before, element) => {
    below[element] = new Set(before.flatMap((other) => [other, ...below[other]!]));
  });
  return below;
}

/** Size of the largest set of elements none of which is above another. */
export function width(poset: LabelledPoset): number {
  const below = closure(poset);
  const grow = (from: number, chosen: readonly number[]): number => {
    let best = chosen.length;
    for (let element = from; element < poset.after.length; element++)
      if (chosen.every((other) => !below[element]!.has(other)))
        best = Math.max(best, grow(element + 1, [...chosen, element]));
    return best;
  };
  return grow(0, []);
}

/** Elements of the longest chain. */
export function height(poset: LabelledPoset): number {
  const heights: number[] = [];
  for (const before of poset.after) heights.push(1 + Math.max(0, ...before.map((other) => heights[other]!)));
  return Math.max(0, ...heights);
}

/** Independent chains with the given labels. */
export function chains(...words: readonly string[]): LabelledPoset {
  const after: number[][] = [];
  const labels: string[] = [];
  for (const word of words)
    [...word].forEach((letter, index) => {
      after.push(index === 0 ? [] : [after.length - 1]);
      labels.push(letter);
    });
  return { after, labels };
}
