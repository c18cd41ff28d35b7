/** What the renderer needs of a board: the pattern with what the engine made of it. Made anew when the design changes. */
import {
  type Board,
  type Cell,
  type KnotCode,
  type MountPlan,
  placeOfCell,
  planMount,
  rowStride,
  type Stagger,
  staggerOf,
  type Weave,
  weave,
} from '../../engine/index.ts';

export interface BoardModel {
  readonly board: Board;
  readonly strings: number;
  readonly rows: number;
  readonly start: 0 | 1;
  readonly stagger: Stagger;
  readonly weave: Weave;
  readonly plan: MountPlan;
  /** Colour of each string at the top, `#rrggbb`. */
  readonly hexes: readonly string[];
  /** The maker's name for it. */
  readonly names: readonly string[];
}

/** O(knots); the mounting plan is kept when the colours are those of `previous`. */
export function modelOf(board: Board, previous: BoardModel | null): BoardModel {
  const { pattern } = board;
  const entries = new Map(board.palette.map((colour) => [colour.id, colour]));
  const entryOf = (id: string): { readonly hex: string; readonly name: string } => {
    const entry = entries.get(id);
    if (entry === undefined) throw new RangeError(`colour ${JSON.stringify(id)} is not in the palette`);
    return entry;
  };
  const isSameOrder =
    previous !== null &&
    previous.strings === pattern.colours.length &&
    previous.board.pattern.colours.every((id, i) => id === pattern.colours[i]);
  return {
    board,
    strings: pattern.colours.length,
    rows: pattern.rows,
    start: pattern.start,
    stagger: staggerOf(pattern),
    weave: weave(pattern),
    plan: isSameOrder ? previous.plan : planMount(pattern.colours),
    hexes: pattern.colours.map((id) => entryOf(id).hex),
    names: pattern.colours.map((id) => entryOf(id).name || id),
  };
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
