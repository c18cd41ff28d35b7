/** Whether two endless pictures are one and the same, seen in a mirror, moved along or in other colours; else by how much they differ. */
import { closeRepeat, knotsInRow, type Pattern, rowParity } from '../pattern/index.ts';
import { weave } from '../weave/index.ts';

/** A picture that goes on for ever, one period of it. */
export interface EndlessPicture {
  readonly strings: number;
  /** Rows after which it recurs, even. */
  readonly rows: number;
  /** Of row r the knots begin at place (r + start) mod 2. */
  readonly start: 0 | 1;
  /** `cells[row * strings + place]`: number of the colour between this place and the next, 0 untied, -1 where there is no knot. */
  readonly cells: Int16Array;
}

/**
 * The picture of a pattern that repeats without a seam, cut down to its least period.
 * @param numberOf number of each colour, from 1
 * O(rows² x strings) at worst.
 */
export function endlessOf(pattern: Pattern, numberOf: ReadonlyMap<string, number>): EndlessPicture {
  const closed = closeRepeat(pattern);
  const strings = closed.colours.length;
  const { shown } = weave(closed);
  const cells = new Int16Array(closed.rows * strings).fill(-1);
  for (let row = 0; row < closed.rows; row++) {
    const parity = rowParity(closed.start, row);
    for (let k = 0; k < knotsInRow(strings, parity); k++) {
      const string = shown[row]![k]!;
      cells[row * strings + 2 * k + parity] = string < 0 ? 0 : (numberOf.get(closed.colours[string]!) ?? 0);
    }
  }
  let rows = closed.rows;
  for (let period = 2; period < closed.rows; period += 2)
    if (closed.rows % period === 0 && recursAfter(cells, period * strings)) {
      rows = period;
      break;
    }
  return { strings, rows, start: closed.start, cells: cells.slice(0, rows * strings) };
}

function recursAfter(cells: Int16Array, length: number): boolean {
  for (let i = length; i < cells.length; i++) if (cells[i] !== cells[i - length]) return false;
  return true;
}

/** A way to lay a picture on another: mirrored, upside down, and moved along by so many rows. */
interface Motion {
  readonly isMirrored: boolean;
  readonly isUpsideDown: boolean;
  readonly by: number;
}

/** All motions under which the staggers fall on each other. */
function motionsOf(picture: EndlessPicture, onto: EndlessPicture): Motion[] {
  const motions: Motion[] = [];
  for (const isMirrored of [false, true])
    for (const isUpsideDown of [false, true])
      for (let by = 0; by < picture.rows; by++) {
        // Under an odd number of strings the mirror exchanges the two staggers.
        const flip = isMirrored && picture.strings % 2 === 1 ? 1 : 0;
        if ((picture.start + by + flip + onto.start) % 2 === 0)
          motions.push({ isMirrored, isUpsideDown, by });
      }
  return motions;
}

/** Where in `picture.cells` lies what falls on that row and place. */
function cellUnder(picture: EndlessPicture, motion: Motion, row: number, place: number): number {
  const { strings, rows } = picture;
  const along = motion.isUpsideDown ? motion.by - row : motion.by + row;
  const at = ((along % rows) + rows) % rows;
  return at * strings + (motion.isMirrored ? strings - 2 - place : place);
}

/** Whether some motion and some exchange of colours makes one of the other. O(rows² x strings). Rule J31. */
export function isSameFigure(one: EndlessPicture, other: EndlessPicture): boolean {
  if (one.strings !== other.strings || one.rows !== other.rows) return false;
  return motionsOf(one, other).some((motion) => {
    const there = new Map<number, number>();
    const back = new Map<number, number>();
    for (let row = 0; row < other.rows; row++)
      for (let place = 0; place + 1 < other.strings; place++) {
        const a = other.cells[row * other.strings + place]!;
        if (a < 0) continue;
        const b = one.cells[cellUnder(one, motion, row, place)]!;
        // What is open stays open.
        if ((a === 0) !== (b === 0)) return false;
        if ((there.get(a) ?? b) !== b || (back.get(b) ?? a) !== a) return false;
        there.set(a, b);
        back.set(b, a);
      }
    return true;
  });
}

/**
 * The least share of knots that differ, over all ways to lay one on the other, colours as they are.
 *
 * Laid so that row i of the one falls on row j of the other, row i + n falls on row j + n: over the whole band each pair of rows whose
 * difference is the same modulo the greatest common divisor of both periods comes as often as any other. So rows are compared pair by pair,
 * once, and each way adds up a class of pairs.
 * @returns 0 to 1; 1 where the strings are not as many
 * O(rows of the one x rows of the other x strings). Rule J30.
 */
export function shareThatDiffers(one: EndlessPicture, other: EndlessPicture): number {
  if (one.strings !== other.strings) return 1;
  const classes = commonDivisor(one.rows, other.rows);
  let best = 1;
  for (const isMirrored of [false, true]) {
    // Under an odd number of strings the mirror exchanges the two staggers.
    const flip = isMirrored && one.strings % 2 === 1 ? 1 : 0;
    const sums = [0, 1].map(() => ({ knots: new Float64Array(classes), unlike: new Float64Array(classes) }));
    for (let i = 0; i < other.rows; i++)
      for (let j = 0; j < one.rows; j++) {
        if ((one.start + j + flip + other.start + i) % 2 !== 0) continue;
        const { knots, unlike } = compareRows(one, j, other, i, isMirrored);
        for (const [isUpsideDown, sum] of sums.entries()) {
          const at = (isUpsideDown === 1 ? i + j : j - i + other.rows) % classes;
          sum.knots[at]! += knots;
          sum.unlike[at]! += unlike;
        }
      }
    for (const { knots, unlike } of sums)
      for (let at = 0; at < classes; at++)
        if (knots[at]! > 0) best = Math.min(best, unlike[at]! / knots[at]!);
  }
  return best;
}

function compareRows(
  one: EndlessPicture,
  j: number,
  other: EndlessPicture,
  i: number,
  isMirrored: boolean,
): { readonly knots: number; readonly unlike: number } {
  const { strings } = one;
  let [knots, unlike] = [0, 0];
  for (let place = 0; place + 1 < strings; place++) {
    const a = other.cells[i * strings + place]!;
    if (a < 0) continue;
    knots++;
    if (a !== one.cells[j * strings + (isMirrored ? strings - 2 - place : place)]) unlike++;
  }
  return { knots, unlike };
}

function commonDivisor(a: number, b: number): number {
  let [x, y] = [a, b];
  while (y !== 0) [x, y] = [y, x % y];
  return x;
}
