/** From which side the maker of a board begins, to mount and to tie. Kept in this browser, for each board; whatever shows a plan follows. */
import { type Half, mountFrom } from '../../engine/index.ts';
import { planShelf } from './plan-shelf.ts';

/** What begins so goes when the board is forgotten. */
const keyOf = (boardId: string): string => `larkboard.work.${boardId}.first`;

/** The side that was kept, and the left one where none was. */
export function firstHalfOf(boardId: string, shelf: Pick<Storage, 'getItem'> = localStorage): Half {
  return shelf.getItem(keyOf(boardId)) === 'right' ? 'right' : 'left';
}

/** Keeps the side. Where the storage is full, it is known until the page is closed. */
export function keepFirstHalf(boardId: string, half: Half, shelf: Pick<Storage, 'setItem'>): void {
  try {
    shelf.setItem(keyOf(boardId), half);
  } catch (cause) {
    if (!(cause instanceof DOMException)) throw cause;
  }
}

/** Lets the page show every plan as it is mounted from that side. */
export function showMountedFrom(half: Half): void {
  planShelf.turnBy(half === 'left' ? null : (plan, colours) => mountFrom(plan, colours, half));
}
