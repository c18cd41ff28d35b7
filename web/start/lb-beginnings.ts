/**
 * Beginnings on the start page: figures of the trade on the strings, in the colours and for the bar chosen, each as a finished keychain with
 * what it comes to. One of them is in hand: it can be made larger, finer, turned; from it go others that are like it, and those for a group.
 *
 * @fires lb-make-boards Boards that are to be made.
 */
import { html, LitElement, nothing, type PropertyValues, type TemplateResult } from 'lit';
import { property, state } from 'lit/decorators.js';
import {
  BEGINNING_KINDS,
  type Board,
  beginBoard,
  fitShape,
  groupColourways,
  MAX_STRINGS,
  MIN_STRINGS,
  type PaletteColour,
  type Piece,
  type Shape,
} from '../../engine/index.ts';
import { controls } from '../styles/index.ts';
import { spoken, t } from '../text/index.ts';
import { readUnit, UNIT_EVENT } from '../units/index.ts';
import { BackgroundJob, type StartAsk, type StartJob, type Started } from '../worker/index.ts';
import { usePart } from '../parts/index.ts';
import { MakeBoardsEvent } from './begin-events.ts';
import { beginningsStyles } from './lb-beginnings.styles.ts';
import type { SourceKind } from './lb-sources.ts';
import { sayDifferences, sayTally } from './say-tally.ts';
import { redrawn, type StepName, stepped, turnedOver } from './shape-steps.ts';
import { startThreads, type ThreadId } from './thread-colours.ts';
import { threadChoice } from './thread-choice.styles.ts';

export { LbStartCard } from './lb-start-card.ts';

/** Length of what is begun, in mm: about that of a hand's width. */
const LENGTH_MM = 80;
/** Bars as they are sold most; others are written on the board. */
const BARS_MM = [15, 19.05, 25.4] as const;
const MOST_COLOURS = 6;

/** What is asked of the engine besides the figures. */
type Search = 'more' | 'drawer' | 'lesson';

@spoken
export class LbBeginnings extends LitElement {
  static override styles = [controls, threadChoice, beginningsStyles];

  /** As chosen on the page. */
  @property({ type: Number }) strings = 12;
  @state() private chosen: readonly ThreadId[] = ['oat', 'ember', 'fjord'];
  @state() private barMm: number | null = null;
  @state() private inHand: Shape = fitShape('arrowheads', 12);
  @state() private search: Search | null = null;
  /** Metres of each thread at home, as typed. */
  @state() private have: ReadonlyMap<ThreadId, string> = new Map();
  @state() private hasSources = false;
  #seed = 1;
  #boards = new Map<string, Board>();
  #known = new Map<Board, Started>();
  #asked: readonly Board[] = [];
  readonly #tallies = new BackgroundJob<StartJob>(this, () => this.#take());
  readonly #found = new BackgroundJob<StartJob>(this);
  readonly #onUnit = (): void => this.requestUpdate();

