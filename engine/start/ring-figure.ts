/**
 * Figures in which the strings that show run side by side and turn together.
 *
 * In each knot of a part one string is of the lane that shows, the other of the lane that carries. At the edges of the part a string goes
 * from one lane to the other, so both lanes are one ring of strings, two places apart. A ring of `m` strings turned by `turn` places has the
 * string of slot `i` at `z = 2i + turn` (mod 2m): at place z of the lane that shows where z < m, at place 2m - 1 - z of the other else.
 * A forward knot turns the ring by one, a backward one back; the two bends leave it and change the direction. All rows of a part are of one
 * knot, so what shows between the places p and p + 1 is slot (p + 1 - turn) >> 1, whatever the row.
 */
import { BACKWARD, BACKWARD_FORWARD, FORWARD, FORWARD_BACKWARD, type KnotCode } from '../pattern/index.ts';

/** The knot of each row of the first part, from the top. Forward or forward-backward follows on forward and backward-forward alone. */
export type Steps = readonly KnotCode[];

/** Rows of stripes that never turn, so many. */
export function straightOn(rows: number): Steps {
  return new Array<KnotCode>(rows).fill(FORWARD);
}

/** There and back: `size` rows each way, the last of them the bend. */
export function thereAndBack(size: number): Steps {
  const way = size - 1;
  return [
    ...new Array<KnotCode>(way).fill(FORWARD),
    FORWARD_BACKWARD,
    ...new Array<KnotCode>(way).fill(BACKWARD),
    BACKWARD_FORWARD,
  ];
}

/** There and back, slower towards the turns, so that they are round; `size` places each way. */
export function swayed(size: number): Steps {
  const eased = size < 3 ? 0 : Math.max(1, size >> 2);
  const steps: KnotCode[] = [];
  const go = (move: KnotCode, bend: KnotCode, back: KnotCode): void => {
    for (let i = 0; i < size; i++) {
      steps.push(move);
      // A step to the side after every third row.
      if (i < eased || (i < size - 1 && i >= size - 1 - eased)) steps.push(bend, back);
    }
    steps.push(bend, back, bend);
  };
  go(FORWARD, FORWARD_BACKWARD, BACKWARD_FORWARD);
  go(BACKWARD, BACKWARD_FORWARD, FORWARD_BACKWARD);
  return steps;
}

/** Which slot of the ring hangs at a place. */
export function slotAt(strings: number, turn: number, place: number): number {
  const isShown = (place - turn) % 2 === 0;
  const z = isShown ? place : 2 * strings - 1 - place;
  return modulo((z - turn) / 2, strings);
}

/** Whether the string that shows is the left one of its pair. */
function isLeftward(step: KnotCode): boolean {
  return step === FORWARD || step === FORWARD_BACKWARD;
}

/** The stagger under which the first step fits the turn of the ring. */
export function startOf(steps: Steps, turn: number): 0 | 1 {
  const first = steps[0] as KnotCode;
  return modulo(isLeftward(first) ? turn : turn + 1, 2) as 0 | 1;
}

/** Least number of slots after which a word that goes round stands as before. */
export function periodOf(word: readonly number[]): number {
  const n = word.length;
  for (let period = 1; period < n; period++)
    if (n % period === 0 && word.every((colour, i) => colour === word[(i + period) % n])) return period;
  return n;
}

export function modulo(value: number, n: number): number {
  return ((value % n) + n) % n;
}
