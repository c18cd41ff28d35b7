/** What the finished look shows of a board: its rows with repeats and end, and where everything lies, in cord diameters. */
import {
  type BandProportions,
  type Board,
  bandProportions,
  type MountPlan,
  pieceRows,
  pieceSize,
  rowStride,
  weave,
} from '../../engine/index.ts';
import { type Textures, texturesBy } from './textures.ts';

/** More rows than this show nothing new. */
const MOST_ROWS = 1600;

export interface FinishedModel {
  readonly board: Board;
  readonly proportions: BandProportions;
  readonly strings: number;
  readonly rows: number;
  /** Rows of the whole piece; more than `rows` when not all are shown. */
  readonly allRows: number;
  readonly start: 0 | 1;
  readonly knots: Uint8Array;
  readonly shown: Int16Array;
  readonly order: Int16Array;
  /** For each place below the last row: the row after the last knot on the string that hangs there. */
  readonly freeFrom: Int16Array;
  /** How it mounts; null while that is not known. */
  readonly plan: MountPlan | null;
  readonly hexes: readonly string[];
  readonly names: readonly string[];
  /** Number of the texture of each string's colour, 0 for none. */
  readonly textures: readonly number[];
  /** Groups of places that end together: first and last place of each. */
  readonly groups: readonly (readonly [number, number])[];
}

/** @throws RangeError when a field of piece or gauge is out of range */
export function finishedModelOf(
  board: Board,
  plan: MountPlan | null,
  textures: Textures | null = null,
): FinishedModel {
  const pattern = pieceRows(board, MOST_ROWS);
  const { shownFlat, orderFlat } = weave(pattern);
  const strings = pattern.colours.length;
  const proportions = bandProportions(board);
  const entries = new Map(board.palette.map((colour) => [colour.id, colour]));
  const half = strings >> 1;
  const groups: readonly (readonly [number, number])[] =
    board.piece.end === 'double triangle' && strings >= 4
      ? [
          [0, half - 1],
          [half, strings - 1],
        ]
      : [[0, strings - 1]];
  return {
    board,
    proportions,
    strings,
    rows: pattern.rows,
    allRows: pieceSize(board).rows,
    start: pattern.start,
    knots: pattern.knots,
    shown: shownFlat,
    order: orderFlat,
    freeFrom: freePlaces(strings, pattern.rows, pattern.start, pattern.knots),
    plan,
    hexes: pattern.colours.map((id) => entries.get(id)?.hex ?? unknownColour(id)),
    names: pattern.colours.map((id) => entries.get(id)?.name || id),
    textures: texturesBy(pattern.colours, textures) ?? pattern.colours.map(() => 0),
    groups,
  };
}

/**
 * The same piece in other colours: the weave is that of the pattern and is not computed again.
 * @param seen how a colour looks to the eye it is shown to
 */
export function dressModel(
  model: FinishedModel,
  board: Board,
  plan: MountPlan | null,
  seen: (hex: string) => string = (hex) => hex,
): FinishedModel {
  const entries = new Map(board.palette.map((colour) => [colour.id, colour]));
  const { colours } = board.pattern;
  return {
    ...model,
    board,
    plan,
    hexes: colours.map((id) => seen(entries.get(id)?.hex ?? unknownColour(id))),
    names: colours.map((id) => entries.get(id)?.name || id),
  };
}

function unknownColour(id: string): never {
  throw new RangeError(`colour ${JSON.stringify(id)} is not in the palette`);
}

/** Row from which each place is free of knots, looking up from below: a string that is not tied does not change its place. */
function freePlaces(strings: number, rows: number, start: 0 | 1, knots: Uint8Array): Int16Array {
  const free = new Int16Array(strings);
  const stride = rowStride(strings);
  for (let row = 0; row < rows; row++) {
    const parity = (start + row) & 1;
    for (let k = 0; k < (strings - parity) >> 1; k++) {
      if (knots[row * stride + k] === 0) continue;
      free[2 * k + parity] = row + 1;
      free[2 * k + parity + 1] = row + 1;
    }
  }
  return free;
}

/** A bar of string across the back, over the heads of the strings between its ends. */
export interface BackBar {
  readonly left: number;
  readonly right: number;
  /** How many bars lie between it and the ring: bars that share places lie below each other, the later one lower. */
  readonly level: number;
}

/** Bars that show on the back: the later one of two folds that cross, each once, in mounting order. */
export function backBars(plan: MountPlan | null): readonly BackBar[] {
  if (plan === null) return [];
  const later = new Map<number, { readonly left: number; readonly right: number }>();
  for (const { folds } of plan.faults) {
    const [a, b] = [plan.folds[folds[0]], plan.folds[folds[1]]];
    if (a === undefined || b === undefined) continue;
    const fold = a.turn > b.turn ? a : b;
    later.set(fold.turn, fold);
  }
  const bars: BackBar[] = [];
  for (const [, { left, right }] of [...later].sort(([a], [b]) => a - b)) {
    const taken = bars.filter((bar) => bar.left < right && left < bar.right).map(({ level }) => level);
    let level = 0;
    while (taken.includes(level)) level++;
    bars.push({ left, right, level });
  }
  return bars;
}
