/**
 * Asks whoever came by a link what they are called, once: a word of the craft is proposed, and they may type another, go on with it or
 * close the box, which goes on with it too. It takes no focus by itself and stands in nobody's way.
 *
 * @fires lb-rename The name they go by from now on.
 */
import { css, html, LitElement, nothing, type PropertyValues, type TemplateResult } from 'lit';
import { property, state } from 'lit/decorators.js';
import { LIMITS } from '../../engine/document/index.ts';
import { type Subject, Subscriptions } from '../context/index.ts';
import { controls } from '../styles/index.ts';
import type { PersonHere } from '../sync/index.ts';
import { spoken, t } from '../text/index.ts';
import { RenameEvent } from './rename-event.ts';

@spoken
export class LbNameBox extends LitElement {
  static override styles = [
    controls,
    css`
      :host {
        margin: var(--lb-space-2);
        display: block;
        max-width: 25rem;
        pointer-events: auto;
      }
      form {
        display: grid;
        grid-template-columns: minmax(0, 1fr) auto auto;
        gap: var(--lb-space-1) var(--lb-space-2);
        align-items: center;
        padding: var(--lb-space-2) var(--lb-space-3);
        border: 1px solid var(--lb-line-strong);
        border-radius: var(--lb-radius);
        background: var(--lb-surface);
        box-shadow: var(--lb-shadow);
      }
      label {
        font-size: var(--lb-size-small);
        font-weight: 600;
      }
      label,
      .hint {
        grid-column: 1 / -1;
      }
      input {
        min-width: 0;
      }
    `,
  ];

  /** Who is here, oneself first. */
  @property({ attribute: false }) people!: Subject<readonly PersonHere[]>;
  /** Whether somebody else goes by a name. */
  @property({ attribute: false }) isTaken: (name: string) => boolean = () => false;
  /** What is proposed: it may change until something is typed, while others come in. */
  @state() private proposed = '';
  @state() private typed: string | null = null;
  readonly #subscriptions = new Subscriptions(this);

  override connectedCallback(): void {
    super.connectedCallback();
    if (this.hasUpdated) this.#watch();
  }

  protected override willUpdate(changed: PropertyValues<this>): void {
    if (changed.has('people')) this.#watch();
  }

  protected override render(): TemplateResult {
    const name = (this.typed ?? '').trim();
    return html`<form
      aria-labelledby="ask"
      @submit=${this.#onSubmit}
      @keydown=${this.#onKey}
      @pointerdown=${(event: Event) => event.stopPropagation()}
    >
      <label id="ask" for="name">${t('people.ask')}</label>
      <input
        id="name"
        autocomplete="nickname"
        dir="auto"
        enterkeyhint="done"
        maxlength=${LIMITS.nameCharacters}
        aria-describedby="hint"
        .value=${this.typed ?? this.proposed}
        @input=${this.#onType}
      />
      <button class="primary" type="submit">${t('people.goOn')}</button>
      <button type="button" aria-label=${t('people.goOnAs', { name: this.proposed })} @click=${() => this.#goBy(this.proposed)}>×</button>
      <span class="hint quiet small" id="hint" role="status">${name !== '' && this.isTaken(name) ? t('people.taken', { name }) : nothing}</span>
    </form>`;
  }

  #watch(): void {
    const take = (people: readonly PersonHere[]): void => {
      this.proposed = people.find(({ self }) => self)?.presence.person.name ?? '';
    };
    this.#subscriptions.keep(this.people.subscribe(take));
    take(this.people.value);
  }

  #goBy(name: string): void {
    this.dispatchEvent(new RenameEvent(name));
  }

  readonly #onType = (event: Event): void => {
    this.typed = (event.target as HTMLInputElement).value;
  };

  readonly #onSubmit = (event: SubmitEvent): void => {
    event.preventDefault();
    this.#goBy((this.typed ?? '').trim() || this.proposed);
  };

  /** What is typed here is no key of the board. */
  readonly #onKey = (event: KeyboardEvent): void => {
    event.stopPropagation();
    if (event.key === 'Escape') this.#goBy(this.proposed);
  };
}
