/** A near miss mended: what should show in a part of a board, with as few other knots as possible while the rest stays. */
import {
  type Board,
  type KnotCode,
  KNOT_TOKENS,
  knotsInRow,
  rowParity,
  rowStride,
} from '../pattern/index.ts';
import { type Cell, type Stagger, neighboursOf, staggerOf } from '../picture/index.ts';
import { solvePicture } from '../solve/index.ts';
import { weave } from '../weave/index.ts';
import { assertFits } from './try-wish.ts';
import { OPEN, type Wish, wishFrom } from './wish.ts';

/** Which knots may be others: those painted on; all of the part; all of the board, of which what lies outside the part shows the same. */
type MendReach = 'painted' | 'part' | 'around';

/** A board mended. Every figure was counted on the woven board. */
export interface WishMend {
  readonly reach: MendReach;
  /** The board given, with other knots. */
  readonly board: Board;
  /** Knots that are others now, in reading order. */
  readonly changed: readonly Cell[];
  /** Cells of the part that show another colour than is wanted. */
  readonly wrongCells: readonly (readonly [row: number, k: number])[];
  /** Whether no knots within that reach leave fewer. */
  readonly proven: boolean;
  /** Whether it is certain that fewer knots would not do; else none of them alone could have stayed. */
  readonly isFewest: boolean;
}

/** How it is mended. */
interface WishMendOptions {
  /** Steps of each search; default {@link MEND_STEPS}. */
  readonly steps?: number;
  /** Told all ways so far as soon as there is one more. */
  readonly onMend?: (mends: readonly WishMend[]) => void;
  /** Told the share done, rising to 1. */
  readonly onProgress?: (share: number) => void;
}

const MEND_STEPS = 20_000_000;
/** Of those steps, for each try whether one knot more can stay. */
const STAY_SHARE = 0.1;
/** What a cell outside the part counts beside one inside. */
const OUTSIDE_WEIGHT = 1000;
/** How far from what was painted knots are freed, in knots, before all are. */
const DISTANCES = [0, 1, 2, 4] as const;
/** Boards that are tried one by one to prove that fewer knots would not do. */
const MOST_TRIED = 20_000;

/**
 * Ways to let a part of a board show what is wanted: nothing outside the part shows another colour, strings keep their places at the top, and untied pairs outside it
 * stay untied. First come as few wrong cells as the reach allows, then as few changed knots. Of ways of one pattern the first is given, and a wider reach is tried
 * only while cells are wrong.
 * @param wish of the board's size, in colours of its palette; what it says outside the part does not count
 * @param isIn whether a knot, by its row and its left place, is of the part
 * @throws RangeError for a wish of another size or in other colours. Same input, same answer. Rules J60 to J63.
 */
export function mendToWish(
  board: Board,
  wish: Wish,
  isIn: (row: number, place: number) => boolean,
  options: WishMendOptions = {},
): readonly WishMend[] {
  assertFits(board, wish);
  const task = taskOf(board, wish, isIn);
  const { steps = MEND_STEPS, onMend, onProgress } = options;
  const mends: WishMend[] = [];
  const missing = task.cells.filter((at) => task.isIn[at] === 1 && task.isWrong(board.pattern.knots, at));
  if (missing.length > 0) {
    const part = task.cells.filter((at) => task.isIn[at] === 1);
    const around = task.cells.filter((at) => task.isIn[at] === 1 || board.pattern.knots[at] !== 0);
    const reaches: readonly (readonly [MendReach, readonly number[]])[] = [
      ['painted', missing],
      ['part', part],
      ['around', around],
    ];
    reaches.forEach(([reach, free], i) => {
      if (mends.every(({ wrongCells }) => wrongCells.length > 0)) {
        const found = mendWithin(task, reach, free, missing, steps);
        const isNew = !mends.some(({ board: { pattern } }) =>
          isSame(pattern.knots, found.board.pattern.knots),
        );
        if (isNew && found.changed.length > 0) {
          mends.push(found);
          onMend?.([...mends]);
        }
      }
      onProgress?.((i + 1) / reaches.length);
    });
  }
  onProgress?.(1);
  return mends;
}

