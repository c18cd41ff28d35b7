/** Neat orders near a given one: where to sort to when nothing shorter is found. */

/**
 * A few neat orders of the same strings, each as the place every string goes to.
 * @param pairs   how the given order is folded
 * @param colours colour number of each place; strings of one colour go in the order in which they stand
 */
export function neatTargets(
  pairs: readonly (readonly [number, number])[],
  colours: readonly number[],
): number[][] {
  const n = colours.length;
  const partner = new Array<number>(n).fill(-1);
  for (const [left, right] of pairs) {
    partner[left] = right;
    partner[right] = left;
  }
  const mirroredPartner = partner.map((_, place) => {
    const other = partner[n - 1 - place]!;
    return other < 0 ? -1 : n - 1 - other;
  });
  const orders = [
    closeWhenOnTop(partner),
    closeWhenOnTop(mirroredPartner)
      .map((place) => n - 1 - place)
      .reverse(),
    besideEachOther(partner),
  ];
  return orders.map((order) => targetOf(order, colours));
}

/** Left ends stay in their order; a right end waits until no fold opened after its own is still open. */
function closeWhenOnTop(partner: readonly number[]): number[] {
  const order: number[] = [];
  const open: number[] = [];
  const isDue = new Uint8Array(partner.length);
  partner.forEach((other, place) => {
    if (other < 0) order.push(place);
    else if (other > place) {
      order.push(place);
      open.push(place);
    } else isDue[other] = 1;
    for (let top = open.at(-1); top !== undefined && isDue[top] === 1; top = open.at(-1)) {
      order.push(partner[top]!);
      open.pop();
    }
  });
  return order;
}

/** Folds side by side, by their middles. */
function besideEachOther(partner: readonly number[]): number[] {
  return partner
    .map((other, place) => ({
      place,
      middle: other < 0 ? place : (place + other) / 2,
      first: Math.min(place, other),
    }))
    .sort((a, b) => a.middle - b.middle || a.first - b.first || a.place - b.place)
    .map(({ place }) => place);
}

/** Place each string goes to so that the colours stand as in `order`, strings of one colour without overtaking. */
function targetOf(order: readonly number[], colours: readonly number[]): number[] {
  const goals = new Map<number, number[]>();
  order.forEach((place, at) => {
    const list = goals.get(colours[place]!);
    if (list) list.push(at);
    else goals.set(colours[place]!, [at]);
  });
  const next = new Map<number, number>();
  return colours.map((colour) => {
    const rank = next.get(colour) ?? 0;
    next.set(colour, rank + 1);
    return goals.get(colour)![rank]!;
  });
}
