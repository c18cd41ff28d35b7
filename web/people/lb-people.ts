/**
 * Who is at the board: their initials in a row, and behind it their names, what rows each one sees, who was here a while ago, one's own
 * name to change, and following another.
 *
 * @fires lb-follow When somebody is to be followed (`person`), or nobody any more (null).
 * @fires lb-rename When one gives oneself another name.
 */
import { css, html, LitElement, nothing, type PropertyValues, type TemplateResult } from 'lit';
import { property, query, state } from 'lit/decorators.js';
import { LIMITS } from '../../engine/document/index.ts';
import { inkOn } from '../../engine/index.ts';
import { type Subject, Subscriptions } from '../context/index.ts';
import { typedValue } from '../fields/index.ts';
import { controls } from '../styles/index.ts';
import type { PersonHere, PersonLeft } from '../sync/index.ts';
import { currentLanguage, spoken, t } from '../text/index.ts';
import { RenameEvent } from './rename-event.ts';

export { LbNameBox } from './lb-name-box.ts';

/** What is shown of who is here: not the knots that they are on. */
function shownOf(people: readonly PersonHere[]): string {
  return JSON.stringify(
    people.map(({ self, isUnheard, presence: { person, view } }) => [self, isUnheard, person, view]),
  );
}

/** Initials shown at most, and on a phone; the rest are a number. */
const MOST_SHOWN = 6;
const MOST_ON_PHONE = 3;

export class FollowEvent extends Event {
  /** Id of whom to follow; null = nobody. */
  readonly person: string | null;

  constructor(person: string | null) {
    super('lb-follow', { bubbles: true, composed: true });
    this.person = person;
  }
}

declare global {
  interface HTMLElementEventMap {
    'lb-follow': FollowEvent;
  }
}

function initialOf({ name }: PersonLeft['person']): string {
  return [...name.trim()][0] ?? '?';
}

function sayUntil(at: number): string {
  const time = new Intl.DateTimeFormat(currentLanguage(), { timeStyle: 'short' }).format(at);
  return t('people.wasHere', { time });
}

function renderLeft(person: PersonLeft['person'], where = ''): TemplateResult {
  return html`<span class="person gone ${where}" style="--who: ${person.hex}" aria-hidden="true">${initialOf(person)}</span>`;
}

