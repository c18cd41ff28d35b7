/** What a tool ties: a kind of knot, or whatever knot shows a colour. */
import {
  BACKWARD,
  BACKWARD_FORWARD,
  type Block,
  type Cell,
  type ColourId,
  cellsInBlock,
  FORWARD,
  FORWARD_BACKWARD,
  isCrossing,
  isLeftShown,
  type KnotCode,
  knotsInRow,
  neighboursOf,
  type Pattern,
  rowParity,
  rowStride,
  staggerOf,
  type Weave,
} from '../../engine/index.ts';
import type { BoardModel } from './board-model.ts';
import type { TiedCell } from './mirror.ts';
import { isInBlock } from './spot.ts';

/** What becomes of the places of the two strings when the maker asks for a colour only. */
export type Places = 'keep' | 'change' | 'as they are';

export type Ink =
  | { readonly kind: 'knot'; readonly knot: KnotCode }
  | { readonly kind: 'show'; readonly colour: ColourId; readonly places: Places };

/**
 * The knot that shows the colour, when the strings of these colours hang left and right; null when neither has it.
 * `'as they are'`: a knot whose strings change places now goes on doing so; an untied pair keeps its places. Where both strings have
 * the colour, the one that shows now goes on showing.
 */
export function knotShowing(
  left: ColourId,
  right: ColourId,
  wanted: ColourId,
  places: Places,
  now: KnotCode,
): KnotCode | null {
  if (left !== wanted && right !== wanted) return null;
  const isLeft = left === wanted && (right !== wanted || now === 0 || isLeftShown(now));
  const isChanging = places === 'change' || (places === 'as they are' && isCrossing(now));
  if (isChanging) return isLeft ? FORWARD : BACKWARD;
  return isLeft ? FORWARD_BACKWARD : BACKWARD_FORWARD;
}

/**
 * The knots with which the cells take the ink. For a colour, rows are gone through downwards, because a knot that makes strings change
 * places decides which colours hang below it. Cells whose strings lack the colour are left out.
 * O(rows spanned x strings).
 */
export function inkedCells(
  pattern: Pattern,
  weave: Weave,
  cells: readonly Cell[],
  ink: Ink,
): readonly TiedCell[] {
  if (ink.kind === 'knot') return cells.map((cell) => ({ ...cell, knot: ink.knot }));
  if (cells.length === 0) return [];
  const byRow = new Map<number, Set<number>>();
  for (const { row, k } of cells) {
    const ks = byRow.get(row) ?? new Set();
    byRow.set(row, ks.add(k));
  }
  const rows = [...byRow.keys()];
  const [from, to] = [Math.min(...rows), Math.max(...rows)];
  const strings = pattern.colours.length;
  const stride = rowStride(strings);
  const order = weave.orderFlat.slice(from * strings, (from + 1) * strings);
  const tied: TiedCell[] = [];
  for (let row = from; row <= to; row++) {
    const parity = rowParity(pattern.start, row);
    for (let k = 0; k < knotsInRow(strings, parity); k++) {
      const place = 2 * k + parity;
      const [left, right] = [order[place] as number, order[place + 1] as number];
      let knot = pattern.knots[row * stride + k] as KnotCode;
      if (byRow.get(row)?.has(k)) {
        const colours = [pattern.colours[left] as string, pattern.colours[right] as string] as const;
        const chosen = knotShowing(...colours, ink.colour, ink.places, knot);
        if (chosen !== null) {
          knot = chosen;
          tied.push({ row, k, knot });
        }
      }
      if (isCrossing(knot)) {
        order[place] = right;
        order[place + 1] = left;
      }
    }
  }
  return tied;
}

/** The knots of the same kind that hang together with this one, edge by edge. With `byColour`: that show the same colour. */
export function floodFrom(pattern: Pattern, weave: Weave, at: Cell, byColour: boolean): readonly Cell[] {
  const stagger = staggerOf(pattern);
  const stride = rowStride(stagger.strings);
  const kindOf = ({ row, k }: Cell): string | number => {
    const string = weave.shownFlat[row * stride + k] as number;
    if (byColour) return string < 0 ? -1 : (pattern.colours[string] as string);
    return pattern.knots[row * stride + k] as number;
  };
  const kind = kindOf(at);
  const seen = new Uint8Array(pattern.rows * stride);
  seen[at.row * stride + at.k] = 1;
  const found: Cell[] = [at];
  for (let i = 0; i < found.length; i++)
    for (const next of neighboursOf(stagger, found[i] as Cell)) {
      const index = next.row * stride + next.k;
      if (seen[index] === 1 || kindOf(next) !== kind) continue;
      seen[index] = 1;
      found.push(next);
    }
  return found;
}

/** What filling at a knot ties: the selection that it lies in, else what hangs together with it. */
export function cellsToFill(
  { board, weave, stagger }: Pick<BoardModel, 'board' | 'weave' | 'stagger'>,
  selection: Block | null,
  at: Cell,
  byColour: boolean,
): readonly Cell[] {
  return selection !== null && isInBlock(stagger, selection, at)
    ? cellsInBlock(stagger, selection)
    : floodFrom(board.pattern, weave, at, byColour);
}
