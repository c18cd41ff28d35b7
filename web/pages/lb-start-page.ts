/** Where everybody begins: demo boards, a new board, a file. */
import { css, html, LitElement, type SVGTemplateResult, svg, type TemplateResult } from 'lit';
import { state } from 'lit/decorators.js';
import type { Role } from '../../engine/document/index.ts';
import {
  type Board,
  formatBoard,
  MAX_ROWS,
  MAX_STRINGS,
  MIN_STRINGS,
  parseBoard,
} from '../../engine/index.ts';
import { languageChoice } from '../fields/index.ts';
import { FileDrop } from '../files/index.ts';
import { usePart } from '../parts/index.ts';
import { controls } from '../styles/index.ts';
import {
  ApiError,
  type BoardSummary,
  createBoard,
  fetchBoardFile,
  fetchDemos,
  fetchOwnBoards,
} from '../sync/index.ts';
import { spoken, t } from '../text/index.ts';
import { goTo, isForThisTab } from '../visit/index.ts';
import { explain, sayServerError } from '../words/index.ts';

/** A band of lozenges along the upper edge, in the colours of the demo boards' threads. */
function ribbon(): TemplateResult {
  const lozenge = (x: number, y: number, hex: string): SVGTemplateResult =>
    svg`<path d="M${x} ${y - 10}l14 10-14 10-14-10z" fill=${hex} />`;
  return html`<svg class="ribbon" width="100%" height="20" aria-hidden="true">
    <defs>
      <pattern id="ribbon" width="112" height="20" patternUnits="userSpaceOnUse">
        ${['#1f6266', '#d9a441', '#c9452b', '#d9a441'].map((hex, i) => lozenge(14 + 28 * i, 10, hex))}
        ${[-1, 0, 1, 2, 3].map((i) => [0, 20].map((y) => lozenge(28 + 28 * i, y, '#e7d9bd')))}
      </pattern>
    </defs>
    <rect width="100%" height="20" fill="url(#ribbon)" />
  </svg>`;
}

@spoken
export class LbStartPage extends LitElement {
  static override styles = [
    controls,
    css`
      :host {
        display: block;
        max-width: 1100px;
        margin: 0 auto;
        padding: var(--lb-space-6) var(--lb-space-4);
      }
      header {
        display: flex;
        flex-wrap: wrap;
        justify-content: space-between;
        align-items: start;
        gap: var(--lb-space-4);
        margin-block-end: var(--lb-space-6);
      }
      nav {
        display: flex;
        flex-wrap: wrap;
        gap: var(--lb-space-2);
      }
      header p {
        font-size: var(--lb-size-lead);
        margin-block-start: var(--lb-space-2);
        max-width: 46ch;
      }
      .columns {
        display: grid;
        grid-template-columns: minmax(0, 1fr) 300px;
        gap: var(--lb-space-6);
        align-items: start;
      }
      /* Making a board comes first, also where all stands below each other. */
      .boards {
        grid-area: 1 / 1;
        min-width: 0;
      }
      .cards {
        display: grid;
        grid-template-columns: repeat(auto-fill, minmax(150px, 1fr));
        gap: var(--lb-space-4);
        margin-block-start: var(--lb-space-4);
        padding: 0;
        list-style: none;
      }
      .card {
        display: flex;
        flex-direction: column;
        gap: var(--lb-space-2);
        padding: var(--lb-space-3);
        border: 1px solid var(--lb-line);
        border-radius: var(--lb-radius);
        background: var(--lb-surface);
        color: inherit;
        text-decoration: none;
        height: 100%;
      }
      .card:hover {
        border-color: var(--lb-line-strong);
        box-shadow: var(--lb-shadow);
      }
      .card b {
        font-weight: 650;
        line-height: 1.25;
      }
      lb-band-picture {
        height: 150px;
      }
      section {
        margin-block-end: var(--lb-space-5);
      }
      .panel {
        padding: var(--lb-space-4);
        border: 1px solid var(--lb-line);
        border-radius: var(--lb-radius);
        background: var(--lb-surface);
        display: grid;
        gap: var(--lb-space-3);
      }
      .pair {
        display: grid;
        grid-template-columns: 1fr 1fr;
        gap: var(--lb-space-3);
      }
      label {
        display: grid;
        gap: var(--lb-space-1);
        font-weight: 600;
      }
      input[type='number'] {
        width: 100%;
      }
      .file {
        position: relative;
        justify-self: start;
      }
      .file:focus-within {
        outline: 3px solid var(--lb-accent);
        outline-offset: 2px;
      }
      .ribbon {
        position: absolute;
        inset: 0 0 auto;
        height: 20px;
        overflow: hidden;
      }
      summary {
        min-height: var(--lb-target);
        line-height: var(--lb-target);
        cursor: pointer;
        font-weight: 600;
      }
      details[open] {
        display: grid;
        gap: var(--lb-space-2);
      }
      textarea {
        font: 0.875rem / 1.4 ui-monospace, monospace;
      }
      @media (max-width: 760px) {
        :host {
          padding-block: var(--lb-space-5);
        }
        .columns {
          grid-template-columns: minmax(0, 1fr);
        }
        .boards {
          grid-area: auto;
        }
        .cards {
          grid-template-columns: repeat(auto-fill, minmax(140px, 1fr));
        }
      }
    `,
  ];

