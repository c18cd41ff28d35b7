/** Shows the page that the address names: `/` the start page, `/board/<id>` a board, `…/print` and `…/card` the board on paper, `…/set` its matching set, `/help` help. */
import { css, html, LitElement, type PropertyValues, type TemplateResult } from 'lit';
import { state } from 'lit/decorators.js';
import { isUpdateReady, keepsNothing, onUpdateReady, takeUpdate } from '../offline/index.ts';
import { controls } from '../styles/index.ts';
import { loadTexts, t } from '../text/index.ts';

const BOARD = /^\/board\/([\w-]+)(?:\/(print|card|set))?\/?$/;

const START = /^\/(index\.html)?$/;

type FetchedPage = 'start' | 'paper' | 'help' | 'set';

/** The page of an address that is fetched when it is first shown; null for those that come at once. */
function pageOf(path: string): FetchedPage | null {
  if (/^\/help\/?$/.test(path)) return 'help';
  const board = BOARD.exec(path);
  if (board === null) return START.test(path) ? 'start' : null;
  if (board[2] === 'set') return 'set';
  return board[2] === undefined ? null : 'paper';
}

function define(name: string, element: CustomElementConstructor): void {
  if (customElements.get(name) === undefined) customElements.define(name, element);
}

const FETCH: Readonly<Record<FetchedPage, () => Promise<void>>> = {
  start: async () => {
    const [{ LbStartPage }, { LbBandPicture }] = await Promise.all([
      import('./lb-start-page.ts'),
      import('../board/lb-band-picture.ts'),
      loadTexts('start'),
    ]);
    define('lb-band-picture', LbBandPicture);
    define('lb-start-page', LbStartPage);
  },
  paper: async () => {
    const [{ LbPaperPage }] = await Promise.all([import('../paper/lb-paper-page.ts'), loadTexts('paper')]);
    define('lb-paper-page', LbPaperPage);
  },
  help: async () => {
    const [{ LbHelpPage }] = await Promise.all([import('./lb-help-page.ts'), loadTexts('help')]);
    define('lb-help-page', LbHelpPage);
  },
  set: async () => {
    const [{ SET_ELEMENTS }] = await Promise.all([
      import('../set/set-elements.ts'),
      loadTexts('set'),
      loadTexts('panels'),
    ]);
    for (const [name, element] of SET_ELEMENTS) define(name, element);
  },
};

/** @fires popstate is listened to, so that the browser's own back and forward work. */
export class LbApp extends LitElement {
  static override styles = [
    controls,
    css`
      .waiting {
        display: grid;
        min-height: 100dvh;
        place-content: center;
        justify-items: center;
        gap: var(--lb-space-4);
        padding: var(--lb-space-4);
        text-align: center;
      }
      .update {
        position: fixed;
        inset-block-end: var(--lb-space-4);
        inset-inline-start: var(--lb-space-4);
        z-index: 20;
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
  @state() private hasFailed = false;
  @state() private isTold = keepsNothing();
  readonly #onMove = (): void => {
    this.path = location.pathname;
  };
  readonly #onTold = (): void => {
    this.isTold = false;
  };
  #stop: (() => void) | null = null;

  override connectedCallback(): void {
    super.connectedCallback();
    addEventListener('popstate', this.#onMove);
    this.#stop = onUpdateReady(() => this.requestUpdate());
  }

  override disconnectedCallback(): void {
    removeEventListener('popstate', this.#onMove);
    this.#stop?.();
    super.disconnectedCallback();
  }

  protected override willUpdate(changed: PropertyValues): void {
    if (changed.has('path')) void this.#load();
  }

  protected override render(): TemplateResult {
    return html`
      ${this.#renderPage()}
      ${isUpdateReady() ? html`<p class="update" role="status">${t('app.update')}<button class="primary" @click=${takeUpdate}>${t('app.reload')}</button></p>` : ''}
      ${this.isTold ? html`<p class="update" role="status">${t('app.keepsNothing')}<button @click=${this.#onTold} aria-label=${t('app.close')}>×</button></p>` : ''}
    `;
  }

  #renderPage(): TemplateResult {
    const [, boardId, view] = BOARD.exec(this.path) ?? [];
    const page = pageOf(this.path);
    if (page !== null && !this.loaded.has(page))
      return html`<main class="waiting"><p role="status">${t(this.hasFailed ? 'app.notFetched' : page === 'start' ? 'start.loading' : 'board.loading')}</p></main>`;
    if (page === 'paper')
      return html`<lb-paper-page .boardId=${boardId!} .kind=${view === 'card' ? 'card' : 'print'}></lb-paper-page>`;
    if (page === 'set') return html`<lb-set-page .boardId=${boardId!}></lb-set-page>`;
    if (page === 'help') return html`<lb-help-page></lb-help-page>`;
    if (boardId !== undefined) return html`<lb-board-page .boardId=${boardId}></lb-board-page>`;
    if (START.test(this.path)) return html`<lb-start-page></lb-start-page>`;
    return html`<main class="waiting"><p role="alert">${t('app.nothingHere')}</p><a class="button" href="/">${t('board.back')}</a></main>`;
  }

  /** Fetches the page of the address where it does not come with the first one. */
  async #load(): Promise<void> {
    const page = pageOf(this.path);
    if (page === null || this.loaded.has(page)) return;
    this.hasFailed = false;
    try {
      await FETCH[page]();
      this.loaded = new Set(this.loaded).add(page);
    } catch (error) {
      // A browser says only that the module could not be fetched.
      if (!(error instanceof TypeError)) throw error;
      this.hasFailed = true;
    }
  }
}
