/** What the renderer needs of a board: the pattern with what the engine made of it. Made anew when the design changes. */
import { type Board, type MountPlan, planMount, type Weave, weave } from '../../engine/index.ts';

export interface BoardModel {
  readonly board: Board;
  readonly strings: number;
  readonly rows: number;
  readonly start: 0 | 1;
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
  const isSameOrder =
    previous !== null &&
    previous.board.pattern.colours.length === pattern.colours.length &&
    previous.board.pattern.colours.every((id, i) => id === pattern.colours[i]);
  return {
    board,
    strings: pattern.colours.length,
    rows: pattern.rows,
    start: pattern.start,
    weave: weave(pattern),
    plan: isSameOrder ? previous.plan : planMount(pattern.colours),
    hexes: pattern.colours.map((id) => entries.get(id)?.hex ?? '#888888'),
    names: pattern.colours.map((id) => entries.get(id)?.name || id),
  };
}
