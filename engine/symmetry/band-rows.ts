/**
 * The endless band as a ring of rows: the picture repeated until the colours recur, each row as a number, so that two rows
 * look the same exactly when their numbers are the same; and beside it the numbers of the rows seen in a mirror.
 */
import type { Pattern } from '../pattern/index.ts';
import { repeatCycle, weave } from '../weave/index.ts';

/** Cells of the ring that are looked at; larger rings are not expanded. */
export const MAX_RING_CELLS = 20_000_000;

export interface BandRows {
  /** Number of each row of the ring; its length is a period of the picture. */
  readonly rows: Int32Array;
  /** Number of each row with left and right exchanged; -1 where no row of the ring looks like that. */
  readonly mirrored: Int32Array;
}

/**
 * The ring of rows of the picture; null when it would have more than {@link MAX_RING_CELLS} cells.
 * An odd number of rows is closed by its untied row. O(rows x strings x repeats until the colours recur).
 */
export function bandRows(pattern: Pattern): BandRows | null {
  const strings = pattern.colours.length;
  const perRepeat = pattern.rows + (pattern.rows & 1);
  const { colours: repeats } = repeatCycle(pattern);
  if (perRepeat === 0) return { rows: new Int32Array(1), mirrored: new Int32Array(1) };
  if (perRepeat * repeats * strings > MAX_RING_CELLS) return null;
  const woven = weave(pattern);
  const stride = strings >> 1;
  const kinds = [...new Set(pattern.colours)];
  let colours = Int32Array.from(pattern.colours, (id) => kinds.indexOf(id) + 1);
  const numbers = new Map<string, number>();
  const total = perRepeat * repeats;
  const rows = new Int32Array(total);
  const keys: string[] = new Array(total);
  // Two UTF-16 units are never needed: at most 200 colours, 0 for "nothing shows at this place".
  const cells = new Uint16Array(strings - 1);
  for (let repeat = 0, at = 0; repeat < repeats; repeat++) {
    for (let row = 0; row < perRepeat; row++, at++) {
      cells.fill(0);
      if (row < pattern.rows) {
        const parity = (pattern.start + row) & 1;
        for (let k = 0; k < (strings - parity) >> 1; k++) {
          const string = woven.shownFlat[row * stride + k]!;
          if (string >= 0) cells[2 * k + parity] = colours[string]!;
        }
      }
      const key = String.fromCharCode(...cells);
      let number = numbers.get(key);
      if (number === undefined) {
        number = numbers.size;
        numbers.set(key, number);
      }
      rows[at] = number;
      keys[at] = key;
    }
    const below = woven.finalOrder;
    const next = new Int32Array(strings);
    for (let place = 0; place < strings; place++) next[place] = colours[below[place]!]!;
    colours = next;
  }
  const mirrored = new Int32Array(total);
  const known = new Map<string, number>();
  for (let at = 0; at < total; at++) {
    const key = keys[at]!;
    let number = known.get(key);
    if (number === undefined) {
      number = numbers.get([...key].reverse().join('')) ?? -1;
      known.set(key, number);
    }
    mirrored[at] = number;
  }
  return { rows, mirrored };
}
