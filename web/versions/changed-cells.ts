/** Which knots of a picture look or are tied otherwise than in the one before. */
import { type Board, rowStride, weave } from '../../engine/index.ts';

export interface CellChanges {
  /** Cells of the later board, as `row * rowStride + k`. */
  readonly cells: ReadonlySet<number>;
  /** Whether rows or strings came or went, so that cells are not compared one by one. */
  readonly isOtherSize: boolean;
}

/** O(knots). */
export function changedCells(before: Board, after: Board): CellChanges {
  const [a, b] = [before.pattern, after.pattern];
  const cells = new Set<number>();
  if (a.rows !== b.rows || a.colours.length !== b.colours.length || a.start !== b.start)
    return { cells, isOtherSize: true };
  const shown = (board: Board): ((cell: number) => string) => {
    const { shownFlat } = weave(board.pattern);
    const hexes = new Map(board.palette.map(({ id, hex }) => [id, hex]));
    const ofString = board.pattern.colours.map((id) => hexes.get(id) ?? '');
    return (cell) => {
      const string = shownFlat[cell] as number;
      return string < 0 ? '' : (ofString[string] as string);
    };
  };
  const [shownBefore, shownAfter] = [shown(before), shown(after)];
  const stride = rowStride(b.colours.length);
  for (let row = 0; row < b.rows; row++) {
    const count = (b.colours.length - ((b.start + row) & 1)) >> 1;
    for (let cell = row * stride; cell < row * stride + count; cell++)
      if (a.knots[cell] !== b.knots[cell] || shownBefore(cell) !== shownAfter(cell)) cells.add(cell);
  }
  return { cells, isOtherSize: false };
}
