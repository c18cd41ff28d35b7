/**
 * Lead-ins of a given number of rows, looked for from left to right: nothing of the engine is used.
 *
 * A neat order is laid down string by string. The first k of them, wherever they hang in the order asked, must be the leftmost k after so
 * many staggered rows; colours still open are a stack. What can still become of a beginning depends on which strings were taken and on the
 * stack, so equal ones are kept once; of all the most promising `width` are kept. Where never more were there, nothing was left
 * out, and no lead-in of so many rows exists.
 */

/** What is kept of a beginning. */
interface Beginning {
  /** 1 for each place of the order asked whose string was taken. */
  readonly taken: Uint8Array;
  readonly counts: Uint8Array;
  readonly stack: readonly number[];
  /** 1 for each colour of odd count whose single was taken. */
  readonly singles: Uint8Array;
  readonly exchanges: number;
  readonly before: Beginning | null;
  readonly place: number;
}

export interface PrefixOptions {
  readonly width: number;
  /** Weights of exchanges made, of pairs of colours that cross, and of what is left when equal neighbours are folded away. */
  readonly weights: { readonly exchanges: number; readonly crossings: number; readonly left: number };
  /** Draws a share of what is added to each score; for another way at each call. */
  readonly random: () => number;
}

export interface PrefixResult {
  /** Places of the order asked in the order of the neat one; null where none was found. */
  readonly order: readonly number[] | null;
  /** Whether no beginning was left out. */
  readonly isWhole: boolean;
}

/** Looks for a neat order from which so many rows, or fewer, lead to the one asked. */
export function searchPrefixes(
  colours: readonly number[],
  start: 0 | 1,
  rows: number,
  { width, weights, random }: PrefixOptions,
): PrefixResult {
  const n = colours.length;
  const kinds = Math.max(...colours) + 1;
  const places: number[][] = Array.from({ length: kinds }, () => []);
  colours.forEach((colour, place) => {
    places[colour]!.push(place);
  });
  const crossingsBetween = (one: Beginning, a: number, b: number): number => {
    let length = 0;
    let last = -1;
    const read = (colour: number): void => {
      if (length > 0 && last === colour) {
        length--;
        last = colour === a ? b : a;
      } else {
        length++;
        last = colour;
      }
    };
    for (const colour of one.stack) if (colour === a || colour === b) read(colour);
    let i = one.counts[a]!;
    let j = one.counts[b]!;
    const [listA, listB] = [places[a]!, places[b]!];
    while (i < listA.length || j < listB.length)
      if (j >= listB.length || (i < listA.length && listA[i]! < listB[j]!)) {
        read(a);
        i++;
      } else {
        read(b);
        j++;
      }
    return length >> 2;
  };
  const scoreOf = (one: Beginning): number => {
    let score = weights.exchanges * one.exchanges + random();
    if (weights.crossings > 0) {
      let crossings = 0;
      for (let a = 0; a < kinds; a++)
        for (let b = a + 1; b < kinds; b++) crossings += crossingsBetween(one, a, b);
      score += weights.crossings * crossings;
    }
    if (weights.left > 0) {
      const left = [...one.stack];
      for (let place = 0; place < n; place++) {
        if (one.taken[place] === 1) continue;
        if (left.at(-1) === colours[place]) left.pop();
        else left.push(colours[place]!);
      }
      score += weights.left * left.length;
    }
    return score;
  };

  let front: Beginning[] = [
    {
      taken: new Uint8Array(n),
      counts: new Uint8Array(kinds),
      stack: [],
      singles: new Uint8Array(kinds),
      exchanges: 0,
      before: null,
      place: -1,
    },
  ];
  let isWhole = true;
  for (let k = 1; k <= n; k++) {
    const next = new Map<string, Beginning>();
    for (const one of front)
      for (let colour = 0; colour < kinds; colour++) {
        const place = places[colour]![one.counts[colour]!];
        if (place === undefined || place - (k - 1) > rows) continue;
        const taken = one.taken.slice();
        taken[place] = 1;
        if (rowsToLeft(taken, k, start) > rows) continue;
        const counts = one.counts.slice();
        counts[colour]!++;
        let passed = 0;
        for (let at = 0; at < place; at++) passed += 1 - taken[at]!;
        const base = { taken, counts, exchanges: one.exchanges + passed, before: one, place };
        // Equal neighbours of a colour of even count can always be folded; one of odd count has its single besides.
        const stack = one.stack.at(-1) === colour ? one.stack.slice(0, -1) : [...one.stack, colour];
        if (stack.length <= n - k) {
          const made = { ...base, stack, singles: one.singles };
          next.set(keyOf(made), made);
        }
        if (places[colour]!.length % 2 === 1 && one.singles[colour] === 0) {
          const singles = one.singles.slice();
          singles[colour] = 1;
          const made = { ...base, stack: one.stack, singles };
          next.set(keyOf(made), made);
        }
      }
    if (next.size <= width) front = [...next.values()];
    else {
      isWhole = false;
      front = [...next.values()]
        .map((one) => ({ one, score: scoreOf(one) }))
        .sort((a, b) => a.score - b.score)
        .slice(0, width)
        .map(({ one }) => one);
    }
  }
  const [end] = front.filter(({ stack }) => stack.length === 0);
  if (end === undefined) return { order: null, isWhole };
  const order: number[] = [];
  for (let at: Beginning = end; at.before !== null; at = at.before) order.unshift(at.place);
  return { order, isWhole };
}

function keyOf({ taken, stack, singles }: Beginning): string {
  return String.fromCharCode(...taken, 2, ...stack, 300, ...singles);
}

/** Rows after which the k strings taken hang leftmost, worked row by row: they go left wherever another hangs left of one. */
function rowsToLeft(taken: Uint8Array, k: number, start: 0 | 1): number {
  const order = taken.slice();
  let behind = 0;
  for (let place = k; place < order.length; place++) behind += order[place]!;
  for (let row = 1; ; row++) {
    if (behind === 0) return row - 1;
    for (let place = (start + row) & 1; place + 1 < order.length; place += 2)
      if (order[place] === 0 && order[place + 1] === 1) {
        order[place] = 1;
        order[place + 1] = 0;
        if (place === k - 1) behind--;
      }
  }
}
