/**
 * Who is at the board: their initials in a row, and behind it their names, what rows each one sees, one's own name to change,
 * and following another.
 *
 * @fires lb-follow When somebody is to be followed (`client`), or nobody any more (null).
 * @fires lb-rename When one gives oneself another name.
 */
import { css, html, LitElement, nothing, type PropertyValues, type TemplateResult } from 'lit';
import { property, query, state } from 'lit/decorators.js';
import { LIMITS } from '../../engine/document/index.ts';
import { inkOn } from '../../engine/index.ts';
import { type Subject, Subscriptions } from '../context/index.ts';
import { controls } from '../styles/index.ts';
import type { PersonHere } from '../sync/index.ts';
import { spoken, t } from '../text/index.ts';

/** What is shown of who is here: not the knots that they are on. */
function shownOf(people: readonly PersonHere[]): string {
  return JSON.stringify(
    people.map(({ clientId, self, presence: { person, view } }) => [clientId, self, person, view]),
  );
}

/** Initials shown at most; the rest are a number. */
const MOST_SHOWN = 6;

export class FollowEvent extends Event {
  /** Presence id of whom to follow; null = nobody. */
  readonly client: number | null;

  constructor(client: number | null) {
    super('lb-follow', { bubbles: true, composed: true });
    this.client = client;
  }
}

export class RenameEvent extends Event {
  readonly name: string;

  constructor(name: string) {
    super('lb-rename', { bubbles: true, composed: true });
    this.name = name;
  }
}

declare global {
  interface HTMLElementEventMap {
    'lb-follow': FollowEvent;
    'lb-rename': RenameEvent;
  }
}

@spoken
export class LbPeople extends LitElement {
  static override styles = [
    controls,
    css`
      :host {
        position: relative;
        display: inline-block;
      }
      summary {
        position: relative;
        display: inline-flex;
        align-items: center;
        min-height: var(--lb-target);
        padding-inline: 6px var(--lb-space-1);
        border-radius: var(--lb-radius-small);
        cursor: pointer;
        list-style: none;
      }
      summary::-webkit-details-marker {
        display: none;
      }
      summary:hover {
        background: var(--lb-sunken);
      }
      .person {
        display: inline-grid;
        place-items: center;
        flex: none;
        width: 28px;
        height: 28px;
        border: 2px solid var(--lb-page);
        border-radius: 50%;
        background: var(--who);
        color: var(--ink);
        font-size: 13px;
        font-weight: 700;
      }
      summary .person {
        margin-inline-start: -6px;
      }
      @media (max-width: 600px) {
        summary {
          padding-inline-end: 0;
        }
        summary .person:nth-of-type(n + 4) {
          display: none;
        }
        summary .person + .person {
          margin-inline-start: -14px;
        }
      }
      .followed {
        outline: 2px solid var(--lb-accent);
      }
      .sheet {
        position: absolute;
        inset-block-start: calc(100% + 4px);
        inset-inline-end: 0;
        z-index: 5;
        width: min(19rem, calc(100vw - 2 * var(--lb-space-3)));
        max-height: 60dvh;
        overflow-y: auto;
        display: grid;
        gap: var(--lb-space-3);
        padding: var(--lb-space-3);
        border: 1px solid var(--lb-line);
        border-radius: var(--lb-radius);
        background: var(--lb-surface);
        box-shadow: var(--lb-shadow);
      }
      @media (max-width: 600px) {
        /* As wide as the screen lets it, below the row of people. */
        .sheet {
          position: fixed;
          inset-block-start: auto;
          inset-inline: var(--lb-space-3);
          width: auto;
          margin-block-start: 4px;
        }
      }
      label {
        display: grid;
        gap: var(--lb-space-1);
        font-size: var(--lb-size-small);
        font-weight: 600;
      }
      ul {
        display: grid;
        gap: var(--lb-space-2);
        margin: 0;
        padding: 0;
        list-style: none;
      }
      li {
        display: grid;
        grid-template-columns: auto minmax(0, 1fr) auto;
        gap: var(--lb-space-2);
        align-items: center;
        overflow-wrap: anywhere;
      }
    `,
  ];

