/**
 * The endless band as a ring of rows: the picture repeated until the colours recur.
 */
import type { Pattern } from '../pattern/index.ts';
import { repeatCycle, weave } from '../weave/index.ts';

/** Most cells of a ring that is looked at as a whole; larger rings are not expanded. */
const MAX_RING_CELLS = 20_000_000;

/** The picture repeated until the colours recur, cell by cell. */
export interface BandCells {
  /** Number of rows of the ring; a period of the picture, and a multiple of the rows of the closed repeat. */
  readonly rows: number;
  /** Places at which a knot may begin: one less than the strings. */
  readonly width: number;
  /** `cells[row * width + place]`: 0 where nothing shows, else 1 + index of the colour. */
  readonly cells: Uint8Array;
}

/** Beside each row of the ring its number: two rows look the same exactly when their numbers are the same. */
export interface BandRows {
  /** Number of each row of the ring. */
  readonly rows: Int32Array;
  /** Number of each row with left and right exchanged; -1 where no row of the ring looks like that. */
  readonly mirrored: Int32Array;
}

/**
 * The ring of rows of the picture; null when it would have more than {@link MAX_RING_CELLS} cells.
 * An odd number of rows is closed by its untied row; a pattern without rows is one empty row.
 * O(rows x strings x repeats until the colours recur).
 */
export function bandCells(pattern: Pattern): BandCells | null {
  const strings = pattern.colours.length;
  const width = strings - 1;
  const perRepeat = pattern.rows + (pattern.rows & 1);
  if (perRepeat === 0) return { rows: 1, width, cells: new Uint8Array(width) };
  const { colours: repeats } = repeatCycle(pattern);
  if (perRepeat * repeats * strings > MAX_RING_CELLS) return null;
  const { shownFlat, finalOrder } = weave(pattern);
  const stride = strings >> 1;
  // At most 200 colours: one byte a cell.
  const kinds = [...new Set(pattern.colours)];
  let colours = Uint8Array.from(pattern.colours, (id) => kinds.indexOf(id) + 1);
  const cells = new Uint8Array(perRepeat * repeats * width);
  for (let repeat = 0; repeat < repeats; repeat++) {
    for (let row = 0; row < pattern.rows; row++) {
      const parity = (pattern.start + row) & 1;
      const at = (repeat * perRepeat + row) * width + parity;
      for (let k = 0; k < (strings - parity) >> 1; k++) {
        const string = shownFlat[row * stride + k]!;
        if (string >= 0) cells[at + 2 * k] = colours[string]!;
      }
    }
    colours = Uint8Array.from(finalOrder, (string) => colours[string]!);
  }
  return { rows: perRepeat * repeats, width, cells };
}

/** Numbers the rows of a ring. O(cells). */
export function bandRows({ rows: total, width, cells }: BandCells): BandRows {
  const numbers = new Map<string, number>();
  const rows = new Int32Array(total);
  const keys: string[] = [];
  for (let at = 0; at < total; at++) {
    const key = String.fromCharCode(...cells.subarray(at * width, (at + 1) * width));
    let number = numbers.get(key);
    if (number === undefined) {
      number = numbers.size;
      numbers.set(key, number);
      keys.push(key);
    }
    rows[at] = number;
  }
  const mirrorOf = keys.map((key) => numbers.get([...key].reverse().join('')) ?? -1);
  return { rows, mirrored: rows.map((number) => mirrorOf[number]!) };
}