  override connectedCallback(): void {
    super.connectedCallback();
    addEventListener(UNIT_EVENT, this.#onUnit);
  }

  override disconnectedCallback(): void {
    removeEventListener(UNIT_EVENT, this.#onUnit);
    super.disconnectedCallback();
    this.#asked = [];
  }

  protected override willUpdate(changed: PropertyValues): void {
    const isSet = this.strings >= MIN_STRINGS && this.strings <= MAX_STRINGS;
    if (changed.has('strings') && isSet) this.#hold(fitShape(this.inHand.kind, this.strings, this.inHand));
    if (changed.has('chosen') || changed.has('barMm')) this.#boards.clear();
  }

  protected override updated(): void {
    const wanted = [this.#boardOf(this.inHand), ...this.#figures().map((shape) => this.#boardOf(shape))];
    const missing = wanted.filter((board) => !this.#known.has(board));
    if (missing.length === 0 || missing.every((board) => this.#asked.includes(board))) return;
    this.#asked = missing;
    this.#tallies.start({ kind: 'start', ask: { of: 'these', boards: missing } }, true);
  }

  protected override render(): TemplateResult {
    return html`<h2 id="figures">${t('figure.figures')}</h2>
      <p class="quiet small">${t('figure.lead')}</p>
      ${this.#renderColours()}
      <ul class="figures" aria-labelledby="figures">
        ${this.#figures().map((shape) => this.#renderFigure(shape))}
      </ul>
      ${this.#renderInHand()} ${this.#renderSearches()}`;
  }

  #renderColours(): TemplateResult {
    return html`<div class="choices">
      <div role="group" aria-label=${t('figure.threads')} class="threads">
        ${startThreads().map(
          ({ id, name, hex }) =>
            html`<button class="thread" style="--thread: ${hex}" aria-pressed=${this.chosen.includes(id)} aria-label=${name} title=${name} @click=${() => this.#onThread(id)}></button>`,
        )}
      </div>
      <label class="bar">${t('figure.bar')}<select @change=${this.#onBar}>
        <option value="">${t('figure.anyBar')}</option>
        ${BARS_MM.map((mm) => html`<option value=${mm} ?selected=${mm === this.barMm}>${t(`figure.bar.${Math.round(mm) as 15 | 19 | 25}`)}</option>`)}
      </select></label>
    </div>`;
  }

  #renderFigure(shape: Shape): TemplateResult {
    const board = this.#boardOf(shape);
    const isHeld = shape.kind === this.inHand.kind;
    return html`<li><button class="figure" data-kind=${shape.kind} aria-pressed=${isHeld} @click=${() => this.#hold(shape)}>
      <lb-start-card .board=${board} .name=${this.#nameOf(shape)} .line=${this.#lineOf(board)}></lb-start-card>
    </button></li>`;
  }

  #renderInHand(): TemplateResult {
    const shape = this.inHand;
    const board = this.#boardOf(shape);
    const line = this.#lineOf(board);
    return html`<section class="hand" aria-labelledby="in-hand">
      <lb-start-card class="large" .board=${board}></lb-start-card>
      <div class="beside">
        <h3 id="in-hand">${this.#nameOf(shape)}</h3>
        <p class="small" role="status">${line || t('figure.working')}</p>
        <div class="steps">
          ${(['size', 'width', 'colours', 'across'] as const).map((name) => this.#renderStep(name))}
          ${this.#renderToggle('lines', shape.lines === 2, redrawn(shape))} ${this.#renderToggle('turned', shape.isTurned, turnedOver(shape))}
        </div>
        <div class="actions">
          <button class="primary make" @click=${() => this.#make([board])}>${t('figure.make')}</button>
          <button @click=${() => this.#onSearch('more')}>${t('figure.more')}</button>
        </div>
      </div>
    </section>`;
  }

  #renderStep(name: StepName): TemplateResult {
    const to = (by: -1 | 1): Shape | null => stepped(this.inHand, name, by, this.chosen.length);
    const button = (by: -1 | 1): TemplateResult => {
      const next = to(by);
      const label = t(`figure.${name}.${by === 1 ? 'up' : 'down'}`);
      return html`<button aria-label=${label} title=${label} ?disabled=${next === null} @click=${() => next && this.#hold(next)}>${by === 1 ? '+' : '−'}</button>`;
    };
    return html`<div class="step" role="group" aria-label=${t(`figure.${name}`)}><span>${t(`figure.${name}`)}</span>${button(-1)}<output>${this.inHand[name]}</output>${button(1)}</div>`;
  }

  #renderToggle(name: 'lines' | 'turned', isOn: boolean, next: Shape | null): TemplateResult {
    return html`<button aria-pressed=${isOn} ?disabled=${next === null} @click=${() => next && this.#hold(next)}>${t(`figure.${name}`)}</button>`;
  }

  #renderSearches(): TemplateResult {
    return html`<div class="actions">
        <button aria-pressed=${this.search === 'drawer'} @click=${() => this.#onSearch('drawer')}>${t('figure.drawer')}</button>
        <button class="from-letters" @click=${() => this.#onSource('letters')}>${t('fromImage.kind.letters')}</button>
        <button class="from-image" @click=${() => this.#onSource('image')}>${t('fromImage.kind.image')}</button>
        <button @click=${this.#onGroup}>${t('figure.group')}</button>
        <button aria-pressed=${this.search === 'lesson'} @click=${() => this.#onSearch('lesson')}>${t('figure.lesson')}</button>
      </div>
      ${this.hasSources ? html`<lb-sources></lb-sources>` : nothing}
      ${this.search === 'drawer' ? this.#renderDrawer() : nothing} ${this.search === null ? nothing : this.#renderFound(this.search)}`;
  }

  #renderDrawer(): TemplateResult {
    return html`<form class="drawer" @submit=${this.#onDrawer}>
      <p class="small quiet">${t('figure.drawerHint')}</p>
      ${startThreads().map(
        ({ id, name, hex }) =>
          html`<label><span class="swatch" style="background: ${hex}"></span>${name}<input type="number" min="0" step="0.1" inputmode="decimal" .value=${this.have.get(id) ?? ''} @input=${(event: Event) => this.#onHave(id, event)} /></label>`,
      )}
      <button type="submit">${t('figure.drawerLook')}</button>
    </form>`;
  }

  #renderFound(search: Search): TemplateResult {
    const { state: found } = this.#found;
    switch (found.kind) {
      case 'looking':
        return html`<p role="status" class="quiet">${t('figure.looking')}</p>`;
      case 'failed':
        return html`<p class="warn" role="alert">${found.why}</p>`;
      case 'idle':
        return html``;
      case 'found':
        return html`<p role="status" class="small">${t(`figure.found.${search}`, { count: found.answer.length })}</p>
          <ul class="figures found">
            ${found.answer.map(
              (one) => html`<li><button class="figure" @click=${() => this.#onFound(one)}>
              <lb-start-card .board=${one.board} .name=${this.#foundName(search, one)} .line=${sayTally(one.tally, readUnit()).join(' · ')}></lb-start-card>
            </button></li>`,
            )}
          </ul>
          ${search === 'lesson' && found.answer.length > 0 ? html`<div class="actions"><button class="primary" @click=${() => this.#make(found.answer.map(({ board }) => board))}>${t('figure.makeAll', { count: found.answer.length })}</button></div>` : nothing}`;
    }
  }

  #foundName(search: Search, { shape, differs, board }: Started): string {
    if (search === 'more') return sayDifferences(differs);
    const { length: strings } = board.pattern.colours;
    return shape === null ? t('figure.onStrings', { strings }) : this.#nameOf(shape);
  }

  #nameOf({ kind, strings }: Shape): string {
    return `${t(`figure.kind.${kind}`)}, ${t('figure.onStrings', { strings })}`;
  }

  get #palette(): readonly PaletteColour[] {
    const all = startThreads();
    return this.chosen.map((id) => all.find((thread) => thread.id === id)!);
  }

  get #piece(): Piece {
    return { lengthMm: LENGTH_MM, stopAt: 'finished', ...(this.barMm === null ? {} : { barMm: this.barMm }) };
  }

  /** Each figure in the colours chosen; the one in hand as it was made. */
  #figures(): readonly Shape[] {
    return BEGINNING_KINDS.map((kind) =>
      kind === this.inHand.kind
        ? this.inHand
        : fitShape(kind, this.inHand.strings, { colours: Math.min(3, this.chosen.length) }),
    );
  }

  #boardOf(shape: Shape): Board {
    const key = JSON.stringify(shape);
    const board = this.#boards.get(key) ?? { ...beginBoard(shape, this.#palette), piece: this.#piece };
    this.#boards.set(key, board);
    return board;
  }

  #lineOf(board: Board): string {
    const known = this.#known.get(board);
    return known === undefined ? '' : sayTally(known.tally, readUnit()).join(' · ');
  }

  #take(): void {
    const { state: found } = this.#tallies;
    if (found.kind !== 'found') return;
    found.answer.forEach((one, i) => {
      const board = this.#asked[i];
      if (board !== undefined) this.#known.set(board, one);
    });
    this.#asked = [];
  }

  #hold(shape: Shape): void {
    const colours = Math.min(shape.colours, this.chosen.length);
    this.inHand =
      colours === shape.colours ? shape : fitShape(shape.kind, shape.strings, { ...shape, colours });
    if (this.search === 'more') this.search = null;
  }

  #make(boards: readonly Board[], isSet = false): void {
    this.dispatchEvent(new MakeBoardsEvent(boards, isSet));
  }

  #onThread(id: ThreadId): void {
    const isChosen = this.chosen.includes(id);
    // Two colours are a figure and its ground.
    if (isChosen && this.chosen.length === 2) return;
    if (!isChosen && this.chosen.length === MOST_COLOURS) return;
    this.chosen = isChosen ? this.chosen.filter((one) => one !== id) : [...this.chosen, id];
    this.#hold(
      fitShape(this.inHand.kind, this.inHand.strings, { ...this.inHand, colours: this.chosen.length }),
    );
    this.search = null;
  }

  readonly #onBar = (event: Event): void => {
    const { value } = event.target as HTMLSelectElement;
    this.barMm = value === '' ? null : Number(value);
    this.search = null;
  };

  #onSearch(search: Search): void {
    // Asked again, others come first.
    this.#seed = this.search === search ? this.#seed + 1 : 1;
    this.search = search;
    if (search === 'drawer') this.#found.cancel();
    else if (search === 'more')
      this.#look({
        of: 'more',
        shape: this.inHand,
        palette: this.#palette,
        piece: this.#piece,
        seed: this.#seed,
      });
    else
      this.#look({
        of: 'lesson',
        strings: this.inHand.strings,
        palette: this.#palette,
        piece: this.#piece,
        seed: this.#seed,
      });
  }

  /** Opens the dialog of boards from letters or from a picture. */
  #onSource(kind: SourceKind, image: File | null = null): unknown {
    return usePart('sources', async () => {
      this.hasSources = true;
      await this.updateComplete;
      const sources = this.renderRoot.querySelector('lb-sources');
      sources?.show(kind, this.strings);
      if (image !== null) await sources?.take(image);
    });
  }

  /** Begins from a picture that was dropped on the page. */
  takeImage(image: File): unknown {
    return this.#onSource('image', image);
  }

  #look(ask: StartAsk): void {
    this.#found.start({ kind: 'start', ask }, true);
  }

  #onHave(id: ThreadId, event: Event): void {
    this.have = new Map(this.have).set(id, (event.target as HTMLInputElement).value);
  }

  readonly #onDrawer = (event: SubmitEvent): void => {
    event.preventDefault();
    const drawer = startThreads().map(({ id, name, hex }) => ({
      name,
      hex,
      haveMm: Math.max(0, Number(this.have.get(id) ?? 0)) * 1000,
    }));
    this.#look({ of: 'drawer', drawer, piece: this.#piece, seed: this.#seed });
  };

  readonly #onGroup = (): void => {
    const board = this.#boardOf(this.inHand);
    const name = (number: number): string => t('figure.keychain', { number });
    this.#make([{ ...board, colourways: groupColourways(board, startThreads(), name) }], true);
  };

  #onFound({ shape, board }: Started): void {
    if (this.search === 'more' && shape !== null) this.#hold(shape);
    else this.#make([board]);
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'lb-beginnings': LbBeginnings;
  }
}
