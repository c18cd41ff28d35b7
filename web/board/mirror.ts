/**
 * Mirrored tying: the knots that stand for a knot on the other side of an axis.
 *
 * Beside an upright axis (left for right) forward becomes backward and forward-backward becomes backward-forward. Across a level
 * axis (top for bottom) a string that crosses to the right on its way down comes from the right on its way up: forward becomes
 * backward, the two bends stay. Rows stagger, so an upright axis runs through the middle of a knot (x = j + 0.5) and a level one
 * through the middle of a row.
 */
import {
  BACKWARD,
  BACKWARD_FORWARD,
  type Cell,
  cellOfPlace,
  FORWARD,
  FORWARD_BACKWARD,
  type KnotCode,
  placeOfCell,
  type Stagger,
} from '../../engine/index.ts';

export interface Mirror {
  /** Upright axis: the band's middle, or x = this number (a whole number and a half); null = none. */
  readonly upright: 'middle' | number | null;
  /** Level axis through the middle of this row; null = none. */
  readonly level: number | null;
}

export const NO_MIRROR: Mirror = { upright: null, level: null };

export interface TiedCell extends Cell {
  readonly knot: KnotCode;
}

/** By knot code: left for right. */
const BESIDE: readonly KnotCode[] = [0, BACKWARD, FORWARD, BACKWARD_FORWARD, FORWARD_BACKWARD];
/** By knot code: top for bottom. */
const ACROSS: readonly KnotCode[] = [0, BACKWARD, FORWARD, FORWARD_BACKWARD, BACKWARD_FORWARD];

/** x of the upright axis; null when there is none or the band has no middle (an odd number of strings). */
export function axisX(mirror: Mirror, strings: number): number | null {
  if (mirror.upright !== 'middle') return mirror.upright;
  return strings % 2 === 0 ? (strings - 1) / 2 : null;
}

/** The place, and the one beside an upright axis that stands for it, where the band has it. */
export function withBeside(mirror: Mirror, strings: number, place: number): readonly number[] {
  const x = axisX(mirror, strings);
  const beside = x === null ? place : 2 * x - place;
  return beside === place || beside < 0 || beside >= strings ? [place] : [place, beside];
}

/** The knots with their mirrored ones, inside the pattern, each once. A knot on an axis stays as it is. */
export function withMirrored(
  stagger: Stagger,
  mirror: Mirror,
  knots: readonly TiedCell[],
): readonly TiedCell[] {
  const x = axisX(mirror, stagger.strings);
  const { level } = mirror;
  if (x === null && level === null) return knots;
  const found = new Map<string, TiedCell>();
  const add = (row: number, place: number, knot: KnotCode): void => {
    const cell = cellOfPlace(stagger, row, place);
    const key = cell === null ? '' : `${cell.row}:${cell.k}`;
    if (cell !== null && !found.has(key)) found.set(key, { ...cell, knot });
  };
  for (const { row, k, knot } of knots) {
    const place = placeOfCell(stagger, { row, k });
    const beside = x === null ? place : 2 * x - 1 - place;
    const below = level === null ? row : 2 * level - row;
    add(row, place, knot);
    if (beside !== place) add(row, beside, BESIDE[knot] as KnotCode);
    if (below !== row) add(below, place, ACROSS[knot] as KnotCode);
    if (beside !== place && below !== row) add(below, beside, ACROSS[BESIDE[knot] as KnotCode] as KnotCode);
  }
  return [...found.values()];
}

/** The mirror with an axis through the knot, upright through its middle or level through its row; without it if it was there. */
export function mirrorThrough(
  mirror: Mirror,
  axis: 'upright' | 'level',
  stagger: Stagger,
  cell: Cell,
): Mirror {
  const at = axis === 'level' ? cell.row : placeOfCell(stagger, cell) + 0.5;
  return { ...mirror, [axis]: mirror[axis] === at ? null : at };
}
