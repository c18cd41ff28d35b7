/** Somebody who types into a text of a design, without a screen. */
import { type Design, designText, type TextPlace } from '../../engine/document/index.ts';
import { type Selection, TextInHand, type TextView } from '../../web/writing/text-in-hand.ts';
import type { HandClock } from './hand-clock.ts';

export class TypingHand implements TextView {
  readonly hand: TextInHand;
  /** What the field shows. */
  shown: string;
  /** Words that were left without a field. */
  readonly left: string[] = [];
  #at: Selection | null = null;
  #leave: (() => void) | null = null;

  constructor(design: Design, place: TextPlace, clock: HandClock) {
    this.hand = new TextInHand(designText(design, place), clock.after, (hand) => {
      if (hand.isLeft) this.left.push(hand.text);
    });
    this.shown = this.hand.text;
  }

  /** Comes to the field, with the caret at a place; default at its end. */
  come(at: number = this.hand.text.length, end = at): this {
    this.#leave ??= this.hand.attach(this);
    this.shown = this.hand.text;
    this.#at = { start: at, end, direction: 'none' };
    return this;
  }

  /** Leaves it, which stays in sight. */
  blur(): void {
    this.#at = null;
    this.hand.leave();
  }

  /** The field goes out of the page. */
  go(): void {
    this.#at = null;
    this.#leave?.();
    this.#leave = null;
  }

  /** Letter by letter, over what is selected. */
  type(text: string): this {
    for (const letter of text) this.put(letter, 'insertText');
    return this;
  }

  /** All at once. */
  paste(text: string): this {
    return this.put(text, 'insertFromPaste');
  }

  put(text: string, kind: string): this {
    const { start, end } = this.#at!;
    this.shown = this.shown.slice(0, start) + text + this.shown.slice(end);
    this.#at = { start: start + text.length, end: start + text.length, direction: 'none' };
    this.hand.typed(this.shown, kind);
    return this;
  }

  /** What it shows, with `|` at the caret, or a pair around what is selected. */
  get seen(): string {
    if (this.#at === null) return this.shown;
    const { start, end } = this.#at;
    const to = start === end ? '' : `${this.shown.slice(start, end)}|`;
    return `${this.shown.slice(0, start)}|${to}${this.shown.slice(end)}`;
  }

  get caret(): number {
    return this.#at!.start;
  }

  get isHere(): boolean {
    return this.#at !== null;
  }

  selection(): Selection | null {
    return this.#at;
  }

  show(text: string, selection: Selection | null): void {
    this.shown = text;
    if (this.#at !== null)
      this.#at = selection ?? { start: text.length, end: text.length, direction: 'none' };
  }

  said(): void {}
}
