/** A board as its painters see it. */
import { type Board, planBoard } from '../../engine/index.ts';
import { modelOf } from '../../web/board/board-model.ts';
import type { Scene } from '../../web/board/painter.ts';
import { sampleBoard } from './sample-board.ts';

export const THEME: Scene['theme'] = {
  page: 'page',
  sunken: 'sunken',
  text: 'text',
  quiet: 'quiet',
  line: 'line',
  lineStrong: 'line-strong',
  accent: 'accent',
  onAccent: 'on-accent',
  warn: 'warn',
  font: 'sans',
};

/** The first place is at x = 100, rows begin at y = 80; places are 20 px apart, rows 16. */
export function sceneOf(board: Board = sampleBoard(6, 8), more: Partial<Scene> = {}): Scene {
  const model = { ...modelOf(board, null), plan: planBoard(board) };
  return {
    model,
    view: { unit: 20, row: 16, x: 100, y: 80 },
    theme: THEME,
    ratio: 1,
    textures: null,
    isFolded: false,
    ...more,
  };
}
