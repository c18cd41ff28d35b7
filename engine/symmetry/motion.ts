/**
 * Motions of the endless band: ways to lay it onto itself. Rows are counted on and on, down from row 0 of the pattern, and
 * up with numbers below 0.
 */
import { isLeftShown, type KnotCode, MIRRORED_KNOT, REVERSED_KNOT } from '../pattern/index.ts';

/** The motions that a band can have besides being moved on by whole repeats. */
export const MOTION_KINDS = ['mirror', 'glide', 'upside-down', 'half-turn'] as const;
/** One of {@link MOTION_KINDS}. */
export type MotionKind = (typeof MOTION_KINDS)[number];

/**
 * A motion. `mirror` and `half-turn` exchange left and right, and so does `glide`; `upside-down` and `half-turn` exchange up
 * and down.
 */
export interface Motion {
  readonly kind: MotionKind;
  /**
   * For `glide`, by how many rows; for `mirror` 0; for the other two the sum of the numbers of a row and of the row it is laid
   * on: twice the row of the axis or centre, odd where the centre lies between two rows.
   */
  readonly rows: number;
}

/** Whether the motion exchanges left and right. */
export function flipsSides(kind: MotionKind): boolean {
  return kind !== 'upside-down';
}

/** Whether the motion exchanges up and down. */
export function flipsEnds(kind: MotionKind): boolean {
  return kind === 'upside-down' || kind === 'half-turn';
}

/** The row that a row is laid on. */
export function imageOfRow({ kind, rows }: Motion, row: number): number {
  return flipsEnds(kind) ? rows - row : rows + row;
}

/** The boundary (above the row of its number) that a boundary is laid on. */
export function imageOfBoundary({ kind, rows }: Motion, boundary: number): number {
  return flipsEnds(kind) ? rows + 1 - boundary : rows + boundary;
}

/** The left place of the knot on which the knot with the left place `place` is laid. */
export function imageOfPlace(kind: MotionKind, place: number, strings: number): number {
  return flipsSides(kind) ? strings - 2 - place : place;
}

/** The knot as it looks after the motion. */
export function imageOfKnot(kind: MotionKind, knot: number): number {
  const turned = flipsEnds(kind) ? REVERSED_KNOT[knot]! : knot;
  return flipsSides(kind) ? MIRRORED_KNOT[turned]! : turned;
}

/**
 * The knot nearest to this one that the motion leaves as it is: the same string shows, only whether the two change places may
 * differ. Null where there is none, which is so for `mirror` and `glide` of any tied knot.
 */
export function unmovedKnot(kind: MotionKind, knot: number): number | null {
  if (imageOfKnot(kind, knot) === knot) return knot;
  if (!flipsEnds(kind)) return null;
  const isLeft = isLeftShown(knot as KnotCode);
  // A half turn keeps forward and backward, upside down keeps the two that stay on their side.
  if (kind === 'half-turn') return isLeft ? 1 : 2;
  return isLeft ? 3 : 4;
}

/**
 * Whether the motion lays the stagger onto itself: rows of knots that exchange left and right under an odd number of strings
 * must fall on rows of the other stagger.
 */
export function keepsStagger({ kind, rows }: Motion, strings: number): boolean {
  const isOdd = flipsSides(kind) && strings % 2 === 1;
  return Math.abs(rows % 2) === (isOdd ? 1 : 0);
}
