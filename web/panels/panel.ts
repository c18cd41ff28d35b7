/** What every panel beside the board shares: the board it speaks of, and how it changes it. */
import { LitElement } from 'lit';
import {
  type Command,
  type CommandResult,
  type Design,
  LATER_COMMANDS,
} from '../../engine/document/index.ts';
import type { Board } from '../../engine/index.ts';
import {
  LightEvent,
  type Lit,
  PointedMarks,
  RefusedEvent,
  type ShownBoard,
  shownBoard,
} from '../board/index.ts';
import { Consumer } from '../context/index.ts';
import { type PageHandles, pageHandles } from '../talk/index.ts';
import { spoken } from '../text/index.ts';
import { sayError } from '../words/index.ts';

/**
 * @fires lb-light What the board should light up.
 * @fires lb-refused A command that was not done, with the reason.
 */
@spoken
export abstract class Panel extends LitElement {
  readonly #marks = new PointedMarks(this);
  readonly #handles = new Consumer(this, pageHandles, (handles) => {
    this.#marks.follow(handles?.pointed ?? null);
    this.onHandles(handles);
  });
  readonly #shown = new Consumer(this, shownBoard, (shown, before) => {
    if (shown !== null) this.onBoard(before?.board ?? null);
  });

  /** The handles of the page; null where the panel stands on another one than that of a board. */
  protected get handles(): PageHandles | null {
    return this.#handles.value;
  }

  protected get board(): Board {
    return this.#now.board;
  }

  protected get design(): Design {
    return this.#now.design;
  }

  protected get canEdit(): boolean {
    return this.#now.canEdit;
  }

  get #now(): ShownBoard {
    const { value } = this.#shown;
    if (value === null) throw new RangeError(`${this.localName} stands where no board is shown`);
    return value;
  }

  /** The page hands over other handles, also as the panel comes into it. */
  protected onHandles(_handles: PageHandles | null): void {}

  /** Another board is shown than this one, before it is rendered; null as the panel comes into the page. */
  protected onBoard(_before: Board | null): void {}

  protected light(lit: Lit | null): void {
    this.dispatchEvent(new LightEvent(lit));
  }

  /** Runs the commands as one step of undo; the first one refused is told to the page and ends it. */
  protected run(...commands: readonly Command[]): CommandResult {
    this.design.giveCommands(LATER_COMMANDS);
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
