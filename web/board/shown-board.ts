import type { Design } from '../../engine/document/index.ts';
import type { Board } from '../../engine/index.ts';
import type { Context } from '../context/index.ts';

/** The board that the panels speak of. */
export interface ShownBoard {
  readonly board: Board;
  /** By which it is changed. */
  readonly design: Design;
  /** Whether it may be changed here. */
  readonly canEdit: boolean;
}

/** Changes with every edit, after its picture. What draws a board gets that board as a property: it may be another one. */
export const shownBoard: Context<ShownBoard | null> = { none: null };
