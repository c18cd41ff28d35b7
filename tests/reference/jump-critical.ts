/**
 * Small posets up to renumbering, grown one element at a time, with their jump numbers. Apart from `work-poset.ts`, which it checks.
 * A poset is given by what lies below each element, as bits; elements are numbered upwards.
 */
export type Below = readonly number[];

/** Fewest jumps of an order of all elements: a table over sets already placed and the last element. O(2^n n²). */
export function jumpNumber(below: Below): number {
  const size = below.length;
  const table = new Int8Array((1 << size) * size).fill(NONE);
  below.forEach((under, element) => {
    if (under === 0) table[(1 << element) * size + element] = 0;
  });
  for (let placed = 1; placed < 1 << size; placed++)
    for (let last = 0; last < size; last++) {
      const jumps = table[placed * size + last]!;
      if (jumps === NONE) continue;
      for (let next = 0; next < size; next++) {
        const under = below[next]!;
        if ((placed >> next) & 1 || under & ~placed) continue;
        const at = (placed | (1 << next)) * size + next;
        const total = jumps + ((under >> last) & 1 ? 0 : 1);
        if (total < table[at]!) table[at] = total;
      }
    }
  return Math.min(...table.subarray(((1 << size) - 1) * size));
}

const NONE = 99;

/** The poset without one element. */
export function without(below: Below, element: number): Below {
  const lower = (1 << element) - 1;
  return below.toSpliced(element, 1).map((under) => (under & lower) | ((under >> 1) & ~lower));
}

/** Whether every element counts: without any one of them there is a jump less. */
export function isJumpCritical(below: Below): boolean {
  const jumps = jumpNumber(below);
  return below.every((_, element) => jumpNumber(without(below, element)) < jumps);
}

/**
 * All posets of up to `most` elements, each once, that have `jumps` jumps and lose one with any element. Taking an element away never
 * adds a jump, so all of them grow from posets with fewer jumps.
 */
export function jumpCriticalPosets(jumps: number, most: number): readonly Below[] {
  const found = new Map<string, Below>();
  let grown: readonly Below[] = [[]];
  for (let size = 1; size <= most; size++) {
    const next = new Map<string, Below>();
    for (const poset of grown)
      for (const under of downSets(poset)) {
        const larger = [...poset, under];
        const count = jumpNumber(larger);
        if (count < jumps && size < most) next.set(canonical(larger), larger);
        else if (count === jumps && isJumpCritical(larger)) found.set(canonical(larger), larger);
      }
    grown = [...next.values()];
  }
  return [...found.values()];
}

function downSets(poset: Below): readonly number[] {
  const sets: number[] = [];
  for (let set = 0; set < 1 << poset.length; set++)
    if (poset.every((under, element) => !((set >> element) & 1) || (under & ~set) === 0)) sets.push(set);
  return sets;
}

/** The same text for posets that differ only in their numbering: the least of all numberings within classes that look alike. */
function canonical(below: Below): string {
  const above = below.map((_, element) =>
    below.reduce((bits, under, other) => bits | (((under >> element) & 1) << other), 0),
  );
  let looks = below.map(() => 0);
  for (let round = 0; round < 3; round++) {
    const told = looks.map((look, element) => {
      const seen = (bits: number): string =>
        looks
          .filter((_, other) => (bits >> other) & 1)
          .sort()
          .join();
      return `${look} ${seen(below[element]!)} ${seen(above[element]!)}`;
    });
    const kinds = [...new Set(told)].sort();
    looks = told.map((one) => kinds.indexOf(one));
  }
  let least: string | null = null;
  const order: number[] = [];
  const classes = [...new Set(looks)].sort((a, b) => a - b);
  const place = (): void => {
    if (order.length === below.length) {
      const rows = order.map((element) =>
        order.reduce((bits, other, at) => bits | (((below[element]! >> other) & 1) << at), 0),
      );
      const text = rows.join();
      if (least === null || text < least) least = text;
      return;
    }
    const look = classes.find((one) => looks.some((l, element) => l === one && !order.includes(element)));
    looks.forEach((l, element) => {
      if (l !== look || order.includes(element)) return;
      order.push(element);
      place();
      order.pop();
    });
  };
  place();
  return least ?? '';
}
