/** What a piece costs, term by term. */
import type { Piece } from '../pattern/index.ts';
import { FieldRangeError, requireNotNegative } from './field-error.ts';

/** What the pieces take, in the maker's own currency; null where nothing is stated that it could be reckoned from. */
export interface Outlay {
  readonly thread: number | null;
  readonly parts: number | null;
  readonly minutes: number;
  readonly pieces: number;
}

/** A price with every term of it, in the maker's own currency. */
export interface Priced {
  readonly kind: 'priced';
  /** Thread as it is used, and what of it goes to waste; null where no thread has a price. */
  readonly thread: number | null;
  readonly waste: number | null;
  readonly parts: number | null;
  /** Paid minutes; null without a rate. */
  readonly work: number | null;
  readonly post: number | null;
  readonly fixedFee: number | null;
  /** Sum of the terms above. */
  readonly cost: number;
  /** What of the price is left over for the maker, and what the market keeps of it beside its fixed fee. */
  readonly margin: number;
  readonly fee: number;
  readonly price: number;
  /** On top of the price. */
  readonly tax: number;
  readonly withTax: number;
}

/** A price, or why there is none: nothing is stated, or margin and fee leave nothing of the price to pay the costs from. */
export type Price =
  | Priced
  | { readonly kind: 'unstated' }
  | { readonly kind: 'nothing-left'; readonly share: number };

/**
 * Price = (thread used x (1 + waste) + parts + paid minutes + post + fixed fee) / (1 - margin - fee share): margin and fee are shares of the
 * price, not of the costs. Tax comes on top of it. Post and fixed fee are paid for each piece, or once.
 * @throws FieldRangeError when a rate of `piece` is out of range
 * Rules L77 to L80.
 */
export function priceOf(piece: Piece, { thread, parts, minutes, pieces }: Outlay): Price {
  for (const field of ['hourlyRate', 'wasteShare', 'postPrice', 'fixedFee', 'taxShare'] as const)
    requireNotNegative(`piece.${field}`, piece[field] ?? 0);
  for (const field of ['marginShare', 'feeShare'] as const) requireShare(`piece.${field}`, piece[field] ?? 0);
  const times = piece.soldAs === 'together' ? 1 : pieces;
  const terms = {
    thread,
    waste: thread === null ? null : thread * (piece.wasteShare ?? 0),
    parts,
    work: piece.hourlyRate === undefined ? null : (minutes / 60) * piece.hourlyRate,
    post: piece.postPrice === undefined ? null : piece.postPrice * times,
    fixedFee: piece.fixedFee === undefined ? null : piece.fixedFee * times,
  };
  const stated = Object.values(terms).filter((term) => term !== null);
  if (stated.length === 0) return { kind: 'unstated' };
  const cost = stated.reduce((sum, term) => sum + term, 0);
  const { marginShare = 0, feeShare = 0, taxShare = 0 } = piece;
  const left = 1 - marginShare - feeShare;
  if (left < LEAST_LEFT) return { kind: 'nothing-left', share: marginShare + feeShare };
  const price = cost / left;
  const tax = price * taxShare;
  return {
    kind: 'priced',
    ...terms,
    cost,
    margin: price * marginShare,
    fee: price * feeShare,
    price,
    tax,
    withTax: price + tax,
  };
}

/** Of the price: with less for the costs it would be above a hundred times these. */
const LEAST_LEFT = 0.01;

function requireShare(path: string, value: number): void {
  if (!(value >= 0 && value < 1))
    throw new FieldRangeError(path, { be: 'between', least: 0, most: 0.95 }, value);
}

/** Sum of what is known; null when nothing is. */
export function sumKnown(values: readonly (number | null)[]): number | null {
  const known = values.filter((value) => value !== null);
  return known.length === 0 ? null : known.reduce((sum, value) => sum + value, 0);
}

/** A rate for so many; null without a rate. */
export function timesRate(rate: number | null | undefined, count: number): number | null {
  return rate === null || rate === undefined ? null : rate * count;
}