  @state() private demos: readonly BoardSummary[] | null = null;
  @state() private pictures: ReadonlyMap<string, unknown> = new Map();
  /** Boards of this browser, as they come in. */
  @state() private own: readonly { readonly id: string; readonly role: Role; readonly board: Board }[] = [];
  @state() private failure = '';
  /** Shown where the boards of this browser would be. */
  @state() private ownFailure = '';
  @state() private problem = '';
  @state() private canPaste = false;
  readonly #drop = new FileDrop(this, {
    isWanted: () => true,
    onFile: (file) => void this.#take(file),
    onProblem: (sentence) => {
      this.problem = sentence;
    },
  });

  override connectedCallback(): void {
    super.connectedCallback();
    document.title = t('app.name');
    void this.#load();
    void this.#loadOwn();
  }

  protected override render(): TemplateResult {
    return html`
      ${ribbon()}
      <main>
        <header>
          <div>
            <h1>${t('app.name')}</h1>
            <p class="quiet">${t('start.lead')}</p>
          </div>
          <nav aria-label=${t('app.name')}><a class="button" href="/help" @click=${this.#onHelp}>${t('app.help')}</a>${languageChoice()}</nav>
        </header>
        <div class="columns">
          <div>
            <section class="panel">
              <h2>${t('start.new')}</h2>
              <form @submit=${this.#onCreate} novalidate style="display: contents">
                <div class="pair">
                  <label>${t('start.strings')}<input name="strings" type="number" min=${MIN_STRINGS} max=${MAX_STRINGS} value="12" required aria-describedby="strings-hint" /></label>
                  <label>${t('start.rows')}<input name="rows" type="number" min="1" max=${MAX_ROWS} value="24" required /></label>
                </div>
                <p class="quiet small" id="strings-hint">${t('start.stringsHint')}</p>
                <button class="primary" type="submit">${t('start.create')}</button>
              </form>
            </section>
            <p class="warn" role="alert" ?hidden=${this.problem === ''}>${this.problem}</p>
            <section class="panel">
              <h2>${t('start.open')}</h2>
              <p class="small" id="open-hint">${t('start.openHint')}</p>
              <label class="button file">${t('start.choose')}<input class="visually-hidden" type="file" accept=".json,application/json,.zip,application/zip" aria-describedby="open-hint" @change=${this.#onFile} /></label>
              <details @toggle=${this.#onOpenPaste}>
                <summary>${t('start.paste')}</summary>
                ${this.canPaste ? this.#renderPaste() : ''}
              </details>
            </section>
          </div>
          <div class="boards">
            ${this.#renderOwn()}
            <p class="warn small" role="status" ?hidden=${this.ownFailure === '' || this.ownFailure === this.failure}>${t('start.failed', { why: this.ownFailure })}</p>
            <section aria-labelledby="demos">
              <h2 id="demos">${t('start.demos')}</h2>
              <p class="quiet small">${t('start.demosHint')}</p>
              ${this.#renderDemos()}
            </section>
          </div>
        </div>
      </main>
      ${this.#drop.render()}
    `;
  }

  #renderPaste(): TemplateResult {
    return html`<label class="small">${t('io.paste')}<textarea spellcheck="false" rows="6" aria-describedby="paste-hint"></textarea></label>
      <p class="quiet small" id="paste-hint">${t('io.pasteHint')}</p>
      <button class="use-text" @click=${this.#onPaste}>${t('start.create')}</button>`;
  }

  #renderOwn(): TemplateResult {
    return html`<section aria-labelledby="own" ?hidden=${this.own.length === 0}>
      <h2 id="own">${t('own.heading')}</h2>
      <p class="quiet small">${t('own.hint')}</p>
      <ul class="cards">
        ${this.own.map(
          ({ id, role, board }) => html`<li>
            <a class="card own" href="/board/${id}" @click=${(event: MouseEvent) => this.#onOpen(event, id)}>
              <lb-band-picture .board=${board} aria-hidden="true"></lb-band-picture>
              <b>${board.title || t('board.untitled')}</b>
              <span class="quiet small">${t(`role.${role}`)}</span>
            </a>
          </li>`,
        )}
      </ul>
    </section>`;
  }

  #renderDemos(): TemplateResult {
    if (this.failure !== '')
      return html`<p class="warn" role="alert">${t('start.failed', { why: this.failure })}</p>`;
    if (this.demos === null) return html`<p class="quiet" role="status">${t('start.loading')}</p>`;
    return html`<ul class="cards">
      ${this.demos.map((demo) => {
        const parsed = parseBoard(this.pictures.get(demo.id));
        return html`<li>
          <a class="card" href="/board/${demo.id}" @click=${(event: MouseEvent) => this.#onOpen(event, demo.id)}>
            <lb-band-picture .board=${parsed.ok ? parsed.value : null} aria-hidden="true"></lb-band-picture>
            <b>${demo.title}</b>
            <span class="quiet small">${t('start.size', { strings: demo.strings, rows: demo.rows })}</span>
          </a>
        </li>`;
      })}
    </ul>`;
  }

  readonly #onHelp = (event: MouseEvent): void => {
    if (!isForThisTab(event)) return;
    event.preventDefault();
    goTo('/help');
  };

  async #load(): Promise<void> {
    try {
      const demos = await fetchDemos();
      this.demos = demos;
      for (const demo of demos) {
        const file = await fetchBoardFile(demo.id);
        this.pictures = new Map(this.pictures).set(demo.id, file);
      }
    } catch (error) {
      if (!(error instanceof ApiError)) throw error;
      this.failure = sayServerError(error);
    }
  }

  async #loadOwn(): Promise<void> {
    try {
      for (const { id, role } of await fetchOwnBoards()) {
        const file = await fetchBoardFile(id).catch((error: unknown) => {
          // Deleted meanwhile; the others are still there.
          if (error instanceof ApiError && error.kind === 'unknown-board') return null;
          throw error;
        });
        const parsed = parseBoard(file);
        if (parsed.ok) this.own = [...this.own, { id, role, board: parsed.value }];
      }
    } catch (error) {
      if (!(error instanceof ApiError)) throw error;
      this.ownFailure = sayServerError(error);
    }
  }

  #onOpen(event: MouseEvent, id: string): void {
    if (!isForThisTab(event)) return;
    event.preventDefault();
    goTo(`/board/${id}`);
  }

  readonly #onCreate = async (event: SubmitEvent): Promise<void> => {
    event.preventDefault();
    const form = new FormData(event.target as HTMLFormElement);
    const read = (field: string, name: string, least: number, most: number): number | null => {
      const value = Number(form.get(field));
      if (Number.isInteger(value) && value >= least && value <= most) return value;
      this.problem = t('start.badNumber', { name, least, most });
      return null;
    };
    const strings = read('strings', t('start.strings'), MIN_STRINGS, MAX_STRINGS);
    const rows = read('rows', t('start.rows'), 1, MAX_ROWS);
    if (strings !== null && rows !== null) await this.#make({ strings, rows });
  };

  readonly #onFile = async (event: Event): Promise<void> => {
    const input = event.target as HTMLInputElement;
    const file = input.files?.[0];
    if (!file) return;
    await this.#take(file);
    input.value = '';
  };

  async #take(file: File): Promise<void> {
    if (/\.zip$/i.test(file.name)) {
      await this.#takeArchive(file);
      return;
    }
    const parsed = parseBoard(await file.text());
    if (parsed.ok) await this.#make({ file: formatBoard(parsed.value) });
    else this.problem = t('start.badFile', { why: await explain(parsed.error) });
  }

  async #takeArchive(file: File): Promise<void> {
    this.problem = '';
    await usePart('whole-board', async ({ loadArchive }) => {
      try {
        goTo(`/board/${(await loadArchive(file)).id}`);
      } catch (error) {
        if (!(error instanceof ApiError)) throw error;
        this.problem = t('whole.failed', { why: sayServerError(error) });
      }
    });
  }

  readonly #onOpenPaste = (): unknown =>
    usePart('read-board', () => {
      this.canPaste = true;
    });

  readonly #onPaste = (): unknown =>
    usePart('read-board', async ({ readBoardText }) => {
      const read = readBoardText(this.renderRoot.querySelector('textarea')?.value ?? '', null);
      if (read.ok) await this.#make({ file: formatBoard(read.value) });
      else this.problem = t('start.badFile', { why: read.why });
    });

  async #make(body: Parameters<typeof createBoard>[0]): Promise<void> {
    this.problem = '';
    try {
      const { id } = await createBoard(body);
      goTo(`/board/${id}`);
    } catch (error) {
      if (!(error instanceof ApiError)) throw error;
      this.problem = sayServerError(error);
    }
  }
}
