/**
 * A box to write a remark in. `@` offers the people one can speak to: arrow keys choose, Enter or Tab takes, Escape closes; Ctrl+Enter
 * sends.
 *
 * @fires lb-said What was written, when it is to be said.
 * @fires lb-draft What is in the box now.
 */
import { css, html, LitElement, nothing, type PropertyValues, type TemplateResult } from 'lit';
import { property, query, state } from 'lit/decorators.js';
import { MAX_REMARK_CHARACTERS, type Speaker } from '../../engine/document/index.ts';
import { controls } from '../styles/index.ts';
import { spoken, t } from '../text/index.ts';
import { type Naming, namedIn, namingAt, peopleNamed, withName } from './mention.ts';

const MOST_OFFERED = 6;
/** From so few characters left it is said how many. */
const SAY_ROOM = 200;

export class SaidEvent extends Event {
  readonly text: string;
  readonly mentions: readonly string[];

  constructor(text: string, mentions: readonly string[]) {
    super('lb-said');
    this.text = text;
    this.mentions = mentions;
  }
}

class DraftEvent extends Event {
  readonly text: string;

  constructor(text: string) {
    super('lb-draft');
    this.text = text;
  }
}

declare global {
  interface HTMLElementEventMap {
    'lb-said': SaidEvent;
    'lb-draft': DraftEvent;
  }
}

@spoken
export class LbRemarkBox extends LitElement {
  static override styles = [
    controls,
    css`
      :host {
        position: relative;
        display: grid;
        gap: var(--lb-space-1);
        min-width: 0;
      }
      textarea {
        min-height: 4.5em;
        max-height: 40dvh;
        padding: var(--lb-space-2);
        resize: vertical;
        field-sizing: content;
      }
      .row {
        display: flex;
        flex-wrap: wrap;
        align-items: center;
        justify-content: flex-end;
        gap: var(--lb-space-2);
      }
      .row .quiet {
        flex: 1 1 12ch;
      }
      ul {
        margin: 0;
        padding: var(--lb-space-1);
        list-style: none;
        border: 1px solid var(--lb-line);
        border-radius: var(--lb-radius-small);
        background: var(--lb-surface);
        box-shadow: var(--lb-shadow);
      }
      li {
        display: flex;
        gap: var(--lb-space-2);
        align-items: center;
        min-height: 32px;
        padding: 0 var(--lb-space-2);
        border-radius: var(--lb-radius-small);
        cursor: pointer;
        overflow-wrap: anywhere;
      }
      li[aria-selected='true'] {
        background: var(--lb-sunken);
        box-shadow: inset 3px 0 0 var(--lb-accent);
      }
    `,
  ];

  @property({ attribute: false }) label = '';
  @property({ attribute: false }) action = '';
  /** What stands in the box to begin with; another text replaces what was written. */
  @property({ attribute: false }) text = '';
  /** Whom one can speak to, asked when it is needed: people come and go while one writes. */
  @property({ attribute: false }) people: () => readonly Speaker[] = () => [];
  @state() private written = '';
  @state() private naming: Naming | null = null;
  @state() private chosen = 0;
  @query('textarea') private area!: HTMLTextAreaElement;

  protected override willUpdate(changed: PropertyValues<this>): void {
    if (changed.has('text')) this.written = this.text;
  }

  override focus(): void {
    void this.updateComplete.then(() => this.area.focus());
  }

  protected override render(): TemplateResult {
    const offered = this.#offered();
    const left = MAX_REMARK_CHARACTERS - this.written.length;
    return html`
      <textarea
        aria-label=${this.label}
        aria-describedby="hint"
        aria-autocomplete="list"
        aria-controls=${offered.length > 0 ? 'offered' : nothing}
        aria-activedescendant=${offered.length > 0 ? `one-${this.chosen}` : nothing}
        dir="auto"
        maxlength=${MAX_REMARK_CHARACTERS}
        .value=${this.written}
        @input=${this.#onInput}
        @click=${this.#onCaret}
        @keydown=${this.#onKey}
        @blur=${() => {
          this.naming = null;
        }}
      ></textarea>
      ${
        offered.length === 0
          ? nothing
          : html`<ul id="offered" role="listbox" aria-label=${t('talk.people')}>
              ${offered.map(
                ({ name, hex }, i) => html`<li
                  id="one-${i}"
                  role="option"
                  aria-selected=${i === this.chosen}
                  @pointerdown=${(event: Event) => {
                    event.preventDefault();
                    this.#take(i);
                  }}
                ><span class="swatch" style="background: ${hex}"></span>${name}</li>`,
              )}
            </ul>`
      }
      <p class="visually-hidden" role="status">${offered.length > 0 ? t('talk.found', { count: offered.length }) : ''}</p>
      <div class="row">
        <span class="quiet small" id="hint">${left <= SAY_ROOM ? t('talk.room', { left }) : t('talk.hint')}</span>
        <slot></slot>
        <button class="primary" ?disabled=${this.written.trim() === ''} @click=${this.#send}>${this.action}</button>
      </div>
    `;
  }

  #offered(): readonly Speaker[] {
    return this.naming === null ? [] : peopleNamed(this.people(), this.naming.typed, MOST_OFFERED);
  }

  #take(index: number): void {
    const one = this.#offered()[index];
    if (one === undefined || this.naming === null) return;
    const { text, caret } = withName(this.written, this.naming, one.name);
    this.#write(text);
    this.naming = null;
    void this.updateComplete.then(() => this.area.setSelectionRange(caret, caret));
  }

  #write(text: string): void {
    this.written = text;
    this.dispatchEvent(new DraftEvent(text));
  }

  readonly #onInput = (): void => {
    this.#write(this.area.value);
    this.#onCaret();
  };

  readonly #onCaret = (): void => {
    this.naming = namingAt(this.area.value, this.area.selectionStart);
    this.chosen = 0;
  };

  readonly #onKey = (event: KeyboardEvent): void => {
    const offered = this.#offered();
    if (event.key === 'Enter' && (event.ctrlKey || event.metaKey)) {
      event.preventDefault();
      this.#send();
      return;
    }
    if (offered.length === 0) return;
    switch (event.key) {
      case 'ArrowDown':
        this.chosen = (this.chosen + 1) % offered.length;
        break;
      case 'ArrowUp':
        this.chosen = (this.chosen - 1 + offered.length) % offered.length;
        break;
      case 'Enter':
      case 'Tab':
        this.#take(this.chosen);
        break;
      case 'Escape':
        this.naming = null;
        break;
      default:
        return;
    }
    event.preventDefault();
    event.stopPropagation();
  };

  readonly #send = (): void => {
    const text = this.written.trim();
    if (text !== '') this.dispatchEvent(new SaidEvent(text, namedIn(text, this.people())));
  };
}
