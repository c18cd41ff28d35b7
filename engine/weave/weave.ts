/**
 * Follows the strings down the band: which string shows in each knot, and how the strings stand before each row.
 *
 * Layout. With N strings, `stride = N >> 1` and R rows: `shownFlat[row * stride + k]` is the string (its place at the top,
 * from 0) whose colour shows in knot k, -1 where the pair is untied or the row has no such knot;
 * `orderFlat[row * N + place]` is the string that hangs at `place` before that row, row R after the last.
 */
import { assertPattern, type Pattern, rowStride } from '../pattern/index.ts';

/** What {@link weave} finds. The lists of rows are views over the flat arrays, made when first asked for. */
export class Weave {
  readonly strings: number;
  readonly rows: number;
  readonly start: 0 | 1;
  readonly shownFlat: Int16Array;
  readonly orderFlat: Int16Array;
  #shown: readonly Int16Array[] | null = null;
  #order: readonly Int16Array[] | null = null;

  constructor(strings: number, rows: number, start: 0 | 1, shownFlat: Int16Array, orderFlat: Int16Array) {
    this.strings = strings;
    this.rows = rows;
    this.shownFlat = shownFlat;
    this.orderFlat = orderFlat;
    this.start = start;
  }

  /** `shown[row][k]`: the string that shows in that knot, -1 where none; a row is as long as it has knots. */
  get shown(): readonly Int16Array[] {
    if (this.#shown === null) {
      const stride = rowStride(this.strings);
      this.#shown = Array.from({ length: this.rows }, (_, row) => {
        const count = (this.strings - ((this.start + row) & 1)) >> 1;
        return this.shownFlat.subarray(row * stride, row * stride + count);
      });
    }
    return this.#shown;
  }

  /** `order[row][place]`: the string that hangs there before that row. */
  get order(): readonly Int16Array[] {
    if (this.#order === null)
      this.#order = Array.from({ length: this.rows }, (_, row) =>
        this.orderFlat.subarray(row * this.strings, (row + 1) * this.strings),
      );
    return this.#order;
  }

  /** The strings, left to right, after the last row. */
  get finalOrder(): Int16Array {
    return this.orderFlat.subarray(this.rows * this.strings, (this.rows + 1) * this.strings);
  }
}

/**
 * Weaves rows `from` to `to - 1` into the flat arrays; `orderFlat` must hold the order before row `from`.
 * Knot codes 1 and 2 change places, 1 and 3 show the left string (see engine/pattern).
 */
function weaveRowsInto(
  strings: number,
  start: 0 | 1,
  knots: Uint8Array,
  from: number,
  to: number,
  shownFlat: Int16Array,
  orderFlat: Int16Array,
): void {
  const stride = strings >> 1;
  for (let row = from; row < to; row++) {
    const parity = (start + row) & 1;
    const count = (strings - parity) >> 1;
    const cell = row * stride;
    const above = row * strings;
    const below = above + strings;
    if (parity === 1) orderFlat[below] = orderFlat[above]!;
    if (((strings - parity) & 1) === 1) orderFlat[below + strings - 1] = orderFlat[above + strings - 1]!;
    for (let k = 0, place = parity; k < count; k++, place += 2) {
      const knot = knots[cell + k]!;
      const left = orderFlat[above + place]!;
      const right = orderFlat[above + place + 1]!;
      const isCrossing = knot === 1 || knot === 2;
      orderFlat[below + place] = isCrossing ? right : left;
      orderFlat[below + place + 1] = isCrossing ? left : right;
      shownFlat[cell + k] = knot === 0 ? -1 : (knot & 1) === 1 ? left : right;
    }
    if (count < stride) shownFlat[cell + count] = -1;
  }
}

/**
 * Which string shows in every knot, and the order of the strings before every row.
 * @param pattern any valid pattern, 2 to 200 strings, up to 20,000 rows
 * @returns `shown`, `order` and `finalOrder`, and the flat arrays they are views of
 * @throws RangeError when strings, rows, start and cells do not fit together
 * O(rows x strings). Rules W1 to W3 in engine/RULES.md. Source of the knot model: Dillmont, Encyclopedia of Needlework,
 * "Macramé", Formation of the knots: the knotting string's colour shows, the carrier is hidden.
 */
export function weave(pattern: Pattern): Weave {
  assertPattern(pattern);
  const strings = pattern.colours.length;
  const { rows, start, knots } = pattern;
  const shownFlat = new Int16Array(rows * (strings >> 1));
  const orderFlat = new Int16Array((rows + 1) * strings);
  for (let place = 0; place < strings; place++) orderFlat[place] = place;
  weaveRowsInto(strings, start, knots, 0, rows, shownFlat, orderFlat);
  return new Weave(strings, rows, start, shownFlat, orderFlat);
}

/** Rows `from` up to, not including, `to`. */
export interface RowSpan {
  readonly from: number;
  readonly to: number;
}

/**
 * Brings what was woven up to date after knots changed; the lists of rows already taken from `woven` stay valid.
 * @param pattern the pattern as it is now: strings, rows and start as when `woven` was made
 * @param changed the rows in which knots were changed
 * @param woven   what {@link weave} or this function found before; edited in place
 * @returns the rows that were woven anew: from the first changed one until the strings stand as before, below the last
 * @throws RangeError when the size or the stagger is another, or `changed` does not lie in the pattern
 * O(rows woven anew x strings). Rule W7.
 */
export function reweaveInto(pattern: Pattern, changed: RowSpan, woven: Weave): RowSpan {
  const strings = pattern.colours.length;
  const { from, to } = changed;
  if (strings !== woven.strings || pattern.rows !== woven.rows || pattern.start !== woven.start)
    throw new RangeError(
      `${strings} strings x ${pattern.rows} rows from ${pattern.start} are not the ` +
        `${woven.strings} x ${woven.rows} from ${woven.start} that were woven`,
    );
  if (!(Number.isInteger(from) && Number.isInteger(to) && from >= 0 && from <= to && to <= pattern.rows))
    throw new RangeError(`rows ${from} to ${to} do not lie in 0 to ${pattern.rows}`);
  if (from === to) return changed;
  const { shownFlat, orderFlat } = woven;
  const before = new Int16Array(strings);
  for (let row = from; row < pattern.rows; row++) {
    const below = orderFlat.subarray((row + 1) * strings, (row + 2) * strings);
    before.set(below);
    weaveRowsInto(strings, pattern.start, pattern.knots, row, row + 1, shownFlat, orderFlat);
    if (row + 1 >= to && isSameOrder(before, below)) return { from, to: row + 1 };
  }
  return { from, to: pattern.rows };
}

function isSameOrder(a: Int16Array, b: Int16Array): boolean {
  for (let place = 0; place < a.length; place++) if (a[place] !== b[place]) return false;
  return true;
}