  /** Who is here. */
  @property({ attribute: false }) people!: Subject<readonly PersonHere[]>;
  /** Presence id of whom one follows; null = nobody. */
  @property({ attribute: false }) following: number | null = null;
  @state({
    hasChanged: (now: readonly PersonHere[], before?: readonly PersonHere[]) =>
      shownOf(now) !== shownOf(before ?? []),
  })
  private here: readonly PersonHere[] = [];
  @query('details') private details!: HTMLDetailsElement;
  readonly #subscriptions = new Subscriptions(this);

  override connectedCallback(): void {
    super.connectedCallback();
    if (this.hasUpdated) this.#watch();
  }

  protected override willUpdate(changed: PropertyValues<this>): void {
    if (changed.has('people')) this.#watch();
  }

  protected override render(): TemplateResult {
    const { here: people } = this;
    const names = people.map(({ self, presence }) =>
      self ? t('board.you', { name: presence.person.name }) : presence.person.name,
    );
    const self = people.find((one) => one.self);
    const others = people.filter((one) => !one.self);
    return html`<details @keydown=${this.#onKey} @focusout=${this.#onFocusOut}>
      <summary title=${names.join(', ')}>
        <span class="visually-hidden">${t('board.people', { names: names.join(', ') })}</span>
        ${people.slice(0, MOST_SHOWN).map((one) => this.#renderInitial(one))}
        ${people.length > MOST_SHOWN ? html`<span class="small" aria-hidden="true">+${people.length - MOST_SHOWN}</span>` : nothing}
      </summary>
      <div class="sheet">
        ${
          self === undefined
            ? nothing
            : html`<label>${t('board.yourName')}<input maxlength=${LIMITS.nameCharacters} autocomplete="off" .value=${self.presence.person.name} @change=${this.#onRename} /></label>`
        }
        ${
          others.length === 0
            ? html`<p class="quiet small">${t('people.alone')}</p>`
            : html`<ul aria-label=${t('people.others')}>${others.map((one) => this.#renderOther(one))}</ul>`
        }
      </div>
    </details>`;
  }

  #watch(): void {
    const take = (here: readonly PersonHere[]): void => {
      this.here = here;
    };
    this.#subscriptions.keep(this.people.subscribe(take));
    take(this.people.value);
  }

  #renderInitial({ clientId, presence: { person } }: PersonHere): TemplateResult {
    const initial = [...person.name.trim()][0] ?? '?';
    return html`<span class="person ${clientId === this.following ? 'followed' : ''}" style="--who: ${person.hex}; --ink: ${inkOn(person.hex)}" aria-hidden="true">${initial}</span>`;
  }

  #renderOther(one: PersonHere): TemplateResult {
    const { person, view } = one.presence;
    const isFollowed = one.clientId === this.following;
    return html`<li>
      ${this.#renderInitial(one)}
      <span>
        ${person.name}
        ${view === null ? nothing : html`<span class="quiet small">${t('people.sees', { from: view.fromRow + 1, to: view.toRow + 1 })}</span>`}
      </span>
      <button
        aria-pressed=${isFollowed}
        aria-label=${t('people.followOf', { name: person.name })}
        ?disabled=${view === null && !isFollowed}
        @click=${() => this.dispatchEvent(new FollowEvent(isFollowed ? null : one.clientId))}
      >
        ${t('people.follow')}
      </button>
    </li>`;
  }

  readonly #onRename = (event: Event): void => {
    const input = event.target as HTMLInputElement;
    const name = input.value.trim();
    if (name === '') {
      input.value = this.here.find((one) => one.self)?.presence.person.name ?? '';
      return;
    }
    this.dispatchEvent(new RenameEvent(name));
  };

  readonly #onKey = (event: KeyboardEvent): void => {
    if (event.key !== 'Escape' || !this.details.open) return;
    this.details.open = false;
    this.details.querySelector('summary')?.focus();
  };

  readonly #onFocusOut = (event: FocusEvent): void => {
    const to = event.relatedTarget;
    if (to instanceof Node && !this.details.contains(to)) this.details.open = false;
  };
}
