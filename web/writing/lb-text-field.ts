/**
 * The field for every text of a board that several may write. What is typed is written by itself, see `text-in-hand.ts`.
 *
 * @fires lb-enter Enter was pressed in a field of one line, after what it holds was written.
 * @csspart field The field of the browser.
 */
import { css, html, LitElement, nothing, type PropertyValues, type TemplateResult } from 'lit';
import { property, query } from 'lit/decorators.js';
import { type Design, designText, type TextPlace, type TextSource } from '../../engine/document/index.ts';
import { controls } from '../styles/index.ts';
import { spoken } from '../text/index.ts';
import { handOf } from './left-words.ts';
import { besideText } from './say-text.ts';
import { type Box, type FieldHost, TypedField, type WrittenField } from './typed-field.ts';

export { LbLeftWords } from './lb-left-words.ts';

class EnterEvent extends Event {
  constructor() {
    super('lb-enter');
  }
}

declare global {
  interface HTMLElementEventMap {
    'lb-enter': EnterEvent;
  }
}

/** Whoever shows it may name the place anew each time. */
function isOther(now: TextPlace | null, before?: TextPlace | null): boolean {
  return JSON.stringify(now) !== JSON.stringify(before ?? null);
}

@spoken
export class LbTextField extends LitElement implements FieldHost, WrittenField {
  static override shadowRootOptions = { ...LitElement.shadowRootOptions, delegatesFocus: true };
  static override styles = [
    controls,
    css`
      :host {
        position: relative;
        display: block;
        min-width: 0;
      }
      label {
        display: block;
        margin-block-end: var(--lb-space-1);
        font-size: var(--lb-size-small);
        font-weight: 600;
      }
      input,
      textarea {
        width: 100%;
        min-width: 0;
      }
      /* A field of more lines would stand on a line of text, with room for its descenders. */
      input,
      textarea {
        display: block;
      }
      .said > * {
        display: block;
        margin-block-start: var(--lb-space-1);
      }
      textarea {
        min-height: var(--text-height, 6rem);
        padding: var(--lb-space-3);
        resize: vertical;
      }
      [aria-invalid='true'] {
        border-color: var(--lb-warn);
        border-width: 2px;
      }
      .wrong {
        color: var(--lb-warn);
        font-size: var(--lb-size-small);
        font-weight: 600;
      }
      /* Where the field stands in a line with others, what is said of it covers what is below and moves nothing. */
      :host([afloat]) .said {
        position: absolute;
        inset-block-start: calc(100% + 2px);
        inset-inline-start: 0;
        z-index: 3;
        width: max-content;
        max-width: min(32ch, 80vw);
      }
      :host([afloat]) .said > :not([hidden]) {
        padding: var(--lb-space-1) var(--lb-space-2);
        border: 1px solid var(--lb-line-strong);
        border-radius: var(--lb-radius-small);
        background: var(--lb-surface);
        box-shadow: var(--lb-shadow);
      }
    `,
  ];

  /** The text of a design; or any other by `source`. */
  @property({ attribute: false }) design: Design | null = null;
  @property({ attribute: false, hasChanged: isOther }) place: TextPlace | null = null;
  @property({ attribute: false }) source: TextSource | null = null;
  @property({ attribute: false }) label = '';
  /** Whether the label is seen above the field. */
  @property({ type: Boolean }) labelled = false;
  /** Whether what is said of it moves nothing. */
  @property({ type: Boolean, reflect: true }) afloat = false;
  @property({ attribute: false }) placeholder = '';
  @property({ type: Boolean }) disabled = false;
  @query('#field') private field!: HTMLInputElement | HTMLTextAreaElement | null;
  readonly #typed = new TypedField(this);

  get box(): Box | null {
    return this.field as Box | null;
  }

  override connectedCallback(): void {
    super.connectedCallback();
    for (const type of ['pagehide', 'popstate']) addEventListener(type, this.#typed.save);
    document.addEventListener('visibilitychange', this.#typed.save);
    if (this.hasUpdated) this.#follow();
  }

  override disconnectedCallback(): void {
    for (const type of ['pagehide', 'popstate']) removeEventListener(type, this.#typed.save);
    document.removeEventListener('visibilitychange', this.#typed.save);
    this.#typed.follow(null);
    super.disconnectedCallback();
  }

  save(): boolean {
    return this.#typed.hand?.save() ?? true;
  }

  onSaid(): void {
    this.requestUpdate();
  }

  onEnter(): void {
    this.dispatchEvent(new EnterEvent());
  }

  protected override willUpdate(changed: PropertyValues<this>): void {
    if (changed.has('design') || changed.has('place') || changed.has('source')) this.#follow();
    if (this.#typed.hand !== null) this.#typed.hand.label = this.label;
  }

  protected override render(): TemplateResult | typeof nothing {
    const { hand } = this.#typed;
    if (hand === null) return nothing;
    const { problem, source } = hand;
    const isWrong = problem !== null;
    const { onFocus, onBlur, onBeforeInput, onInput, onKey, onCompositionStart, onCompositionEnd } =
      this.#typed;
    const field = source.isMultiline
      ? html`<textarea
          id="field"
          part="field"
          dir="auto"
          aria-label=${this.labelled ? nothing : this.label}
          aria-describedby="room wrong"
          aria-invalid=${isWrong}
          placeholder=${this.placeholder}
          ?disabled=${this.disabled}
          @focus=${onFocus}
          @blur=${onBlur}
          @beforeinput=${onBeforeInput}
          @input=${onInput}
          @keydown=${onKey}
          @compositionstart=${onCompositionStart}
          @compositionend=${onCompositionEnd}
        ></textarea>`
      : html`<input
          id="field"
          part="field"
          type="text"
          dir="auto"
          autocomplete="off"
          aria-label=${this.labelled ? nothing : this.label}
          aria-describedby="room wrong"
          aria-invalid=${isWrong}
          placeholder=${this.placeholder}
          ?disabled=${this.disabled}
          @focus=${onFocus}
          @blur=${onBlur}
          @beforeinput=${onBeforeInput}
          @input=${onInput}
          @keydown=${onKey}
          @compositionstart=${onCompositionStart}
          @compositionend=${onCompositionEnd}
        />`;
    return html`${this.labelled ? html`<label for="field">${this.label}</label>` : nothing}${field}
      <div class="said">${besideText(hand, this.#typed.isFocused)}</div>`;
  }

  protected override updated(): void {
    // Only a field that was drawn anew can show another text than the hand's, which sets it itself.
    const { hand } = this.#typed;
    if (hand !== null && this.field !== null && this.field.value !== hand.text) this.field.value = hand.text;
  }

  #follow(): void {
    const { design, place } = this;
    const source = this.source ?? (design === null || place === null ? null : designText(design, place));
    this.#typed.follow(source === null ? null : handOf(source));
  }
}
