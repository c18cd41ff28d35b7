/**
 * A text that somebody types while others may change it too, without a screen.
 *
 * Invariants: nothing typed is replaced; what others write is merged in around it, and the caret stays with its word. While an input method
 * composes a word nothing is moved under it. What does not fit, or whose place is gone, is not written and stays here, with the reason.
 *
 * It is written at a pause, while one types on at least every few seconds, and at once when the field is left: a pause, because others see
 * words then and not letters, and each written value is kept whole for as long as the document lasts; not at the end alone, because what
 * stands only in a field is lost with the page, and the sooner others see it the less is written at once. Rules W1000 to W1009.
 */
import { mergeTexts, type TextRefusal, type TextSource } from '../../engine/document/index.ts';
import { TypedSteps } from './typed-steps.ts';

/** So long after the last letter it is written. */
export const PAUSE_MS = 700;
/** And so long after the first one that is not, however fast one types. */
export const LONGEST_MS = 4000;

export interface Selection {
  readonly start: number;
  readonly end: number;
  readonly direction: 'forward' | 'backward' | 'none';
}

/** The field that shows it. */
export interface TextView {
  /** What is selected where one types; null while one does not. */
  selection(): Selection | null;
  /** Shows another text than was typed. @param selection null: none is to be set */
  show(text: string, selection: Selection | null): void;
  /** What there is to be said has changed. */
  said(): void;
}

/** Why what is in the hand is not written. */
export type TextProblem =
  /** `over`: by how many units; `isJoint`: only together with what others wrote. */
  | { readonly kind: 'too-long'; readonly over: number; readonly isJoint: boolean }
  | { readonly kind: 'empty' }
  | TextRefusal;

/** Calls back after so many ms, unless the returned function is called before. */
export type After = (ms: number, call: () => void) => () => void;

interface Change {
  readonly now: string | null;
  readonly joint: string;
  readonly isOwn: boolean;
}

export class TextInHand {
  readonly source: TextSource;
  /** What people call it; the field that shows it says so. */
  label = '';
  readonly #after: After;
  readonly #onLeft: (hand: TextInHand) => void;
  readonly #steps = new TypedSteps();
  #view: TextView | null = null;
  /** As it was last written or told by others. */
  #stored: string | null;
  /** As it was before it was gone. */
  #before = '';
  #text: string;
  #problem: TextProblem | null = null;
  #isJoint = false;
  #isComposing = false;
  /** What others changed while a word was being composed. */
  #waiting: readonly Change[] = [];
  #stopPause: (() => void) | null = null;
  #stopLongest: (() => void) | null = null;
  #closeStep: (() => void) | null = null;
  /** Whether anything was typed since one came to the field. */
  #isTyped = false;
  #wasLeft = false;

