/**
 * What is said about one entry of a panel: how much, whether it is new, and the way to it; where nothing is said yet, the way to say
 * something. On the entry itself the keys of the board for the same say something and read.
 *
 * @fires lb-talk-here When something is to be said about the entry.
 * @fires lb-talk-thread When what is said about it is to be read.
 */
import { css, html, LitElement, nothing, type PropertyValues, type TemplateResult } from 'lit';
import { property } from 'lit/decorators.js';
import type { EntryPlace } from '../../engine/document/index.ts';
import { actionOf, keysOf, matchesKeys, TalkHereEvent, TalkThreadEvent } from '../board/index.ts';
import { Consumer, Subscriptions } from '../context/index.ts';
import { sayIcon } from '../icons/index.ts';
import { spoken, t } from '../text/index.ts';
import { entryKey, entryName } from './entry-words.ts';
import { type PageHandles, pageHandles } from './page-handles.ts';
import type { TalkDesk } from './talk-desk.ts';

const NEAR = ['pointerenter', 'pointerleave', 'focusin', 'focusout'] as const;

@spoken
export class LbEntryMark extends LitElement {
  static override shadowRootOptions: ShadowRootInit = {
    ...LitElement.shadowRootOptions,
    delegatesFocus: true,
  };
  static override styles = css`
    :host {
      display: inline-grid;
      align-self: center;
      justify-self: end;
    }
    :host([hidden]) {
      display: none;
    }
    button {
      display: grid;
      place-items: center;
      min-width: 28px;
      height: 28px;
      padding: 0;
      border: 1px solid transparent;
      border-radius: var(--lb-radius-small);
      background: none;
      color: var(--lb-text-quiet);
      cursor: pointer;
      touch-action: manipulation;
    }
    button:hover {
      border-color: var(--lb-line-strong);
      color: var(--lb-text);
    }
    button:focus-visible {
      outline: 2px solid var(--lb-accent);
      outline-offset: 1px;
    }
    span {
      display: grid;
      place-items: center;
      min-width: 20px;
      height: 20px;
      padding: 0 4px;
      box-sizing: border-box;
      border-radius: 6px;
      background: var(--lb-text);
      color: var(--lb-page);
      font: 700 12px/1 var(--lb-font);
    }
    .new span {
      background: var(--lb-warn);
    }
    /* Where nothing is said yet it comes with the pointer or the keyboard. */
    @media (hover: hover) and (pointer: fine) {
      :host(:not([near])) .say:not(:focus-visible, :hover) {
        opacity: 0;
      }
    }
    @media (pointer: coarse) {
      button {
        min-width: 36px;
        height: 36px;
      }
    }
    @media (forced-colors: active) {
      span {
        forced-color-adjust: none;
        background: CanvasText;
        color: Canvas;
      }
      .new span {
        background: Highlight;
        color: HighlightText;
      }
    }
  `;

  @property({ attribute: false }) panel = '';
  @property({
    attribute: false,
    hasChanged: (now: EntryPlace, before?: EntryPlace) =>
      before === undefined || entryKey('', now) !== entryKey('', before),
  })
  at!: EntryPlace;
  readonly #handles = new Consumer(this, pageHandles, (handles) => this.#onHandles(handles));
  readonly #subscriptions = new Subscriptions(this);
  #entry: HTMLElement | null = null;

  override connectedCallback(): void {
    super.connectedCallback();
    this.#entry = this.parentElement;
    this.#entry?.addEventListener('keydown', this.#onKey);
    for (const kind of NEAR) this.#entry?.addEventListener(kind, this.#onNear);
  }

  override disconnectedCallback(): void {
    this.#entry?.removeEventListener('keydown', this.#onKey);
    for (const kind of NEAR) this.#entry?.removeEventListener(kind, this.#onNear);
    this.#entry = null;
    super.disconnectedCallback();
  }

