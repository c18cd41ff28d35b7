/**
 * Which colour hangs at a place of one repeat in every later repeat, without working the repeats.
 *
 * A string that is at place x after some repeats is the string that hung at `finalOrder[x]` one repeat earlier, so the colours
 * met at place x, repeat after repeat, run round a cycle of the permutation: an endless periodic sequence, the track of x.
 * Tracks that are shifts of one another share a class, named by the least of their words; a track is its class and how far
 * along the word it begins. All of this is exact however many repeats pass until the colours recur.
 */
import type { Pattern } from '../pattern/index.ts';
import { leastPeriod, weave } from '../weave/index.ts';

export interface ColourTracks {
  /** Class of each place's track. */
  readonly classOf: Int32Array;
  /** Least period of each place's track, in repeats. */
  readonly period: Int32Array;
  /** `colour of x in repeat j = word[class][(j + offset) mod period]`. */
  readonly offset: Int32Array;
  /** Class of the track read backwards. */
  readonly backwardClass: Int32Array;
  /** `colour of x in repeat -j = word[backwardClass][(j + backwardOffset) mod period]`. */
  readonly backwardOffset: Int32Array;
}

/** Tracks of all places of the pattern. O(rows x strings + strings²). */
export function colourTracks(pattern: Pattern): ColourTracks {
  const { finalOrder } = weave(pattern);
  const size = pattern.colours.length;
  const kinds = [...new Set(pattern.colours)];
  const colours = pattern.colours.map((id) => kinds.indexOf(id));
  const classes = new Map<string, number>();
  const classFor = (word: readonly number[]): number => {
    const key = word.join();
    const known = classes.get(key);
    if (known !== undefined) return known;
    classes.set(key, classes.size);
    return classes.size - 1;
  };
  const empty = () => new Int32Array(size);
  const tracks = {
    classOf: empty(),
    period: empty(),
    offset: empty(),
    backwardClass: empty(),
    backwardOffset: empty(),
  };
  for (let place = 0; place < size; place++) {
    const ring: number[] = [];
    let at = place;
    do {
      ring.push(colours[at]!);
      at = finalOrder[at]!;
    } while (at !== place);
    const word = ring.slice(0, leastPeriod(ring));
    const backward = [word[0]!, ...word.slice(1).reverse()];
    tracks.period[place] = word.length;
    const start = leastRotation(word);
    tracks.classOf[place] = classFor(rotated(word, start));
    tracks.offset[place] = (word.length - start) % word.length;
    const backwardStart = leastRotation(backward);
    tracks.backwardClass[place] = classFor(rotated(backward, backwardStart));
    tracks.backwardOffset[place] = (word.length - backwardStart) % word.length;
  }
  return tracks;
}

function rotated(word: readonly number[], start: number): number[] {
  return [...word.slice(start), ...word.slice(0, start)];
}

/** Where the least of all rotations of a word begins. O(length), by two candidates that rule each other out (minimal representation). */
function leastRotation(word: readonly number[]): number {
  const n = word.length;
  let [i, j, same] = [0, 1, 0];
  while (i < n && j < n && same < n) {
    const [a, b] = [word[(i + same) % n]!, word[(j + same) % n]!];
    if (a === b) {
      same++;
      continue;
    }
    if (a > b) i += same + 1;
    else j += same + 1;
    if (i === j) j++;
    same = 0;
  }
  return Math.min(i, j);
}