  /** @param onLeft told when words that are not written have no field, and when they have one again or are written; see {@link isLeft} */
  constructor(source: TextSource, after: After, onLeft: (hand: TextInHand) => void) {
    this.source = source;
    this.#after = after;
    this.#onLeft = onLeft;
    this.#stored = source.text;
    this.#text = source.text ?? '';
    source.listen((now, joint, isOwn) => this.#hear({ now, joint, isOwn }));
  }

  /** What the field shows. */
  get text(): string {
    return this.#text;
  }

  get problem(): TextProblem | null {
    return this.#problem;
  }

  /** Whether there are words here that are written nowhere. */
  get isUnwritten(): boolean {
    return this.#text !== (this.#stored ?? '') && this.source.fit(this.#text) !== this.#stored;
  }

  /** Whether there are such words and no field for them. */
  get isLeft(): boolean {
    const kind = this.#problem?.kind;
    return kind !== undefined && this.isUnwritten && (this.#view === null || kind === 'gone');
  }

  /** Units that are left; negative where it is too long. */
  get room(): number {
    return this.source.most - this.source.fit(this.#text).length;
  }

  /** @returns lets go of it, and writes what was not yet */
  attach(view: TextView): () => void {
    this.#view = view;
    this.#checkLeft();
    return () => {
      if (this.#view !== view) return;
      this.compose(false);
      this.leave();
      this.#view = null;
      this.#checkLeft();
    };
  }

  /** Whether anything was typed here since one came. */
  get isTyped(): boolean {
    return this.#isTyped;
  }

  typed(text: string, inputType: string): void {
    if (text === this.#text) return;
    this.#steps.note(this.#text, text, inputType);
    this.#text = text;
    this.#isTyped = true;
    if (this.room >= 0) this.#isJoint = false;
    this.#judge();
    this.#writeSoon();
  }

  /** A word begins or ends to be composed. */
  compose(isComposing: boolean): void {
    this.#isComposing = isComposing;
    if (isComposing) return;
    const waiting = this.#waiting;
    this.#waiting = [];
    for (const change of waiting) this.#take(change);
    if (this.isUnwritten) this.#writeSoon();
  }

  /** Writes what is not written yet. @returns whether all of it is */
  save(): boolean {
    if (this.#isComposing) return !this.isUnwritten;
    this.#stopTimers();
    this.#steps.end();
    if (!this.isUnwritten || this.#stored === null) return !this.isUnwritten;
    this.#judge();
    if (this.#problem !== null) return false;
    const text = this.source.fit(this.#text);
    if (this.#view?.selection() != null) this.#closeStep ??= this.source.openStep();
    const refusal = this.source.write(text);
    if (refusal === null) this.#stored = text;
    this.#say(refusal);
    return refusal === null;
  }

  /** The field is left: from now on it shows what is kept, if all could be written. */
  leave(): void {
    const isWritten = this.save();
    this.#closeStep?.();
    this.#closeStep = null;
    this.#steps.clear();
    this.#isTyped = false;
    // Where a name has to stand, the one before does.
    if (this.#stored !== null && (isWritten || this.#problem?.kind === 'empty')) {
      this.#show(this.#stored);
      this.#judge();
    }
  }

  /** Takes back what was typed last here; what others wrote stays. */
  undo(): void {
    this.#step(this.#steps.undo(this.#text, this.source.isMultiline));
  }

  redo(): void {
    this.#step(this.#steps.redo(this.#text, this.source.isMultiline));
  }

  /** Takes back all that was typed since one came to the field. */
  takeBack(): void {
    for (;;) {
      const text = this.#steps.undo(this.#text, this.source.isMultiline);
      if (text === null) break;
      this.#step(text);
    }
    this.save();
  }

  /** Lets go of words that could not be written: the text is again what is kept. */
  giveUp(): void {
    this.#stopTimers();
    this.#steps.clear();
    this.#isTyped = false;
    this.#show(this.#stored ?? '');
    this.#say(null);
  }

  #step(text: string | null): void {
    if (text === null || text === this.#text) return;
    const before = this.#text;
    this.#text = text;
    this.#isTyped = true;
    let tail = 0;
    const most = Math.min(before.length, text.length);
    while (tail < most && before.at(-1 - tail) === text.at(-1 - tail)) tail++;
    const at = text.length - tail;
    this.#view?.show(text, { start: at, end: at, direction: 'none' });
    this.#judge();
    this.#writeSoon();
  }

  #hear(change: Change): void {
    if (this.#isComposing) this.#waiting = [...this.#waiting, change];
    else this.#take(change);
  }

  #take({ now, joint, isOwn }: Change): void {
    if (now === null) {
      const isMissed = this.isUnwritten || (this.#isTyped && this.#view?.selection() != null);
      this.#before = this.#stored ?? this.#before;
      this.#stored = null;
      this.#stopTimers();
      if (isMissed) this.#say({ kind: 'gone' });
      else this.#show('');
      return;
    }
    const isBack = this.#stored === null;
    const before = this.#stored ?? this.#before;
    this.#stored = now;
    this.#steps.end();
    // What one does to it by other means counts as much as typing; and what came back was not typed away.
    if ((isOwn && this.#view?.selection() == null) || (isBack && this.#problem === null)) {
      this.#stopTimers();
      this.#show(joint);
      this.#judge();
      if (this.isUnwritten) this.#writeSoon();
      return;
    }
    const { text, move } = mergeTexts(before, this.#text, joint, { isMultiline: this.source.isMultiline });
    const room = this.room;
    const at = this.#view?.selection() ?? null;
    if (text !== this.#text) {
      const isRange = at !== null && at.start < at.end;
      this.#text = text;
      this.#view?.show(
        text,
        at === null
          ? null
          : {
              ...at,
              start: move(at.start, isRange ? 'right' : 'word'),
              end: move(at.end, isRange ? 'left' : 'word'),
            },
      );
    }
    if (room >= 0 && this.room < 0) this.#isJoint = true;
    this.#judge();
    // Others are told of the merge before more is typed onto what only one of us has.
    if (this.isUnwritten) this.#writeSoon();
    else this.#stopTimers();
  }

  /** What is in the hand may be too long, or not long enough. */
  #judge(): void {
    const over = -this.room;
    const isTooLong = over > 0 && this.isUnwritten;
    const isEmpty = !this.source.mayBeEmpty && this.source.fit(this.#text) === '';
    this.#say(
      this.#stored === null
        ? this.#problem
        : isTooLong
          ? { kind: 'too-long', over, isJoint: this.#isJoint }
          : isEmpty
            ? { kind: 'empty' }
            : null,
    );
  }

  #say(problem: TextProblem | null): void {
    this.#problem = problem;
    this.#view?.said();
    this.#checkLeft();
  }

  #show(text: string): void {
    if (text === this.#text) return;
    this.#text = text;
    this.#view?.show(text, null);
    this.#view?.said();
  }

  /** Without a field nobody would see what is not written. */
  #checkLeft(): void {
    const { isLeft } = this;
    // Also where only the words are others.
    if (isLeft || this.#wasLeft) this.#onLeft(this);
    this.#wasLeft = isLeft;
  }

  #writeSoon(): void {
    if (this.#isComposing) return;
    this.#stopPause?.();
    const isTyping = this.#view?.selection() != null;
    this.#stopPause = this.#after(isTyping ? PAUSE_MS : 0, () => this.save());
    this.#stopLongest ??= this.#after(LONGEST_MS, () => this.save());
  }

  #stopTimers(): void {
    this.#stopPause?.();
    this.#stopLongest?.();
    this.#stopPause = null;
    this.#stopLongest = null;
  }
}
