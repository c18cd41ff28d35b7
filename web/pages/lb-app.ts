/** Shows the page that the address names: `/` the start page, `/board/<id>` a board, `…/print` and `…/card` the board on paper, `…/set` its matching set, `…/table` making one keychain, `…/lesson` a lesson, `/help` help. */
import { css, html, LitElement, type PropertyValues, type TemplateResult } from 'lit';
import { state } from 'lit/decorators.js';
import { matchesKeys } from '../board/index.ts';
import { isUpdateReady, keepsNothing, onUpdateReady, takeUpdate } from '../offline/index.ts';
import {
  endFirstSight,
  fetchPart,
  letMissing,
  type MissingKind,
  missingPart,
  onTold,
  toldMissing,
  usePart,
} from '../parts/index.ts';
import { controls } from '../styles/index.ts';
import { spoken, t } from '../text/index.ts';
import type { LbBoardPage } from './lb-board-page.ts';

const BOARD = /^\/board\/([\w-]+)(?:\/(print|card|set|table|lesson))?\/?$/;

const START = /^\/(index\.html)?$/;

type FetchedPage = 'start' | 'paper' | 'help' | 'set' | 'table' | 'lesson';

/** The page of an address that is fetched when it is first shown; null for those that come at once. */
function pageOf(path: string): FetchedPage | null {
  if (/^\/help\/?$/.test(path)) return 'help';
  const board = BOARD.exec(path);
  if (board === null) return START.test(path) ? 'start' : null;
  const page = board[2];
  if (page === undefined) return null;
  return page === 'print' || page === 'card' ? 'paper' : (page as FetchedPage);
}

/** @fires popstate is listened to, so that the browser's own back and forward work. */
@spoken
export class LbApp extends LitElement {
  static override styles = [
    controls,
    css`
      .skip {
        position: fixed;
        z-index: 30;
      }
      .skip:not(:focus) {
        clip-path: inset(50%);
      }
      .waiting {
        display: grid;
        min-height: 100dvh;
        place-content: center;
        justify-items: center;
        gap: var(--lb-space-4);
        padding: var(--lb-space-4);
        text-align: center;
      }
      .foot {
        position: fixed;
        inset-block-end: var(--lb-space-4);
        inset-inline-start: var(--lb-space-4);
        z-index: 20;
        display: grid;
        justify-items: start;
        gap: var(--lb-space-2);
        max-width: calc(100% - 2 * var(--lb-space-4));
      }
      .update {
        display: flex;
        align-items: center;
        gap: var(--lb-space-3);
        padding: var(--lb-space-2) var(--lb-space-3);
        border: 1px solid var(--lb-line-strong);
        border-radius: var(--lb-radius);
        background: var(--lb-surface);
        box-shadow: var(--lb-shadow);
      }
    `,
  ];

