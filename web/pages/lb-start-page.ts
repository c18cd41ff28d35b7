/** Where everybody begins: demo boards, a new board, a file. */
import { html, LitElement, type SVGTemplateResult, svg, nothing, type TemplateResult } from 'lit';
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
import { Subject } from '../context/index.ts';
import { fetchMeanwhile, usePart } from '../parts/index.ts';
import type { MakeBoardsEvent } from '../start/index.ts';
import { controls } from '../styles/index.ts';
import {
  ApiError,
  type BoardSummary,
  createBoard,
  fetchBoard,
  fetchBoardFile,
  fetchDemos,
  fetchOwnBoards,
} from '../sync/index.ts';
import { currentLanguage, spoken, t } from '../text/index.ts';
import { goTo, isForThisTab } from '../visit/index.ts';
import { explain, sayServerError, sayTitle } from '../words/index.ts';
import { startPageStyles } from './lb-start-page.styles.ts';

/** A board of this browser. */
interface OwnBoard {
  readonly id: string;
  readonly role: Role;
  readonly board: Board;
  /** In ms since 1970; undefined where an older server does not say. */
  readonly createdAt: number | undefined;
}

/** Types of the pictures that can become boards. */
const PICTURE = /^image\/(?:png|jpeg|svg\+xml)$/;