  /** By which the entry is found again. */
  get #key(): string {
    return entryKey(this.panel, this.at);
  }

  get #desk(): TalkDesk | null {
    return this.#handles.value?.talk ?? null;
  }

  /** Brings the entry into sight and puts the keyboard on it. */
  #showEntry(): void {
    const entry = this.#entry;
    entry?.scrollIntoView({ block: 'nearest' });
    if (entry !== null && entry.tabIndex >= 0) entry.focus({ preventScroll: true });
    else this.renderRoot.querySelector('button')?.focus({ preventScroll: true });
  }

  protected override updated(changed: PropertyValues<this>): void {
    if (changed.has('at') || changed.has('panel')) this.#grantSoon();
  }

  protected override render(): TemplateResult | typeof nothing {
    const desk = this.#desk;
    const threads = desk?.aboutEntry(this.#key) ?? [];
    const isOffered = desk !== null && (threads.length > 0 || desk.canTalk);
    this.toggleAttribute('hidden', !isOffered);
    if (!isOffered) return nothing;
    const place = entryName(this.panel, this.at, desk.design.snapshot.board);
    const count = threads.reduce(
      (sum, { remarks }) => sum + remarks.filter(({ text }) => text !== null).length,
      0,
    );
    const isNew = threads.some(({ id }) => desk.unreadIn(id).size > 0);
    const says =
      threads.length === 0
        ? t('talk.entry.say', { place })
        : `${t('talk.pin', { count, place })}${isNew ? `, ${t('talk.isNew')}` : ''}`;
    return html`<button
      type="button"
      class=${isNew ? 'new' : threads.length === 0 ? 'say' : ''}
      tabindex=${this.#isStop ? 0 : -1}
      @keydown=${this.#onMove}
      aria-label=${says}
      title=${says}
      @click=${() => this.#go(threads.length === 0 ? 'say' : 'read')}
    >${threads.length === 0 ? sayIcon() : html`<span>${count}</span>`}</button>`;
  }

  /** Marks of entries that the keyboard comes to are reached from these; of the others in a panel the first is a tab stop for all. */
  get #isStop(): boolean {
    const isOwn = (mark: Element): boolean => (mark.parentElement?.tabIndex ?? -1) < 0;
    return isOwn(this) && this.#marks().find(isOwn) === this;
  }

  /** All marks of the panel. */
  #marks(): readonly HTMLElement[] {
    return [
      ...(this.getRootNode() as ShadowRoot).querySelectorAll<HTMLElement>('lb-entry-mark:not([hidden])'),
    ];
  }

  readonly #onMove = (event: KeyboardEvent): void => {
    const step = { ArrowUp: -1, ArrowLeft: -1, ArrowDown: 1, ArrowRight: 1 }[event.key] ?? 0;
    const next = this.#marks()[this.#marks().indexOf(this) + step];
    if (step === 0 || next === undefined) return;
    event.preventDefault();
    event.stopPropagation();
    next.focus();
  };

  readonly #onNear = ({ type }: Event): void => {
    this.toggleAttribute('near', type === 'pointerenter' || type === 'focusin');
  };

  #go(wants: 'say' | 'read'): void {
    const latest = this.#desk?.aboutEntry(this.#key).at(-1);
    if (wants === 'say')
      this.dispatchEvent(new TalkHereEvent('say', { on: 'entry', panel: this.panel, at: this.at }));
    else if (latest !== undefined) this.dispatchEvent(new TalkThreadEvent(latest.id));
  }

  #onHandles(handles: PageHandles | null): void {
    this.#subscriptions.keep();
    if (handles === null || handles.talk === null) return;
    this.#subscriptions.keep(
      handles.talk.subscribe(() => this.requestUpdate()),
      handles.panels.wish.subscribe(() => this.#grantSoon()),
    );
    this.#grantSoon();
  }

  /** Shows the entry if it is what is wanted of the panel, once all of it stands. */
  #grantSoon(): void {
    if (this.#isWanted) void this.updateComplete.then(() => this.#grant());
  }

  get #isWanted(): boolean {
    const wish = this.#handles.value?.panels.wish.value;
    return wish?.kind === 'entry' && entryKey(wish.panel, wish.at) === this.#key;
  }

  #grant(): void {
    if (!this.isConnected || !this.#isWanted) return;
    this.#handles.value?.panels.grant();
    this.#showEntry();
  }

  /** Only on the entry itself: in a field the key is a letter. */
  readonly #onKey = (event: KeyboardEvent): void => {
    const isFor = (action: string): boolean =>
      event.target === this.#entry && keysOf(actionOf(action)).some((keys) => matchesKeys(event, keys));
    const wants = isFor('say-here') ? 'say' : isFor('remarks-here') ? 'read' : null;
    const desk = this.#desk;
    if (desk === null || wants === null || (wants === 'say' && !desk.canTalk)) return;
    event.preventDefault();
    this.#go(wants);
  };
}
