/** A shorter piece: the last row that all strings reach, and the end there. */
import { finishRows } from '../finish/index.ts';
import { allowancesOf, pieceSize, workingGauge } from '../material/index.ts';
import {
  type Board,
  isCrossing,
  isLeftShown,
  type KnotCode,
  type Pattern,
  rowParity,
  rowStride,
} from '../pattern/index.ts';
import { weave } from '../weave/index.ts';
import { piecePattern, type WorkStep } from '../work/index.ts';
import { exchange } from './hanging.ts';

/** What is left of a string, measured from its last knot. */
export interface LeftOver {
  /** By its place at the top. */
  readonly string: number;
  readonly leftMm: number;
}

/**
 * After how many rows of the piece the band can end so that every string measured reaches the end rows there and what closes them; null when
 * that is fewer than are begun. Strings that were not measured count as long enough.
 * @param steps of `workOrder(board, {covers: 'piece', …})`
 * @param at    steps done, 0 to all
 * @throws RangeError when the piece has more than 20,000 rows; FieldRangeError as `cutList`
 * O(rows x strings²) at worst. Rule H16.
 */
export function lastRows(
  board: Board,
  steps: readonly WorkStep[],
  at: number,
  left: readonly LeftOver[],
): number | null {
  const piece = piecePattern(board, 'piece');
  if (!piece.ok) throw new RangeError(piece.error.message);
  const { pattern } = piece.value;
  const { endRows, end } = pieceSize(board);
  const body = pattern.rows - endRows;
  const done = steps.slice(0, at);
  const begun = done.reduce((most, { row }) => Math.max(most, row + 1), 0);
  const { tailMm, spareMm } = allowancesOf(
    board.piece,
    workingGauge(board.gauge).cordMm.valueMm,
    board.pattern.colours.length,
  );
  const roomMm = left.map(({ leftMm }) => leftMm - tailMm - spareMm);
  const walk = new NeedWalk(board, pattern, done, left);
  const fits = (needMm: readonly number[]): boolean => needMm.every((need, i) => need <= roomMm[i]!);
  // Who has begun the end rows has no rows left to leave out.
  if (begun > body) return fits(walk.needAfter(pattern.rows)) ? body : null;
  for (let rows = body; rows >= begun; rows--) if (fits(walk.needWithEnd(rows, end))) return rows;
  return null;
}

/** What the measured strings take from their last done knot on. */
class NeedWalk {
  readonly #pattern: Pattern;
  readonly #strings: readonly number[];
  readonly #orders: Int16Array;
  readonly #mm: { readonly knotting: number; readonly carrier: number; readonly row: number };
  /** By number of rows worked, what each takes. */
  readonly #needMm: (readonly number[])[];

  constructor(board: Board, pattern: Pattern, done: readonly WorkStep[], left: readonly LeftOver[]) {
    const { knottingMm, carrierMm, rowMm } = workingGauge(board.gauge);
    this.#mm = { knotting: knottingMm.valueMm, carrier: carrierMm.valueMm, row: rowMm.valueMm };
    this.#pattern = pattern;
    this.#strings = left.map(({ string }) => string);
    this.#orders = weave(pattern).orderFlat;
    const isDone = new Set(done.map(({ row, k }) => `${row} ${k}`));
    let needMm: readonly number[] = left.map(() => 0);
    this.#needMm = [needMm];
    for (let row = 0; row < pattern.rows; row++) {
      const order = this.#orderAfter(row);
      needMm = this.#strings.map((string, i) => {
        const { k, takesMm } = this.#takes(pattern, row, order.indexOf(string));
        return k !== null && isDone.has(`${row} ${k}`) ? 0 : needMm[i]! + takesMm;
      });
      this.#needMm.push(needMm);
    }
  }

  needAfter(rows: number): readonly number[] {
    return this.#needMm[rows]!;
  }

  needWithEnd(rows: number, end: Parameters<typeof finishRows>[1]): readonly number[] {
    const finish = { ...this.#pattern, ...finishRows({ ...this.#pattern, rows }, end) };
    const order = this.#orderAfter(rows).slice();
    const stride = rowStride(order.length);
    const needMm = [...this.needAfter(rows)];
    for (let row = 0; row < finish.rows; row++) {
      this.#strings.forEach((string, i) => {
        needMm[i]! += this.#takes(finish, row, order.indexOf(string)).takesMm;
      });
      const parity = rowParity(finish.start, row);
      for (let k = 0; 2 * k + parity + 1 < order.length; k++)
        if (isCrossing(finish.knots[row * stride + k] as KnotCode)) exchange(order, 2 * k + parity);
    }
    return needMm;
  }

  #orderAfter(rows: number): Int16Array {
    const strings = this.#pattern.colours.length;
    return this.#orders.subarray(rows * strings, (rows + 1) * strings);
  }

  /** What the string at a place takes in a row, and by which knot; null when it hangs. */
  #takes(
    pattern: Pattern,
    row: number,
    place: number,
  ): { readonly k: number | null; readonly takesMm: number } {
    const strings = pattern.colours.length;
    const parity = rowParity(pattern.start, row);
    const k = (place - parity) >> 1;
    const isAtEdge = place < parity || 2 * k + parity + 1 >= strings;
    const knot = (isAtEdge ? 0 : pattern.knots[row * rowStride(strings) + k]!) as KnotCode;
    if (knot === 0) return { k: null, takesMm: this.#mm.row };
    const isLeft = place === 2 * k + parity;
    return { k, takesMm: isLeft === isLeftShown(knot) ? this.#mm.knotting : this.#mm.carrier };
  }
}