/** Nobody is watched from here. */
const NOBODY = new Subject<readonly never[]>([]);

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
  static override styles = [controls, startPageStyles];

  @state() private demos: readonly BoardSummary[] | null = null;
  @state() private pictures: ReadonlyMap<string, unknown> = new Map();
  /** Boards of this browser, as they come in. */
  @state() private own: readonly OwnBoard[] = [];
  /** The one that is asked about as a whole; empty = none. */
  @state() private asked = '';
  @state() private strings = 12;
  @state() private failure = '';
  /** Shown where the boards of this browser would be. */
  @state() private ownFailure = '';
  @state() private problem = '';
  /** The field that it is about; null = none of the page. */
  @state() private wrong: 'strings' | 'rows' | 'file' | 'text' | null = null;
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
    void fetchMeanwhile('beginnings');
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
          <div class="new">
            <section class="panel">
              <h2>${t('start.new')}</h2>
              <form @submit=${this.#onCreate} @input=${this.#onMended} novalidate style="display: contents">
                <div class="pair">
                  <label>${t('start.strings')}<input name="strings" type="number" min=${MIN_STRINGS} max=${MAX_STRINGS} value="12" required aria-describedby="strings-hint" aria-invalid=${this.wrong === 'strings'} aria-errormessage="problem" @input=${this.#onStrings} /></label>
                  <label>${t('start.rows')}<input name="rows" type="number" min="1" max=${MAX_ROWS} value="24" required aria-invalid=${this.wrong === 'rows'} aria-errormessage="problem" /></label>
                </div>
                <p class="quiet small" id="strings-hint">${t('start.stringsHint')}</p>
                <button class="primary" type="submit">${t('start.create')}</button>
              </form>
            </section>
            ${this.#renderProblem(this.wrong !== 'file' && this.wrong !== 'text')}
          </div>
          <div class="boards">
            <lb-beginnings .strings=${this.strings} @lb-make-boards=${this.#onMake}></lb-beginnings>
            ${this.#renderOwn()}
            <p class="warn small" role="status" ?hidden=${this.ownFailure === '' || this.ownFailure === this.failure}>${t('start.failed', { why: this.ownFailure })}</p>
            <section aria-labelledby="demos">
              <h2 id="demos">${t('start.demos')}</h2>
              <p class="quiet small">${t('start.demosHint')}</p>
              ${this.#renderDemos()}
            </section>
          </div>
          <div class="open">
            <section class="panel">
              <h2>${t('start.open')}</h2>
              <p class="small" id="open-hint">${t('start.openHint')}</p>
              <label class="button file">${t('start.choose')}<input class="visually-hidden" type="file" accept=".json,application/json,.zip,application/zip" aria-describedby="open-hint" aria-invalid=${this.wrong === 'file'} aria-errormessage="problem" @change=${this.#onFile} /></label>
              ${this.#renderProblem(this.wrong === 'file')}
              <details @toggle=${this.#onOpenPaste}>
                <summary>${t('start.paste')}</summary>
                ${this.canPaste ? this.#renderPaste() : ''}
              </details>
            </section>
          </div>
        </div>
      </main>
      ${this.#drop.render()}
    `;
  }

  #renderPaste(): TemplateResult {
    return html`<label class="small">${t('io.paste')}<textarea spellcheck="false" rows="6" aria-describedby="paste-hint" aria-invalid=${this.wrong === 'text'} aria-errormessage="problem" @input=${this.#onMended}></textarea></label>
      <p class="quiet small" id="paste-hint">${t('io.pasteHint')}</p>
      ${this.#renderProblem(this.wrong === 'text')}
      <button class="use-text" @click=${this.#onPaste}>${t('start.create')}</button>`;
  }

  /** What went wrong, beside the field that it is about. */
  #renderProblem(isHere: boolean): TemplateResult {
    const isShown = isHere && this.problem !== '';
    return html`<p class="warn" role="alert" id=${isShown ? 'problem' : nothing} ?hidden=${!isShown}>${isShown ? this.problem : ''}</p>`;
  }

  /** What was said is over once the field is another. */
  readonly #onMended = (): void => {
    this.problem = '';
    this.wrong = null;
  };

  #renderOwn(): TemplateResult {
    return html`<section aria-labelledby="own" ?hidden=${this.own.length === 0}>
      <h2 id="own">${t('own.heading')}</h2>
      <p class="quiet small">${t('own.hint')}</p>
      <ul class="cards">
        ${this.own.map((own) => this.#renderOwnBoard(own))}
      </ul>
    </section>`;
  }

  #renderOwnBoard(own: OwnBoard): TemplateResult {
    const { id, role, board, createdAt } = own;
    const { pattern } = board;
    const size = t('board.untitled', { strings: pattern.colours.length, rows: pattern.rows });
    const date =
      createdAt === undefined
        ? []
        : [
            t('own.made', {
              date: new Intl.DateTimeFormat(currentLanguage(), { dateStyle: 'medium' }).format(createdAt),
            }),
          ];
    const about = [
      ...(sayTitle(board) === size ? [] : [size]),
      ...date,
      ...(role === 'owner' ? [] : [t(`role.${role}`)]),
    ];
    return html`<li class="own-card">
      <a class="card own" href="/board/${id}" @click=${(event: MouseEvent) => this.#onOpen(event, id)}>
        <lb-band-picture .board=${board} aria-hidden="true"></lb-band-picture>
        <b>${sayTitle(board)}</b>
        <span class="quiet small">${about.join(' · ')}</span>
      </a>
      <span class="own-actions">
        <button class="copy" @click=${() => this.#onCopy(own)}>${t('own.copy')}</button>
        ${role === 'owner' ? html`<button class="whole" aria-expanded=${this.asked === id} @click=${() => this.#onWhole(id)}>${t('own.whole')}</button>` : ''}
      </span>
      ${this.asked === id ? html`<lb-whole-board .boardId=${id} .boardTitle=${sayTitle(board)} .people=${NOBODY} @lb-board-deleted=${() => this.#onDeleted(id)}></lb-whole-board>` : ''}
    </li>`;
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
            <span class="quiet small">${t('board.untitled', { strings: demo.strings, rows: demo.rows })}</span>
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
        const found = await Promise.all([fetchBoard(id), fetchBoardFile(id)]).catch((error: unknown) => {
          // Deleted meanwhile; the others are still there.
          if (error instanceof ApiError && error.kind === 'unknown-board') return null;
          throw error;
        });
        const parsed = parseBoard(found?.[1]);
        if (parsed.ok)
          this.own = [...this.own, { id, role, board: parsed.value, createdAt: found?.[0].createdAt }];
      }
    } catch (error) {
      if (!(error instanceof ApiError)) throw error;
      this.ownFailure = sayServerError(error);
    }
  }

  readonly #onStrings = (event: Event): void => {
    const value = Number((event.target as HTMLInputElement).value);
    if (Number.isInteger(value) && value >= MIN_STRINGS && value <= MAX_STRINGS) this.strings = value;
  };

  /** One board is gone to, or its set; of several this page stays, and they are listed. */
  readonly #onMake = ({ boards, isSet }: MakeBoardsEvent): Promise<void> =>
    this.#makeAll(boards, async ([first, second]) => {
      if (second !== undefined) await this.#listOwn();
      else if (first !== undefined) goTo(`/board/${first}${isSet ? '/set' : ''}`);
    });

  async #makeAll(boards: readonly Board[], then: (ids: readonly string[]) => unknown): Promise<void> {
    this.#onMended();
    try {
      const ids: string[] = [];
      for (const board of boards) ids.push((await createBoard({ file: formatBoard(board) })).id);
      await then(ids);
    } catch (error) {
      if (!(error instanceof ApiError)) throw error;
      this.problem = sayServerError(error);
    }
  }

  async #listOwn(): Promise<void> {
    this.own = [];
    await this.#loadOwn();
  }

  #onCopy({ board }: OwnBoard): Promise<void> {
    const title = board.title === '' ? '' : t('own.copyOf', { title: board.title });
    return this.#makeAll([{ ...board, title }], () => this.#listOwn());
  }

  #onWhole(id: string): unknown {
    if (this.asked === id) {
      this.asked = '';
      return undefined;
    }
    return usePart('in-out', () => {
      this.asked = id;
    });
  }

  #onDeleted(id: string): void {
    this.asked = '';
    this.own = this.own.filter((one) => one.id !== id);
  }

  #onOpen(event: MouseEvent, id: string): void {
    if (!isForThisTab(event)) return;
    event.preventDefault();
    goTo(`/board/${id}`);
  }

  readonly #onCreate = async (event: SubmitEvent): Promise<void> => {
    event.preventDefault();
    const form = new FormData(event.target as HTMLFormElement);
    this.#onMended();
    const read = (field: 'strings' | 'rows', name: string, least: number, most: number): number | null => {
      const value = Number(form.get(field));
      if (Number.isInteger(value) && value >= least && value <= most) return value;
      // The first field of the two, where both are wrong.
      if (this.wrong === null) {
        this.problem = t('start.badNumber', { name, least, most });
        this.wrong = field;
      }
      return null;
    };
    const strings = read('strings', t('start.strings'), MIN_STRINGS, MAX_STRINGS);
    const rows = read('rows', t('start.rows'), 1, MAX_ROWS);
    if (this.wrong !== null)
      (event.target as HTMLFormElement).querySelector<HTMLElement>(`[name=${this.wrong}]`)?.focus();
    if (strings !== null && rows !== null) await this.#make({ strings, rows });
  };

  readonly #onFile = async (event: Event): Promise<void> => {
    const input = event.target as HTMLInputElement;
    const file = input.files?.[0];
    if (!file) return;
    this.wrong = 'file';
    await this.#take(file);
    input.value = '';
  };

  async #take(file: File): Promise<void> {
    if (/\.zip$/i.test(file.name)) {
      await this.#takeArchive(file);
      return;
    }
    if (PICTURE.test(file.type)) {
      await usePart('beginnings', () => this.renderRoot.querySelector('lb-beginnings')?.takeImage(file));
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
      this.wrong = 'text';
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
