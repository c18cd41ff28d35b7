/** A board was brought in and shall take the place of the one that is open. */
import type { Command } from '../../engine/document/index.ts';

export class LoadBoardEvent extends Event {
  readonly command: Command;

  constructor(command: Command) {
    super('lb-load-board', { bubbles: true, composed: true });
    this.command = command;
  }
}

declare global {
  interface HTMLElementEventMap {
    'lb-load-board': LoadBoardEvent;
  }
}
