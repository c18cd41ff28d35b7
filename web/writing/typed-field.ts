/**
 * A field of the browser as the view of a text in hand: its events in, another text and the selection out.
 *
 * The browser's own undo is never let through: it knows nothing of what others wrote. Rules W1003 to W1006.
 */
import type { Selection, TextInHand, TextView } from './text-in-hand.ts';

/** What of a field is used. */
export type Box = Pick<
  HTMLTextAreaElement,
  'value' | 'selectionStart' | 'selectionEnd' | 'selectionDirection' | 'setSelectionRange' | 'scrollTop'
>;

/** A field of the page, for the element in which it stands. */
export interface WrittenField extends HTMLElement {
  /** Writes what is typed. @returns whether all of it is written */
  save(): boolean;
}

export interface FieldHost {
  /** Null before it is drawn. */
  readonly box: Box | null;
  /** Something else is to be said of it. */
  onSaid(): void;
  /** Enter was pressed in a field of one line. */
  onEnter(): void;
}

export class TypedField implements TextView {
  readonly #host: FieldHost;
  #hand: TextInHand | null = null;
  #letGo: (() => void) | null = null;
  #isFocused = false;

  constructor(host: FieldHost) {
    this.#host = host;
  }

  get hand(): TextInHand | null {
    return this.#hand;
  }

  get isFocused(): boolean {
    return this.#isFocused;
  }

  /** Shows this text from now on; null = none. What was typed into the one before is written. */
  follow(hand: TextInHand | null): void {
    if (hand === this.#hand) return;
    this.#letGo?.();
    this.#hand = hand;
    this.#letGo = hand?.attach(this) ?? null;
    const { box } = this.#host;
    if (box !== null && hand !== null) box.value = hand.text;
  }

  selection(): Selection | null {
    const { box } = this.#host;
    if (!this.#isFocused || box === null) return null;
    const { selectionStart: start, selectionEnd: end, selectionDirection: direction } = box;
    return { start, end, direction };
  }

  show(text: string, selection: Selection | null): void {
    const { box } = this.#host;
    if (box === null) return;
    const { scrollTop } = box;
    box.value = text;
    if (selection !== null && this.#isFocused)
      box.setSelectionRange(selection.start, selection.end, selection.direction);
    box.scrollTop = scrollTop;
  }

  said(): void {
    this.#host.onSaid();
  }

  /** Writes what is not written yet: the page may go. */
  readonly save = (): void => void this.#hand?.save();

  readonly onFocus = (): void => {
    this.#isFocused = true;
    this.#host.onSaid();
  };

  readonly onBlur = (): void => {
    this.#isFocused = false;
    this.#hand?.leave();
    this.#host.onSaid();
  };

  readonly onBeforeInput = (event: InputEvent): void => {
    if (this.#undoes(event.inputType)) event.preventDefault();
  };

  readonly onInput = (event: InputEvent): void => {
    const { box } = this.#host;
    const hand = this.#hand;
    if (box === null || hand === null) return;
    // A browser that could not be kept from it has written an earlier text.
    if (event.inputType === 'historyUndo' || event.inputType === 'historyRedo') {
      box.value = hand.text;
      this.#undoes(event.inputType);
      return;
    }
    hand.typed(box.value, event.inputType ?? '');
    this.#host.onSaid();
  };

  readonly onCompositionStart = (): void => this.#hand?.compose(true);

  readonly onCompositionEnd = (): void => {
    const { box } = this.#host;
    if (box !== null) this.#hand?.typed(box.value, 'insertCompositionText');
    this.#hand?.compose(false);
  };

  readonly onKey = (event: KeyboardEvent): void => {
    const hand = this.#hand;
    if (event.isComposing || hand === null) return;
    const key = event.key.toLowerCase();
    const isCommand = (event.ctrlKey || event.metaKey) && !event.altKey;
    if (isCommand && (key === 'z' || (key === 'y' && !event.shiftKey))) {
      this.#undoes(key === 'y' || event.shiftKey ? 'historyRedo' : 'historyUndo');
      event.preventDefault();
    } else if (key === 'enter' && !hand.source.isMultiline) {
      hand.save();
      this.#host.onEnter();
    } else if (key === 'escape' && !hand.source.isMultiline && hand.isTyped) {
      hand.takeBack();
      event.preventDefault();
    }
  };

  #undoes(inputType: string): boolean {
    if (inputType === 'historyUndo') this.#hand?.undo();
    else if (inputType === 'historyRedo') this.#hand?.redo();
    else return false;
    this.#host.onSaid();
    return true;
  }
}
