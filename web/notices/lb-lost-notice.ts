/**
 * One quiet notice of what somebody did to one's own work: who, what, where it is, and putting it back. It lies over the page, in the corner
 * where it is least in the way, and moves nothing. Empty it is there too, so that a screen reader hears what comes into it.
 *
 * @fires lb-show-lost Somebody wants to see where it is.
 */
import { css, html, LitElement, nothing, type PropertyValues, type TemplateResult } from 'lit';
import { property, query, state } from 'lit/decorators.js';
import { placeOfLost } from '../../engine/document/index.ts';
import { Subscriptions } from '../context/index.ts';
import { controls } from '../styles/index.ts';
import type { BoardSession } from '../sync/index.ts';
import { isInLesson, onLesson, readPerson } from '../sync/index.ts';
import { spoken, t } from '../text/index.ts';
import { readEarlier } from './earlier-work.ts';
import type { Notice } from './gather.ts';
import { type Box, CORNERS, type Corner, leastInTheWay } from './least-in-the-way.ts';
import { LostWork } from './lost-work.ts';
import { sayNotice } from './notice-words.ts';
import { ShowLostEvent } from './show-lost-event.ts';
import { ToldAlready } from './told-already.ts';

const GAP = 12;
const LESSON_MS = 30_000;

@spoken
export class LbLostNotice extends LitElement {
  static override styles = [
    controls,
    css`
      :host {
        position: fixed;
        z-index: 6;
        inset-inline: auto 12px;
        inset-block: auto 12px;
        width: min(25rem, calc(100vw - 24px));
      }
      :host([corner='start']) {
        inset-inline: 12px auto;
      }
      :host([corner='top']) {
        inset-block: 12px auto;
      }
      @media print {
        :host {
          display: none;
        }
      }
      .box {
        display: grid;
        gap: var(--lb-space-2);
        padding: var(--lb-space-3);
        border: 1px solid var(--lb-line-strong);
        border-radius: var(--lb-radius);
        background: var(--lb-surface);
        color: var(--lb-text);
        box-shadow: var(--lb-shadow);
        overflow-wrap: anywhere;
      }
      .box.empty {
        position: absolute;
        width: 1px;
        height: 1px;
        padding: 0;
        border: 0;
        overflow: hidden;
        clip-path: inset(50%);
      }
      p {
        margin: 0;
      }
      .actions {
        display: flex;
        flex-wrap: wrap;
        gap: var(--lb-space-2);
      }
    `,
  ];

  /** The board; null without one. */
  @property({ attribute: false }) session: BoardSession | null = null;
  /** Whether somebody follows a lesson in this browser, and is to be told of nothing. */
  @state() private isInLesson = false;
  @state() private notice: Notice | null = null;
  /** What became of putting it back, until it is closed. */
  @state() private done = '';
  @query('.box') private box!: HTMLElement;
  #work: LostWork | null = null;
  readonly #subscriptions = new Subscriptions(this);
  #place: { readonly x: number; readonly y: number } | null = null;
  #at: Element | null = null;
  #stopLesson = (): void => {};
  #lesson: ReturnType<typeof setInterval> | undefined;

