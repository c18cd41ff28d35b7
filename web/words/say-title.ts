/** What a board is called. */
import type { Board } from '../../engine/index.ts';
import { t } from '../text/index.ts';

/** Its title; without one what it is: so many strings, so many rows. */
export function sayTitle({ title, pattern }: Pick<Board, 'title' | 'pattern'>): string {
  return title.trim() || t('board.untitled', { strings: pattern.colours.length, rows: pattern.rows });
}
