import type { ColourId } from '../../engine/index.ts';
import type { Context } from '../context/index.ts';
import type { Textures } from './textures.ts';

/** What the maker chose for the board: what tools use, and how it is drawn. */
export interface BoardChoice {
  /** Palette id that tools use; null = none. */
  readonly colour: ColourId | null;
  /** Null = no textures are wanted. */
  readonly textures: Textures | null;
}

export const NOTHING_CHOSEN: BoardChoice = { colour: null, textures: null };

/** Changes when the maker chooses. */
export const boardChoice: Context<BoardChoice> = { none: NOTHING_CHOSEN };