/** How many there are that the row has no room for. */
function rest(count: number, most: number, where: string): TemplateResult | typeof nothing {
  return count > most
    ? html`<span class="small rest ${where}" aria-hidden="true">+${count - most}</span>`
    : nothing;
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
      /* Not heard since the line broke: there, as far as is known. */
      .person.unheard {
        filter: grayscale(1);
        opacity: 0.55;
      }
      /* Was here: the ring of whoever left. */
      .person.gone {
        border: 2px dotted var(--who);
        background: var(--lb-page);
        color: var(--lb-text-quiet);
      }
      .rest {
        margin-inline-start: 2px;
      }
      .rest.phone {
        display: none;
      }
      @media (max-width: 600px) {
        .rest.phone {
          display: inline;
        }
        .rest.wide {
          display: none;
        }
        summary {
          padding-inline-end: 0;
        }
        summary .beyond {
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
  /** Who was here a while ago. */
  @property({ attribute: false }) left!: Subject<readonly PersonLeft[]>;
  /** Id of whom one follows; null = nobody. */
  @property({ attribute: false }) following: string | null = null;
  @state({
    hasChanged: (now: readonly PersonHere[], before?: readonly PersonHere[]) =>
      shownOf(now) !== shownOf(before ?? []),
  })
  private here: readonly PersonHere[] = [];
  @state() private wereHere: readonly PersonLeft[] = [];
  @query('details') private details!: HTMLDetailsElement;
  readonly #subscriptions = new Subscriptions(this);

  override connectedCallback(): void {
    super.connectedCallback();
    if (this.hasUpdated) this.#watch();
  }

  protected override willUpdate(changed: PropertyValues<this>): void {
    if (changed.has('people') || changed.has('left')) this.#watch();
  }

  protected override render(): TemplateResult {
    const { here: people } = this;
    const names = people.map(({ self, isUnheard, presence: { person } }) =>
      self
        ? t('board.you', { name: person.name })
        : isUnheard
          ? t('people.unheardOf', { name: person.name })
          : person.name,
    );
    const wereHere = this.wereHere.map(({ person, at }) => `${person.name} (${sayUntil(at)})`);
    const said = [...names, ...wereHere].join(', ');
    const self = people.find((one) => one.self);
    const others = people.filter((one) => !one.self);
    return html`<details @keydown=${this.#onKey} @focusout=${this.#onFocusOut}>
      <summary title=${said}>
        <span class="visually-hidden">${t('board.people', { names: said })}</span>
        ${people.slice(0, MOST_SHOWN).map((one, i) => this.#renderInitial(one, i >= MOST_ON_PHONE))}
        ${this.wereHere.slice(0, Math.max(0, MOST_SHOWN - people.length)).map(({ person }) => renderLeft(person, 'beyond'))}
        ${rest(people.length, MOST_SHOWN, 'wide')}${rest(people.length, MOST_ON_PHONE, 'phone')}
      </summary>
      <div class="sheet">
        ${
          self === undefined
            ? nothing
            : html`<label>${t('board.yourName')}<input maxlength=${LIMITS.nameCharacters} autocomplete="off" .value=${typedValue(self.presence.person.name)} @change=${this.#onRename} /></label>`
        }
        ${
          others.length === 0
            ? html`<p class="quiet small">${t('people.alone')}</p>`
            : html`<ul aria-label=${t('people.others')}>${others.map((one) => this.#renderOther(one))}</ul>`
        }
        ${this.#renderLeft()}
      </div>
    </details>`;
  }

  #watch(): void {
    const take = (here: readonly PersonHere[]): void => {
      this.here = here;
    };
    const takeLeft = (left: readonly PersonLeft[]): void => {
      this.wereHere = left;
    };
    this.#subscriptions.keep(this.people.subscribe(take), this.left.subscribe(takeLeft));
    take(this.people.value);
    takeLeft(this.left.value);
  }

  #renderInitial({ presence: { person }, isUnheard }: PersonHere, isBeyond = false): TemplateResult {
    const classes = [
      'person',
      person.id === this.following ? 'followed' : '',
      isUnheard ? 'unheard' : '',
      isBeyond ? 'beyond' : '',
    ];
    return html`<span class=${classes.filter((one) => one !== '').join(' ')} style="--who: ${person.hex}; --ink: ${inkOn(person.hex)}" aria-hidden="true">${initialOf(person)}</span>`;
  }

  #renderOther(one: PersonHere): TemplateResult {
    const { person, view } = one.presence;
    const isFollowed = person.id === this.following;
    return html`<li>
      ${this.#renderInitial(one)}
      <span>
        ${person.name}
        ${one.isUnheard ? html`<span class="quiet small">${t('people.unheard')}</span>` : view === null ? nothing : html`<span class="quiet small">${t('people.sees', { from: view.fromRow + 1, to: view.toRow + 1 })}</span>`}
      </span>
      <button
        aria-pressed=${isFollowed}
        aria-label=${t('people.followOf', { name: person.name })}
        ?disabled=${view === null && !isFollowed}
        @click=${() => this.dispatchEvent(new FollowEvent(isFollowed ? null : person.id))}
      >
        ${t('people.follow')}
      </button>
    </li>`;
  }

  #renderLeft(): TemplateResult | typeof nothing {
    if (this.wereHere.length === 0) return nothing;
    return html`<ul class="left" aria-label=${t('people.left')}>
      ${this.wereHere.map(({ person, at }) => html`<li>${renderLeft(person)}<span>${person.name} <span class="quiet small">${sayUntil(at)}</span></span></li>`)}
    </ul>`;
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