  override connectedCallback(): void {
    super.connectedCallback();
    for (const type of ['pointerdown', 'pointermove', 'focusin', 'keyup'] as const)
      addEventListener(type, this.#onWork, { passive: true });
    this.#stopLesson = onLesson(this.#onLesson);
    this.#lesson = setInterval(this.#onLesson, LESSON_MS);
    this.#onLesson();
    if (this.hasUpdated) this.#watch();
  }

  override disconnectedCallback(): void {
    for (const type of ['pointerdown', 'pointermove', 'focusin', 'keyup'] as const)
      removeEventListener(type, this.#onWork);
    this.#stopLesson();
    clearInterval(this.#lesson);
    this.#end();
    super.disconnectedCallback();
  }

  protected override willUpdate(changed: PropertyValues<this>): void {
    if (changed.has('session')) this.#watch();
  }

  /** A tab that has gone says nothing more: it is looked at again and again. */
  readonly #onLesson = (): void => {
    this.isInLesson = isInLesson(Date.now());
    if (this.#work !== null) this.#work.isInLesson = this.isInLesson;
  };

  protected override render(): TemplateResult {
    const { notice, done } = this;
    const said = notice === null ? done : sayNotice(notice);
    return html`<section class="box ${said === '' ? 'empty' : ''}" aria-label=${t('lost.region')} @keydown=${this.#onKey}>
      <p role="status">${said}</p>
      ${said === '' ? nothing : html`<div class="actions">${notice === null ? nothing : this.#renderActions(notice)}<button id="lost-close" @click=${this.#onClose}>${t('lost.close')}</button></div>`}
    </section>`;
  }

  #renderActions(notice: Notice): TemplateResult {
    const work = this.#work;
    const design = this.session?.design;
    return html`${design === undefined || placeOfLost(design, notice.lost) === null ? nothing : html`<button id="lost-show" @click=${() => this.#onShow(notice)}>${t('lost.show')}</button>`}
      ${work === null || !work.canPutBack(notice) ? nothing : html`<button id="lost-back" @click=${() => this.#onPutBack(notice)}>${t('lost.putBack')}</button>`}`;
  }

  protected override updated(): void {
    if (this.notice !== null || this.done !== '') this.#lay();
  }

  #watch(): void {
    this.#end();
    const { session } = this;
    if (session?.keepsEdits !== true) return;
    const { id } = readPerson();
    const work = new LostWork(session, {
      me: id,
      told: new ToldAlready(localStorage, session.boardId, id),
      after: (ms, call) => {
        const timer = setTimeout(call, ms);
        return () => clearTimeout(timer);
      },
      elapsed: () => performance.now(),
    });
    work.isInLesson = this.isInLesson;
    this.#work = work;
    void readEarlier(session.boardId, id, Date.now()).then((earlier) => work.begin(earlier));
    this.#subscriptions.keep(
      work.notice.subscribe((notice) => {
        this.notice = notice;
        if (notice !== null) this.done = '';
      }),
    );
  }

  #end(): void {
    this.#work?.dispose();
    this.#work = null;
    this.notice = null;
    this.done = '';
  }

  #onShow(notice: Notice): void {
    const place = this.session === null ? null : placeOfLost(this.session.design, notice.lost);
    if (place !== null) this.dispatchEvent(new ShowLostEvent(place));
  }

  #onPutBack(notice: Notice): void {
    const done = this.#work?.putBack(notice) ?? null;
    this.done =
      done === null
        ? t('lost.gone')
        : done.kept === 0
          ? t('lost.done')
          : t('lost.doneInPart', { count: done.kept });
    void this.updateComplete.then(() => this.renderRoot.querySelector<HTMLElement>('#lost-close')?.focus());
  }

  readonly #onClose = (): void => {
    const isAt = this.shadowRoot?.activeElement !== null;
    this.done = '';
    this.dispatchEvent(new ShowLostEvent(null));
    this.#work?.close();
    // The keyboard goes back to the board, not to the beginning of the page.
    if (isAt && this.#at?.isConnected === true) (this.#at as HTMLElement).focus({ preventScroll: true });
  };

  readonly #onKey = (event: KeyboardEvent): void => {
    if (event.key === 'Escape') this.#onClose();
  };

  readonly #onWork = (event: Event): void => {
    const [target] = event.composedPath();
    if (!(target instanceof Element) || event.composedPath().includes(this)) return;
    if (event.type !== 'pointermove') this.#at = target;
    if (event instanceof PointerEvent) this.#place = { x: event.clientX, y: event.clientY };
    else {
      const { x, y, width, height } = target.getBoundingClientRect();
      if (width < innerWidth / 2) this.#place = { x: x + width / 2, y: y + height / 2 };
    }
    if (event.type !== 'pointermove' && (this.notice !== null || this.done !== '')) this.#lay();
  };

  /** Lays it where it is least in the way. */
  #lay(): void {
    const { width, height } = this.box.getBoundingClientRect();
    const isRightToLeft = getComputedStyle(this).direction === 'rtl';
    const [left, right] = [GAP, innerWidth - width - GAP];
    const below = innerHeight - height - GAP;
    const box = (x: number, y: number): Box => ({ x, y, width, height });
    const boxes = {
      end: box(isRightToLeft ? left : right, below),
      start: box(isRightToLeft ? right : left, below),
      top: box(isRightToLeft ? left : right, GAP),
    };
    const now = CORNERS.find((corner) => corner === this.getAttribute('corner')) ?? null;
    const corner: Corner = leastInTheWay(boxes, { region: this.#region(), place: this.#place }, now);
    this.setAttribute('corner', corner);
  }

  /** What somebody is at as a whole: the board, the panels, the header. */
  #region(): Box | null {
    for (let element = this.#at; element !== null; element = outward(element))
      if (element.matches('lb-board, aside, header, lb-set-editor, .gallery'))
        return element.getBoundingClientRect();
    return null;
  }
}

/** The element around, through the shadow roots. */
function outward(element: Element): Element | null {
  const root = element.getRootNode();
  return element.parentElement ?? (root instanceof ShadowRoot ? root.host : null);
}
