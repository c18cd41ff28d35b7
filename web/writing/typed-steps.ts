/**
 * What somebody typed into one field, step by step, to be taken back and done again there.
 *
 * The browser's own undo would write back a text without what others wrote meanwhile. A step is kept as the text before and after it, and
 * taken back by merging, so that only its own words go. Rule W1006.
 */
import { mergeTexts } from '../../engine/document/index.ts';

interface Step {
  readonly before: string;
  readonly after: string;
}

const MOST_STEPS = 200;

function kindOf(inputType: string): 'insert' | 'delete' | null {
  if (inputType === 'insertText' || inputType === 'insertCompositionText') return 'insert';
  return inputType.startsWith('delete') ? 'delete' : null;
}

export class TypedSteps {
  #done: readonly Step[] = [];
  #undone: readonly Step[] = [];
  /** What the last step consists of; null: the next begins a new one. */
  #kind: 'insert' | 'delete' | null = null;

  /** @param inputType of the event. What is typed in a row is one step, so is what is deleted in a row; a paste is one of its own. */
  note(before: string, after: string, inputType: string): void {
    const kind = kindOf(inputType);
    const last = this.#done.at(-1);
    if (last !== undefined && kind !== null && kind === this.#kind && last.after === before)
      this.#done = [...this.#done.slice(0, -1), { before: last.before, after }];
    else this.#done = [...this.#done, { before, after }].slice(-MOST_STEPS);
    this.#undone = [];
    this.#kind = kind;
  }

  /** The next edit begins a new step. */
  end(): void {
    this.#kind = null;
  }

  /** Forgets all of them. */
  clear(): void {
    this.#done = [];
    this.#undone = [];
    this.#kind = null;
  }

  /** The text without the last step; null when there is none. */
  undo(text: string, isMultiline: boolean): string | null {
    const step = this.#done.at(-1);
    if (step === undefined) return null;
    this.#done = this.#done.slice(0, -1);
    this.#undone = [...this.#undone, step];
    this.#kind = null;
    return mergeTexts(step.after, text, step.before, { isMultiline, clash: 'mine' }).text;
  }

  /** The text with the step that was undone last; null when there is none. */
  redo(text: string, isMultiline: boolean): string | null {
    const step = this.#undone.at(-1);
    if (step === undefined) return null;
    this.#undone = this.#undone.slice(0, -1);
    this.#done = [...this.#done, step];
    this.#kind = null;
    return mergeTexts(step.before, text, step.after, { isMultiline }).text;
  }
}