/** What is to show where, and what a miss counts. */
interface Task {
  readonly board: Board;
  readonly stagger: Stagger;
  readonly target: Wish;
  readonly weights: readonly (readonly number[])[];
  /** By cell: 1 in the part. */
  readonly isIn: Uint8Array;
  /** All cells that are knots or could be, in reading order. */
  readonly cells: readonly number[];
  /** Whether a wanted cell shows another colour under these knots. */
  isWrong(knots: Uint8Array, cell: number): boolean;
  /** What is wrong under these knots, weighed. */
  costOf(knots: Uint8Array): number;
}

function taskOf(board: Board, wish: Wish, isInside: (row: number, place: number) => boolean): Task {
  const { pattern } = board;
  const stride = rowStride(wish.strings);
  const isIn = new Uint8Array(wish.rows.length * stride);
  const cells: number[] = [];
  const now = wishFrom(board);
  const indexOf = new Map(board.palette.map(({ id }, index) => [id, index]));
  const wanted = new Int16Array(isIn.length).fill(OPEN);
  for (let row = 0; row < wish.rows.length; row++) {
    const parity = rowParity(pattern.start, row);
    for (let k = 0; k < knotsInRow(wish.strings, parity); k++) {
      const at = row * stride + k;
      cells.push(at);
      isIn[at] = isInside(row, 2 * k + parity) ? 1 : 0;
      const cell = wish.rows[row]![k]!;
      if (isIn[at] === 0) wanted[at] = now.rows[row]![k]!;
      else if (cell !== OPEN) wanted[at] = indexOf.get(wish.palette[cell]!.id)!;
    }
  }
  const byRow = (value: (at: number) => number): number[][] =>
    wish.rows.map((row, r) => row.map((_, k) => value(r * stride + k)));
  const top = pattern.colours.map((id) => indexOf.get(id)!);
  const weightOf = (at: number): number => (isIn[at] === 1 ? 1 : OUTSIDE_WEIGHT);
  const wrongIn = (shown: Int16Array, at: number): boolean =>
    wanted[at] !== OPEN && (shown[at]! < 0 || top[shown[at]!] !== wanted[at]);
  const shownBy = (knots: Uint8Array): Int16Array => weave({ ...pattern, knots }).shownFlat;
  return {
    board,
    stagger: staggerOf(pattern),
    target: { ...wish, palette: board.palette, rows: byRow((at) => wanted[at]!) },
    weights: byRow(weightOf),
    isIn,
    cells,
    isWrong: (knots, cell) => wrongIn(shownBy(knots), cell),
    costOf: (knots) => {
      const shown = shownBy(knots);
      return cells.reduce((cost, at) => cost + (wrongIn(shown, at) ? weightOf(at) : 0), 0);
    },
  };
}

function mendWithin(
  task: Task,
  reach: MendReach,
  free: readonly number[],
  missing: readonly number[],
  steps: number,
): WishMend {
  const { board, isIn, cells, stagger } = task;
  const own = board.pattern.knots;
  const best = solveFree(task, free, steps);
  let knots = best.knots;
  const { cost } = best;
  // The nearer to what was painted, the fewer knots can change.
  for (const distance of DISTANCES) {
    const near = withinReach(task, missing, distance).filter((at) => free.includes(at));
    if (near.length >= free.length) break;
    const found = solveFree(task, near, steps);
    if (found.cost > cost) continue;
    knots = found.knots;
    break;
  }
  let changed = changedCells(own, knots, cells);
  for (const at of [...changed]) {
    if (!changed.includes(at)) continue;
    const found = solveFree(
      task,
      changed.filter((other) => other !== at),
      Math.ceil(steps * STAY_SHARE),
    );
    if (found.cost > cost) continue;
    knots = found.knots;
    changed = changedCells(own, knots, cells);
  }
  const { fewer, isFewest } = fewerByTrying(task, free, cost, changed.length);
  if (fewer !== null) {
    knots = fewer;
    changed = changedCells(own, knots, cells);
  }
  const stride = rowStride(stagger.strings);
  const cellOf = (at: number): Cell => ({ row: Math.floor(at / stride), k: at % stride });
  return {
    reach,
    board: { ...board, pattern: { ...board.pattern, knots } },
    changed: changed.map(cellOf),
    wrongCells: cells
      .filter((at) => isIn[at] === 1 && task.isWrong(knots, at))
      .map((at) => [Math.floor(at / stride), at % stride] as const),
    proven: best.proven,
    isFewest,
  };
}

