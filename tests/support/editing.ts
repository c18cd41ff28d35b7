/** An editor of a board, without a screen. */
import { type Board, type Cell, patternFromText } from '../../engine/index.ts';
import { Editor } from '../../web/board/editor.ts';
import type { EditorNews } from '../../web/board/editor-news.ts';
import { openDesign, rowsOf } from './open-design.ts';
import { sampleBoard } from './sample-board.ts';

/** A board on which nothing is tied, its strings red, green and blue in turn. */
export function blank(strings: number, rows: number): Board {
  const board = sampleBoard(strings, rows);
  const colours = Array.from({ length: strings }, (_, i) => ['r', 'g', 'b'][i % 3] as string);
  const text = Array.from({ length: rows }, (_, row) =>
    Array((strings - (row % 2)) >> 1)
      .fill('-')
      .join(' '),
  );
  return { ...board, pattern: patternFromText(colours, text) };
}

/** Opens a board to be edited. `news`: what the maker was told; `rows`: the knots as they are now, in text. */
export function edit(board: Board = blank(6, 6), canEdit = true) {
  const design = openDesign(board);
  const news: EditorNews[] = [];
  const editor = new Editor(design, { canEdit, onChange: () => {}, onNews: (one) => news.push(one) });
  return { design, editor, news, rows: () => rowsOf(design) };
}

export const at = (row: number, k: number): Cell => ({ row, k });
