/** The cutting list with the mounting that the board's makers chose. Apart from cut-list.ts, so that a page need not load the search for it. */
import { planMount } from '../mount/index.ts';
import type { Board } from '../pattern/index.ts';
import { type CutList, cutListOf, type MountedStrings } from './cut-list.ts';

/** What {@link cutList} may be told besides the board. */
interface CutListOptions {
  /** As for `planMount`; default 'forced'. */
  readonly singles?: 'forced' | 'free';
  /** A plan the maker has chosen, or one computed before; default `planMount`'s. */
  readonly plan?: MountedStrings;
}

/**
 * `cutListOf` with `planMount`'s plan, unless one is given.
 * @throws as `cutListOf`
 * Costs what the two take.
 */
export function cutList(board: Board, options: CutListOptions = {}): CutList {
  const singles = options.singles ?? board.piece.singles ?? 'forced';
  return cutListOf(board, options.plan ?? planMount(board.pattern.colours, { singles }));
}
