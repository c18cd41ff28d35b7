import type { Board } from '../../engine/index.ts';

/** Somebody wants these boards made: one to go to, or all. */
export class MakeBoardsEvent extends Event {
  readonly boards: readonly Board[];
  /** Whether to go to its matching set. */
  readonly isSet: boolean;

  constructor(boards: readonly Board[], isSet = false) {
    super('lb-make-boards', { bubbles: true, composed: true });
    this.boards = boards;
    this.isSet = isSet;
  }
}

declare global {
  interface HTMLElementEventMap {
    'lb-make-boards': MakeBoardsEvent;
  }
}
