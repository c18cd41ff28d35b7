/** A board was brought in and shall take the place of the one that is open. */
import type { Board } from '../../engine/index.ts';

export class LoadBoardEvent extends Event {
  readonly board: Board;

  constructor(board: Board) {
    super('lb-load-board', { bubbles: true, composed: true });
    this.board = board;
  }
}

declare global {
  interface HTMLElementEventMap {
    'lb-load-board': LoadBoardEvent;
  }
}
