/** Price and time, from the rates the maker states. */
import type { Piece } from '../pattern/index.ts';
import { requireNotNegative, requirePositive } from './field-error.ts';

/**
 * Knots a minute where the maker states none. Common practice, no source: a practised maker ties a double half hitch in about ten
 * seconds. Marked as assumed wherever it is used.
 */
export const DEFAULT_KNOTS_PER_MINUTE = 6;

/** Parts of the price in the maker's own currency; null where no rate was stated. */
export interface CostParts {
  readonly thread: number | null;
  readonly parts: number | null;
  readonly work: number | null;
}

export interface Price {
  /** Sum of the parts that have a rate; null when none has. */
  readonly cost: number | null;
  readonly costParts: CostParts;
  readonly minutes: number;
  readonly isPaceAssumed: boolean;
}

/**
 * What `pieces` equal pieces of `knots` knots each cost, from `skeins` bought in all.
 * @throws FieldRangeError when a rate of `piece` is negative, or the pace not above 0
 * Rule L9.
 */
export function priceOf(piece: Piece, skeins: number, knots: number, pieces: number): Price {
  const pace = piece.knotsPerMinute ?? DEFAULT_KNOTS_PER_MINUTE;
  requirePositive('piece.knotsPerMinute', pace);
  for (const field of ['skeinPrice', 'partsPrice', 'hourlyRate'] as const)
    requireNotNegative(`piece.${field}`, piece[field] ?? 0);
  const minutes = (knots * pieces) / pace;
  const costParts: CostParts = {
    thread: times(piece.skeinPrice, skeins),
    parts: times(piece.partsPrice, pieces),
    work: times(piece.hourlyRate, minutes / 60),
  };
  const stated = [costParts.thread, costParts.parts, costParts.work].filter((part) => part !== null);
  const cost = stated.length === 0 ? null : stated.reduce((sum, part) => sum + part, 0);
  return { cost, costParts, minutes, isPaceAssumed: piece.knotsPerMinute === undefined };
}

function times(rate: number | undefined, count: number): number | null {
  return rate === undefined ? null : rate * count;
}