  @state() private path = location.pathname;
  @state() private loaded: ReadonlySet<FetchedPage> = new Set();
  /** Why the page of the address is not there; null = it is, or is on its way. */
  @state() private missing: MissingKind | null = null;
  @state() private isTold = keepsNothing();
  readonly #onMove = (): void => {
    // What somebody asked for on another page is asked for no more.
    letMissing();
    this.path = location.pathname;
  };
  readonly #onTold = (): void => {
    this.isTold = false;
  };
  #stop: readonly (() => void)[] = [];

  override connectedCallback(): void {
    super.connectedCallback();
    addEventListener('popstate', this.#onMove);
    addEventListener('keydown', this.#onKey);
    addEventListener('lb-commands', this.#onCommands);
    const show = (): void => this.requestUpdate();
    this.#stop = [onUpdateReady(show), onTold(show)];
  }

  override disconnectedCallback(): void {
    removeEventListener('popstate', this.#onMove);
    removeEventListener('keydown', this.#onKey);
    removeEventListener('lb-commands', this.#onCommands);
    for (const stop of this.#stop) stop();
    super.disconnectedCallback();
  }

  protected override willUpdate(changed: PropertyValues): void {
    if (changed.has('path')) void this.#load();
  }

  protected override updated(): void {
    // The page of a board ends it itself.
    const board = BOARD.exec(this.path);
    if (board === null || board[2] !== undefined) endFirstSight();
  }

  protected override render(): TemplateResult {
    return html`
      ${this.#isAtBoard ? html`<a class="button skip" href="#board" @click=${this.#onSkip}>${t('app.skip')}</a>` : ''}
      ${this.#renderPage()}
      <div class="foot"><lb-left-words></lb-left-words>${isUpdateReady() ? html`<p class="update" role="status">${t('app.update')}<button class="primary" @click=${takeUpdate}>${t('app.reload')}</button></p>` : ''}
      ${this.#renderMissing()}
      ${this.isTold ? html`<p class="update" role="status">${t('app.keepsNothing')}<button @click=${this.#onTold} aria-label=${t('app.close')}>×</button></p>` : ''}</div>
    `;
  }

  get #isAtBoard(): boolean {
    const board = BOARD.exec(this.path);
    return board !== null && board[2] === undefined;
  }

  get #boardPage(): LbBoardPage | null {
    return this.renderRoot.querySelector('lb-board-page');
  }

  readonly #onSkip = (event: Event): void => {
    event.preventDefault();
    this.#boardPage?.ways?.board.focusCell();
  };

  /** From everywhere, fields too: they mean nothing else there. */
  readonly #onKey = (event: KeyboardEvent): void => {
    if (event.defaultPrevented || !matchesKeys(event, 'Ctrl+K')) return;
    event.preventDefault();
    this.#onCommands();
  };

  readonly #onCommands = (): unknown =>
    usePart('commands', ({ openList }) => openList(this.renderRoot, this.#boardPage?.ways ?? null));

  /** What somebody asked for in vain. */
  #renderMissing(): TemplateResult | '' {
    const told = toldMissing();
    if (told === null) return '';
    const again = (): void => {
      letMissing();
      told.again();
    };
    return html`<div class="update">${missingPart(told.kind, again)}<button @click=${letMissing} aria-label=${t('app.close')}>×</button></div>`;
  }

  #renderPage(): TemplateResult {
    const [, boardId, view] = BOARD.exec(this.path) ?? [];
    const page = pageOf(this.path);
    if (page !== null && !this.loaded.has(page))
      return html`<main class="waiting">${
        this.missing === null
          ? html`<p role="status">${t(page === 'start' ? 'start.loading' : 'board.loading')}</p>`
          : missingPart(this.missing, () => this.#load())
      }</main>`;
    if (page === 'paper')
      return html`<lb-paper-page .boardId=${boardId!} .kind=${view === 'card' ? 'card' : 'print'}></lb-paper-page>`;
    if (page === 'set') return html`<lb-set-page .boardId=${boardId!}></lb-set-page>`;
    if (page === 'table') return html`<lb-table-page .boardId=${boardId!}></lb-table-page>`;
    if (page === 'lesson') return html`<lb-lesson-page .boardId=${boardId!}></lb-lesson-page>`;
    if (page === 'help') return html`<lb-help-page></lb-help-page>`;
    if (boardId !== undefined) return html`<lb-board-page .boardId=${boardId}></lb-board-page>`;
    if (START.test(this.path)) return html`<lb-start-page></lb-start-page>`;
    return html`<main class="waiting"><p role="alert">${t('app.nothingHere')}</p><a class="button" href="/">${t('board.back')}</a></main>`;
  }

  /** Fetches the page of the address where it does not come with the first one. */
  async #load(): Promise<void> {
    const page = pageOf(this.path);
    if (page === null || this.loaded.has(page)) return;
    this.missing = null;
    const fetched = await fetchPart(`page-${page}`);
    if (fetched.ok) this.loaded = new Set(this.loaded).add(page);
    else if (page === pageOf(this.path)) this.missing = fetched.error.kind;
  }
}
