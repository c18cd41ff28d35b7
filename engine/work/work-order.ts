/** In which order to tie the knots of a band. */
import type { PiecePart, WorkedRows } from '../finish/index.ts';
import { FieldRangeError } from '../material/index.ts';
import {
  type Board,
  type Half,
  KNOT_TOKENS,
  type KnotToken,
  knotsInRow,
  MIRRORED_KNOT,
  mirrorPattern,
  rowParity,
} from '../pattern/index.ts';
import { beginByRows, onlyKnots } from './beginning.ts';
import { findCuts, type SearchLimits, type SpanCuts } from './find-cuts.ts';
import { type TiedKnots, tiedKnots } from './knots.ts';
import { type Covers, piecePattern, type TooManyRows } from './piece-pattern.ts';
import { orderRows } from './row-order.ts';
import { orderRuns } from './run-order.ts';
import { findSpans, type Spans } from './spans.ts';

/** `rows`: row by row. `segments`: few pick-ups, fast. `exact`: proven fewest pick-ups, or a failure. */
export type WorkMethod = 'rows' | 'segments' | 'exact';

/** Which order is asked for, and how much of the piece it covers. */
export interface WorkOrderOptions {
  /** Default 'segments'. */
  readonly method?: WorkMethod;
  /** Default 'pattern': its rows once, as they stand. */
  readonly covers?: Covers;
  /**
   * Rows of what is covered that are tied one by one, as `rows` does, before the method's own order; default 0. What is said of the
   * fewest pick-ups is then said of the orders that begin so. `rows` takes no notice beyond checking it.
   */
  readonly rowsFirst?: number;
  /** From which side one begins; 'right' is the order of the mirrored band, mirrored. Default 'left'. */
  readonly firstHalf?: Half;
  /** How much `exact` searches before it gives up, in knots looked at; default 20,000,000. */
  readonly searchLimit?: number;
  /** Told the share done, 0 to 1, now and then. */
  readonly onProgress?: (share: number) => void;
}

/** One knot to tie. Strings are named by their place at the top, from 0. */
export interface WorkStep {
  /** Row of what is covered, from 0; equal to the pattern's row when that is covered once. */
  readonly row: number;
  /** Index of the knot in its row. */
  readonly k: number;
  /** Place of the left of its two strings, from 0. */
  readonly place: number;
  readonly kind: Exclude<KnotToken, '-'>;
  /** String whose colour shows. */
  readonly knotting: number;
  /** String it is tied round. */
  readonly carrier: number;
  /** Whether the knotting string is taken up for this knot: another one was in the hand before, or none. */
  readonly isPickUp: boolean;
  /** Number of the pick-up it belongs to, from 1. */
  readonly run: number;
  readonly part: PiecePart;
  /** Repeat, from 1; 0 in lead-in and end. */
  readonly repeat: number;
  /** Row of the board's pattern, or, in the end, row of the end, from 0. */
  readonly partRow: number;
}

/** An order of tying, and how near it is to the least. */
export interface WorkOrder {
  readonly ok: true;
  readonly steps: readonly WorkStep[];
  /** Runs of consecutive steps with the same knotting string, the first one counted. */
  readonly pickUps: number;
  /** Proven: no order, or none with these `rowsFirst`, has fewer pick-ups. */
  readonly lowerBound: number;
  /** Whether `pickUps` is proven fewest. */
  readonly exact: boolean;
}

/** `too-large`: of `exact`, not settled within the limit, with the bounds reached; or too many rows. */
export type WorkOrderError =
  | TooManyRows
  | {
      readonly kind: 'too-large';
      readonly path: 'method';
      readonly message: string;
      readonly pickUps: number;
      readonly lowerBound: number;
    };

/** Why there is no order of tying. */
export interface WorkOrderFailure {
  readonly ok: false;
  readonly error: WorkOrderError;
}

const SEGMENT_LIMITS: SearchLimits = { perTangle: 100_000, inAll: 2_000_000 };
const NO_SEARCH: SearchLimits = { perTangle: 0, inAll: 0 };
const EXACT_LIMIT = 20_000_000;

/** Options under which a work order cannot fail. */
type SureOptions = Omit<WorkOrderOptions, 'method' | 'covers'> & {
  readonly method?: 'rows' | 'segments';
  readonly covers?: 'pattern';
};

/**
 * An order in which every knot comes after the last tied knots on its two strings; untied pairs are neither steps nor
 * obstacles. With `lowerBound`, which holds whatever the method.
 *
 * `segments` is never worse than `rows` and proven fewest (`exact: true`) for most bands; `exact` searches longer
 * where it is not, and fails with `too-large` where even that settles nothing.
 * @throws TypeError for an unknown method or `firstHalf`
 * @throws RangeError when `covers`, or what it reads of `board.piece`, is out of range
 * @throws FieldRangeError when `rowsFirst` is not a whole number from 0 to the rows covered
 * Rules O1 to O8, O11 to O13, O30.
 */
