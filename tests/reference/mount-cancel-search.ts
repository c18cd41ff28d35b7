/**
 * Proves how few crossings an order can have.
 *
 * From left to right, what matters of the folds still open is only the word of their colours. The next place closes the latest
 * open fold of its colour, which crosses the folds opened after that one, or opens a fold, or is the single of a colour of odd
 * count. Equal neighbours in the word may be joined at once without harm (engine/mount/search/reduced-word.ts), open or not, so only reduced words
 * come in, and a place that meets its colour at the end of the word always closes. What pairs of colours prove (mount-open-bound.ts)
 * for the word with the places to come leaves out all that costs too much.
 */
import { OpenBound } from './mount-open-bound.ts';

const BASE = 33;

interface Open {
  readonly crossings: number;
  /** What pairs of colours prove that is still to come. */
  readonly bound: number;
  readonly before: Open | null;
  /** What became of the last place: how many folds its fold crosses, or opened, or single. */
  readonly move: number;
}

const OPENED = -1;
const SINGLE = -2;

export interface CancelResult {
  /** A pairing with at most so many crossings, and as few as there are; null when there is none, or room was wanting. */
  readonly pairs: readonly [number, number][] | null;
  /** Whether that is proven. */
  readonly complete: boolean;
  /** Words looked at. */
  readonly looked: number;
}

/**
 * The fewest crossings if they are no more than `atMost`.
 * @param colours colour number of each place, numbers from 0 without gaps; no two neighbours alike
 * @param room    most words looked at in all
 */
export function cancelSearch(colours: readonly number[], atMost: number, room: number): CancelResult {
  const n = colours.length;
  const kinds = Math.max(...colours) + 1;
  const bounds = new OpenBound(colours);
  const left = new Int32Array(kinds);
  for (const colour of colours) left[colour]!++;
  const isOdd = Array.from(left, (count) => count % 2 === 1);
  const letters = Array.from(left, (_, colour) => String.fromCharCode(BASE + colour));
  const countIn = (word: string, letter: string): number => {
    let count = 0;
    for (let i = 0; i < word.length; i++) if (word[i] === letter) count++;
    return count;
  };
  let front = new Map<string, Open>([
    ['', { crossings: 0, bound: bounds.at('', BASE, 0), before: null, move: OPENED }],
  ]);
  let looked = 0;
  for (let place = 0; place < n; place++) {
    const colour = colours[place]!;
    const letter = letters[colour]!;
    const after = --left[colour]!;
    const next = new Map<string, Open>();
    const put = (word: string, crossings: number, bound: number, before: Open, move: number): void => {
      if (crossings + bound <= atMost) next.set(word, { crossings, bound, before, move });
    };
    const isKnown = (word: string, crossings: number): boolean => {
      const known = next.get(word);
      return known !== undefined && known.crossings <= crossings;
    };
    for (const [word, open] of front) {
      looked++;
      const top = word.lastIndexOf(letter);
      const over = word.length - 1 - top;
      const count = isOdd[colour] || over > 0 ? countIn(word, letter) : 0;
      const isPending = isOdd[colour] && (count + after) % 2 === 0;
      if (top >= 0 && open.crossings + over <= atMost) {
        const shorter = without(word, top);
        const crossings = open.crossings + over;
        if (!isKnown(shorter, crossings)) {
          // Only where the fold passes another colour does the word of those two change.
          let bound = open.bound;
          if (!isPending)
            for (let i = top + 1; i < word.length; i++) {
              const other = word.charCodeAt(i) - BASE;
              if (word.indexOf(letters[other]!, top) < i) continue;
              if (isOdd[other] && (countIn(word, letters[other]!) + left[other]!) % 2 === 1) continue;
              bound +=
                bounds.ofPair(shorter, BASE, place + 1, colour, other) -
                bounds.ofPair(word, BASE, place, colour, other);
            }
          put(shorter, crossings, bound, open, over);
        }
      }
      if (top >= 0 && over === 0) continue;
      if (count + 1 <= after) {
        const longer = word + letter;
        if (!isKnown(longer, open.crossings)) put(longer, open.crossings, open.bound, open, OPENED);
      }
      if (isPending && !isKnown(word, open.crossings))
        put(word, open.crossings, bounds.at(word, BASE, place + 1), open, SINGLE);
    }
    front = next;
    if (looked > room) return { pairs: null, complete: false, looked };
  }
  const end = front.get('');
  return { pairs: end === undefined ? null : pairsOf(colours, end), complete: true, looked };
}

/** The word without one letter, and without the equal neighbours that then meet. */
function without(word: string, at: number): string {
  let from = at;
  let to = at + 1;
  while (from > 0 && to < word.length && word[from - 1] === word[to]) {
    from--;
    to++;
  }
  return word.slice(0, from) + word.slice(to);
}

/** The moves once more, with the places. */
function pairsOf(colours: readonly number[], end: Open): [number, number][] {
  const moves: number[] = [];
  for (let at: Open = end; at.before !== null; at = at.before) moves.push(at.move);
  moves.reverse();
  const pairs: [number, number][] = [];
  const open: number[] = [];
  moves.forEach((move, place) => {
    if (move === SINGLE) return;
    if (move === OPENED) {
      open.push(place);
      return;
    }
    let at = open.length - 1 - move;
    pairs.push([open[at]!, place]);
    open.splice(at, 1);
    while (at > 0 && at < open.length && colours[open[at - 1]!] === colours[open[at]!]) {
      pairs.push([open[at - 1]!, open[at]!]);
      open.splice(at - 1, 2);
      at--;
    }
  });
  return pairs;
}