interface Solved {
  readonly knots: Uint8Array;
  readonly cost: number;
  readonly proven: boolean;
}

/** The cheapest knots where those not named stay; the board's own where none is cheaper. */
function solveFree(
  { board, target, weights, cells, costOf }: Task,
  free: readonly number[],
  steps: number,
): Solved {
  const own = board.pattern.knots;
  const stride = rowStride(target.strings);
  const isFree = new Set(free);
  const keep = cells
    .filter((at) => !isFree.has(at))
    .map((at) => ({ row: Math.floor(at / stride), k: at % stride, kind: KNOT_TOKENS[own[at] as KnotCode] }));
  const ownCost = costOf(own);
  if (free.length === 0) return { knots: own, cost: ownCost, proven: true };
  const order = board.pattern.colours;
  const found = solvePicture(target, { order, keep, weights, mayStayOpen: true, steps });
  // The board as it is meets all conditions: what fails is that nothing was found in the steps.
  if (!found.ok || found.wrongWeight > ownCost) return { knots: own, cost: ownCost, proven: false };
  const { knots } = found.board.pattern;
  return { knots, cost: costOf(knots), proven: found.proven };
}

/** The cells so many knots from these at most. */
function withinReach({ stagger }: Task, from: readonly number[], distance: number): readonly number[] {
  const stride = rowStride(stagger.strings);
  const seen = new Set(from);
  let edge = from;
  for (let step = 0; step < distance; step++) {
    const next: number[] = [];
    for (const at of edge)
      for (const { row, k } of neighboursOf(stagger, { row: Math.floor(at / stride), k: at % stride })) {
        const cell = row * stride + k;
        if (seen.has(cell)) continue;
        seen.add(cell);
        next.push(cell);
      }
    edge = next;
  }
  return [...seen];
}

/** Tries every board of fewer changed knots, up to two, where they are not too many. */
function fewerByTrying(
  { board, costOf }: Task,
  free: readonly number[],
  cost: number,
  count: number,
): { readonly fewer: Uint8Array | null; readonly isFewest: boolean } {
  const kinds = KNOT_TOKENS.length - 1;
  const pairs = ((free.length * (free.length - 1)) / 2) * kinds * kinds;
  if (count <= 1) return { fewer: null, isFewest: true };
  if (free.length * kinds > MOST_TRIED) return { fewer: null, isFewest: false };
  const knots = board.pattern.knots.slice();
  const tryFrom = (from: number, left: number): boolean => {
    if (left === 0) return costOf(knots) <= cost;
    for (let i = from; i < free.length; i++) {
      const at = free[i]!;
      const own = knots[at]!;
      for (let code = 0; code <= kinds; code++) {
        if (code === own) continue;
        knots[at] = code;
        if (tryFrom(i + 1, left - 1)) return true;
      }
      knots[at] = own;
    }
    return false;
  };
  if (tryFrom(0, 1)) return { fewer: knots, isFewest: true };
  if (count === 2) return { fewer: null, isFewest: true };
  if (pairs > MOST_TRIED) return { fewer: null, isFewest: false };
  if (tryFrom(0, 2)) return { fewer: knots, isFewest: true };
  return { fewer: null, isFewest: count === 3 };
}

function changedCells(own: Uint8Array, knots: Uint8Array, cells: readonly number[]): readonly number[] {
  return cells.filter((at) => own[at] !== knots[at]);
}

function isSame(a: Uint8Array, b: Uint8Array): boolean {
  return a.every((knot, at) => knot === b[at]);
}
