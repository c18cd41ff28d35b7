/**
 * A knot of a piece by what it is, not by when its turn comes: so what is tied stays known under another order of work.
 *
 * Kept as text, for a set and for a device: part, repeat, row of that part, place in the row, such as `band 2 14 3`.
 */
import type { PiecePart } from '../finish/index.ts';
import type { WorkStep } from '../work/index.ts';

/** Where a knot lies in a piece. */
export interface PieceKnot {
  readonly part: PiecePart;
  /** From 1; 0 in lead-in and end. */
  readonly repeat: number;
  /** Row of the board's pattern; in the end, row of the end. */
  readonly row: number;
  readonly k: number;
}

/** Knots that are tied, by {@link knotKey}. */
export type TiedKeys = ReadonlySet<string>;

const KEY = /^(lead-in|band|end) (\d{1,7}) (\d{1,7}) (\d{1,3})$/;

/** The knot that a step ties. */
export function knotOf({ part, repeat, partRow, k }: WorkStep): PieceKnot {
  return { part, repeat, row: partRow, k };
}

/** The text under which a knot is kept. Rule H1. */
export function knotKey({ part, repeat, row, k }: PieceKnot): string {
  return `${part} ${repeat} ${row} ${k}`;
}

/** {@link knotKey} of the knot that a step ties. */
export function stepKey(step: WorkStep): string {
  return knotKey(knotOf(step));
}

/** The knot of a text; null when it names none. The inverse of {@link knotKey}. */
export function readKnotKey(key: string): PieceKnot | null {
  const parts = KEY.exec(key);
  if (parts === null) return null;
  const [, part, repeat, row, k] = parts;
  const knot = { part: part as PiecePart, repeat: Number(repeat), row: Number(row), k: Number(k) };
  // Neither 007 nor a repeat where there is none.
  return knotKey(knot) === key && (knot.part === 'band') === knot.repeat > 0 ? knot : null;
}
