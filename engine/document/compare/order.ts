/** Orders of ids, merged. */

/**
 * Puts ids of one order into another, each behind the nearest one before it that stands in both; at the top where there
 * is none.
 * @param kept   an order without repeats
 * @param from   an order that holds what is added, and where
 * @param added  ids of `from` that `kept` lacks
 * O(n).
 */
export function placeInto(
  kept: readonly string[],
  from: readonly string[],
  added: ReadonlySet<string>,
): readonly string[] {
  const known = new Set(kept);
  const behind = new Map<string | null, string[]>();
  let anchor: string | null = null;
  for (const id of from) {
    if (known.has(id)) anchor = id;
    else if (added.has(id)) {
      const group = behind.get(anchor);
      if (group === undefined) behind.set(anchor, [id]);
      else group.push(id);
    }
  }
  return [...(behind.get(null) ?? []), ...kept.flatMap((id) => [id, ...(behind.get(id) ?? [])])];
}

/** Whether what stands in both orders stands in the same order in both. O(n). */
export function agreeInOrder(a: readonly string[], b: readonly string[]): boolean {
  const inA = new Set(a);
  const inB = new Set(b);
  const common = a.filter((id) => inB.has(id));
  let at = 0;
  for (const id of b) if (inA.has(id) && common[at++] !== id) return false;
  return true;
}

/** The longest part of `order` that also stands in this order in `wanted`. O(n log n). */
export function longestCommon(order: readonly string[], wanted: readonly string[]): ReadonlySet<string> {
  const rank = new Map(wanted.map((id, i) => [id, i]));
  const ids = order.filter((id) => rank.has(id));
  // ends[n]: index in `ids` of the last of the best rising run of n + 1; before: the one ahead of each.
  const ends: number[] = [];
  const before: number[] = [];
  ids.forEach((id, i) => {
    const value = rank.get(id)!;
    let low = 0;
    let high = ends.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (rank.get(ids[ends[middle]!]!)! < value) low = middle + 1;
      else high = middle;
    }
    before[i] = low === 0 ? -1 : ends[low - 1]!;
    ends[low] = i;
  });
  const found = new Set<string>();
  for (let i = ends.at(-1) ?? -1; i >= 0; i = before[i]!) found.add(ids[i]!);
  return found;
}
