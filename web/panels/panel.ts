/** What every panel beside the board shares: the board it speaks of, and how it changes it. */
import { LitElement } from 'lit';
import { property } from 'lit/decorators.js';
import type { Command, CommandResult, Design } from '../../engine/document/index.ts';
import type { Board } from '../../engine/index.ts';
import { LightEvent, type Lit, RefusedEvent } from '../board/index.ts';
import type { TalkDesk } from '../talk/index.ts';
import { sayError } from '../words/index.ts';

/**
 * @fires lb-light What the board should light up.
 * @fires lb-refused A command that was not done, with the reason.
 */
export abstract class Panel extends LitElement {
  @property({ attribute: false }) board!: Board;
  @property({ attribute: false }) design!: Design;
  @property({ type: Boolean }) canEdit = false;
  /** The talk, where what is said about entries is shown; null until it is open. */
  @property({ attribute: false }) talk: TalkDesk | null = null;

  protected light(lit: Lit | null): void {
    this.dispatchEvent(new LightEvent(lit));
  }

  /** Runs the commands as one step of undo; the first one refused is told to the page and ends it. */
  protected run(...commands: readonly Command[]): CommandResult {
    const close = this.design.openStep();
    try {
      for (const command of commands) {
        const result = this.design.run(command);
        if (!result.ok) {
          this.dispatchEvent(new RefusedEvent(sayError(result.error)));
          return result;
        }
      }
      return { ok: true };
    } finally {
      close();
    }
  }

  /** Name of a palette colour as the maker calls it. */
  protected nameOf(id: string): string {
    return this.board.palette.find((colour) => colour.id === id)?.name || id;
  }

  protected hexOf(id: string): string {
    return this.board.palette.find((colour) => colour.id === id)?.hex ?? 'transparent';
  }
}
