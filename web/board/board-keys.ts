/** What the keys do on the board: moving, the tools, and every command that has keys. */

import { t } from '../text/index.ts';
import { actionFor, type KeyPress } from './action-keys.ts';
import type { ActionHost, BoardAction } from './board-action.ts';
import { isAllowed } from './board-actions.ts';
import { spotAfter } from './keyboard.ts';
import type { Spot } from './spot.ts';

/** The board as its keys see it. */
export interface KeysHost extends ActionHost {
  moveTo(spot: Spot, extend?: boolean): void;
  usePeg(place: number): void;
  holdSpace(isHeld: boolean): void;
  /** Says what is at the cursor. */
  speakSpot(): void;
  say(text: string): void;
  /** Tells that this person may only look. */
  refuse(): void;
}

export class BoardKeys {
  readonly #host: KeysHost;

  constructor(host: KeysHost) {
    this.#host = host;
  }

  readonly down = (event: KeyboardEvent): void => {
    const { editor } = this.#host;
    if (event.key === ' ' && !event.shiftKey && !event.ctrlKey) {
      this.#host.holdSpace(true);
      event.preventDefault();
      return;
    }
    const spot = spotAfter(editor.model.stagger, editor.spot, event);
    if (spot !== null) this.#host.moveTo(spot, event.shiftKey && spot.on === 'knot');
    else if (event.key === 'Enter') this.#useTool();
    else if (!this.run(event)) return;
    event.preventDefault();
    event.stopPropagation();
  };

  readonly up = (event: KeyboardEvent): void => {
    if (event.key !== ' ') return;
    this.#host.holdSpace(false);
  };

  /** @returns whether the keys mean anything here */
  run(press: KeyPress): boolean {
    const action = actionFor(press);
    if (action === null) return false;
    if (!isAllowed(action, this.#host)) {
      if (action.edits === true && !this.#host.editor.canEdit) this.#host.refuse();
      return true;
    }
    action.run(this.#host);
    if (action.group === 'tie') this.#host.editor.tieHere();
    this.#speakAfter(action);
    return true;
  }

  /** By key the maker has not looked at the knot: it is said what it became. */
  #speakAfter({ group, id }: BoardAction): void {
    if (group === 'tie' || group === 'edit') this.#host.speakSpot();
    if (id === 'mirror')
      this.#host.say(
        t(this.#host.editor.mirror.upright === null ? 'board.say.noMirror' : 'board.say.mirror'),
      );
  }

  #useTool(): void {
    const { editor } = this.#host;
    const { cursor } = editor;
    if (cursor === null) {
      if (editor.spot.on === 'peg') this.#host.usePeg(editor.spot.place);
      return;
    }
    switch (editor.tool) {
      case 'line':
      case 'select':
        if (editor.isInStroke) editor.release();
        else editor.press(cursor);
        break;
      case 'trace':
        editor.traceHere();
        break;
      case 'pan':
        break;
      case 'tie':
      case 'fill':
      case 'pick':
        editor.press(cursor);
        editor.release();
        break;
    }
    this.#host.speakSpot();
  }
}
