/**
 * What the renderer needs of a board: the pattern with what the engine made of it. Made anew when the design changes.
 *
 * Invariant: only the latest model is right. The weave is too large to copy at each knot, so a model hands its own on to the next one,
 * which brings it up to date where it stands.
 */
import {
  type Board,
  type Cell,
  type ColourId,
  type KnotCode,
  type MountPlan,
  type Pattern,
  placeOfCell,
  type RowSpan,
  reweaveInto,
  rowStride,
  type Stagger,
  staggerOf,
  type Weave,
  weave,
} from '../../engine/index.ts';
import { type PlanState, planIn } from '../worker/index.ts';

export interface BoardModel {
  readonly board: Board;
  readonly strings: number;
  readonly rows: number;
  readonly start: 0 | 1;
  readonly stagger: Stagger;
  readonly weave: Weave;
  /** Rows that were woven to make this model; none where only colours changed. */
  readonly rewoven: RowSpan;
  /** How it mounts; null while that is not known. */
  readonly plan: MountPlan | null;
  /** Whether the plan is being worked out. */
  readonly isPlanning: boolean;
  /** Colour of each string at the top, `#rrggbb`. */
  readonly hexes: readonly string[];
  /** The maker's name for it. */
  readonly names: readonly string[];
}

/**
 * The model of a board; `previous` is used up by it.
 * @param changed the knots that differ from those of `previous`; null where that is not known
 * @param stateOf tells how it mounts; without it no plan is asked for
 * O(rows whose strings stand otherwise now) where it is known, else O(knots).
 */
export function modelOf(
  board: Board,
  previous: BoardModel | null,
  changed: readonly Cell[] | null = null,
  stateOf: (board: Board) => PlanState = () => ({ kind: 'stopped' }),
): BoardModel {
  const { pattern } = board;
  const entries = new Map(board.palette.map((colour) => [colour.id, colour]));
  const colourOf = (id: string): { readonly hex: string; readonly name: string } => {
    const entry = entries.get(id);
    if (entry === undefined) throw new RangeError(`colour ${JSON.stringify(id)} is not in the palette`);
    return entry;
  };
  const isSameOrder =
    previous !== null &&
    (previous.board.pattern.colours === pattern.colours ||
      (previous.strings === pattern.colours.length &&
        previous.board.pattern.colours.every((id, i) => id === pattern.colours[i])));
  const state = stateOf(board);
  const isSameLook = isSameOrder && previous.board.palette === board.palette;
  return {
    board,
    strings: pattern.colours.length,
    rows: pattern.rows,
    start: pattern.start,
    stagger: staggerOf(pattern),
    ...wovenOf(pattern, previous, changed),
    plan: planIn(state),
    isPlanning: state.kind === 'looking',
    hexes: isSameLook ? previous.hexes : pattern.colours.map((id) => colourOf(id).hex),
    names: isSameLook ? previous.names : pattern.colours.map((id) => colourOf(id).name || id),
  };
}

/** The model with what is known of its plan; the same one when that is nothing new. */
export function withPlan(model: BoardModel, state: PlanState): BoardModel {
  const plan = planIn(state);
  const isPlanning = state.kind === 'looking';
  return plan === model.plan && isPlanning === model.isPlanning ? model : { ...model, plan, isPlanning };
}

function wovenOf(
  pattern: Pattern,
  previous: BoardModel | null,
  changed: readonly Cell[] | null,
): Pick<BoardModel, 'weave' | 'rewoven'> {
  const isSameShape =
    previous !== null &&
    previous.strings === pattern.colours.length &&
    previous.rows === pattern.rows &&
    previous.start === pattern.start;
  // The weave knows nothing of colours.
  const cells = isSameShape && previous.board.pattern.knots === pattern.knots ? [] : changed;
  if (!isSameShape || cells === null)
    return { weave: weave(pattern), rewoven: { from: 0, to: pattern.rows } };
  // By a loop: what comes in at once may be more cells than a call takes arguments.
  let from = pattern.rows;
  let to = 0;
  for (const { row } of cells) {
    from = Math.min(from, row);
    to = Math.max(to, row + 1);
  }
  const span = { from: Math.min(from, to), to };
  return { weave: previous.weave, rewoven: reweaveInto(pattern, span, previous.weave) };
}

/** The knot of a cell. */
export function knotOf(model: BoardModel, { row, k }: Cell): KnotCode {
  return model.board.pattern.knots[row * rowStride(model.strings) + k] as KnotCode;
}

/** The two strings that hang at a cell. */
export function stringsOf(model: BoardModel, cell: Cell): { readonly left: number; readonly right: number } {
  const at = cell.row * model.strings + placeOfCell(model.stagger, cell);
  return {
    left: model.weave.orderFlat[at] as number,
    right: model.weave.orderFlat[at + 1] as number,
  };
}

/** The string whose colour shows at a cell, -1 where none does. */
export function shownAt(model: BoardModel, { row, k }: Cell): number {
  return model.weave.shownFlat[row * rowStride(model.strings) + k] as number;
}

/** Knot of a cell and the colour that it shows; that of its left string where it shows none. */
export function pickedAt(
  model: BoardModel,
  cell: Cell,
): { readonly knot: KnotCode; readonly colour: ColourId } {
  const shown = shownAt(model, cell);
  const string = shown >= 0 ? shown : stringsOf(model, cell).left;
  return { knot: knotOf(model, cell), colour: model.board.pattern.colours[string] as ColourId };
}