export function workOrder(board: Board, options?: SureOptions): WorkOrder;
export function workOrder(board: Board, options: WorkOrderOptions): WorkOrder | WorkOrderFailure;
export function workOrder(board: Board, options: WorkOrderOptions = {}): WorkOrder | WorkOrderFailure {
  const method = options.method ?? 'segments';
  const piece = piecePattern(board, options.covers ?? 'pattern');
  if (!piece.ok) return piece;
  const isMirrored = isFromRight(options.firstHalf ?? 'left');
  const pattern = isMirrored ? mirrorPattern(piece.value.pattern) : piece.value.pattern;
  const rowsFirst = options.rowsFirst ?? 0;
  if (!(Number.isSafeInteger(rowsFirst) && rowsFirst >= 0 && rowsFirst <= pattern.rows))
    throw new FieldRangeError('rowsFirst', { be: 'whole', least: 0, most: pattern.rows }, rowsFirst);
  const knots = tiedKnots(pattern);
  const byRows = orderRows(pattern, knots);
  const begun = beginByRows(knots, byRows, method === 'rows' ? 0 : rowsFirst, pattern.start);
  const rest = begun.order.length === 0 ? knots : onlyKnots(knots, begun.rest);
  const spans = findSpans(rest);
  const cuts = findCuts(rest, spans, limitsOf(method, options), options.onProgress ?? (() => {}));
  const lowerBound = countPickUps(knots, begun.order) + spans.count + cuts.atLeast;
  const result = (order: Int32Array): WorkOrder => orderOf(piece.value, isMirrored, knots, order, lowerBound);
  if (method === 'rows') return result(byRows);
  const runs = orderRuns(rest, withCuts(spans, cuts), pattern.start, begun.hand);
  const bySegments = new Int32Array(knots.count);
  bySegments.set(begun.order);
  bySegments.set(
    runs.map((knot) => begun.rest[knot]!),
    begun.order.length,
  );
  const isWorse = countPickUps(knots, bySegments) > countPickUps(knots, byRows);
  const found = result(isWorse ? byRows : bySegments);
  return method === 'exact' && !found.exact ? unsettled(found) : found;
}

function isFromRight(firstHalf: Half): boolean {
  switch (firstHalf) {
    case 'left':
      return false;
    case 'right':
      return true;
    default:
      throw new TypeError(`unknown firstHalf ${JSON.stringify(firstHalf satisfies never)}`);
  }
}

function limitsOf(method: WorkMethod, options: WorkOrderOptions): SearchLimits {
  switch (method) {
    case 'rows':
      return NO_SEARCH;
    case 'segments':
      return SEGMENT_LIMITS;
    case 'exact': {
      const limit = options.searchLimit ?? EXACT_LIMIT;
      return { perTangle: limit, inAll: limit };
    }
    default:
      throw new TypeError(`unknown method ${JSON.stringify(method satisfies never)}`);
  }
}

function withCuts(spans: Spans, { cuts }: SpanCuts): Spans {
  const before = spans.before.slice();
  const after = spans.after.slice();
  for (const knot of cuts) {
    after[before[knot]!] = -1;
    before[knot] = -1;
  }
  return { before, after, count: spans.count + cuts.length };
}

function countPickUps(knots: TiedKnots, order: Int32Array): number {
  let hand = -1;
  let pickUps = 0;
  for (const knot of order) {
    if (knots.knotting[knot] !== hand) pickUps++;
    hand = knots.knotting[knot]!;
  }
  return pickUps;
}

/** @param isMirrored whether the knots are those of the mirrored pattern */
function orderOf(
  { pattern, sources }: WorkedRows,
  isMirrored: boolean,
  knots: TiedKnots,
  order: Int32Array,
  lowerBound: number,
): WorkOrder {
  const last = pattern.colours.length - 1;
  const stringOf = (string: number): number => (isMirrored ? last - string : string);
  const steps: WorkStep[] = [];
  let hand = -1;
  let run = 0;
  for (const knot of order) {
    const row = knots.row[knot]!;
    const parity = rowParity(pattern.start, row);
    const k = isMirrored ? knotsInRow(last + 1, parity) - 1 - knots.k[knot]! : knots.k[knot]!;
    const kind = isMirrored ? MIRRORED_KNOT[knots.kind[knot]!]! : knots.kind[knot]!;
    const knotting = stringOf(knots.knotting[knot]!);
    const source = sources[row];
    if (!source) throw new Error(`row ${row} ties a knot but stands between two repeats`);
    const isPickUp = knotting !== hand;
    if (isPickUp) run++;
    hand = knotting;
    steps.push({
      row,
      k,
      place: 2 * k + parity,
      kind: KNOT_TOKENS[kind] as WorkStep['kind'],
      knotting,
      carrier: stringOf(knots.carrier[knot]!),
      isPickUp,
      run,
      ...source,
    });
  }
  return { ok: true, steps, pickUps: run, lowerBound, exact: run === lowerBound };
}

function unsettled(found: WorkOrder): WorkOrderFailure {
  const { pickUps, lowerBound } = found;
  const message = `not settled within the limit: fewest pick-ups lie between ${lowerBound} and ${pickUps}`;
  return { ok: false, error: { kind: 'too-large', path: 'method', message, pickUps, lowerBound } };
}
