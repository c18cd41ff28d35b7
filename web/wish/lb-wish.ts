/**
 * Painting what should show, over a board: colours in the place of knots, answers beside them. The board changes only when an answer is taken.
 *
 * The wish is this maker's own: it stays on her device, and with its knots whoever changes the board meanwhile.
 *
 * @fires lb-close It was closed.
 */
import { html, LitElement, nothing, type PropertyValues, type TemplateResult } from 'lit';
import { property, query, state } from 'lit/decorators.js';
import { keyed } from 'lit/directives/keyed.js';
import {
  type Block,
  type Board,
  cellToPoint,
  knotsIn,
  OPEN,
  wantedCells,
  wishFrom,
} from '../../engine/index.ts';
import {
  beginZoom,
  BoardCanvas,
  type BoardChoice,
  boardChoice,
  type BoardModel,
  type CanvasSource,
  followOwnKeys,
} from '../board/index.ts';
import { Consumer, Subscriptions } from '../context/index.ts';
import { icon } from '../icons/index.ts';
import { controls } from '../styles/index.ts';
import type { BoardSession } from '../sync/index.ts';
import { spoken, t } from '../text/index.ts';
import { sayError } from '../words/index.ts';
import { BackgroundJob, type WishAnswer, type WishJob } from '../worker/index.ts';
import type { AnswerEvent } from './answer-event.ts';
import type { BringWishEvent } from './bring-wish-event.ts';
import { drawWishMarks, WishPainter } from './draw-wish.ts';
import { type Brought, broughtTo, HeldWish, openWishFor } from './held-wish.ts';
import { wishStyles } from './lb-wish.styles.ts';
import { sayKind, splitAnswers } from './say-answer.ts';
import { takeAnswer } from './take-answer.ts';
import { cellsOf, cellsWithin, isShown, withCells } from './wish-cells.ts';
import { fitBrought } from './fit-brought.ts';
import { WishEditor, type WishTool } from './wish-editor.ts';
import { WishKeys } from './wish-keys.ts';
import { wishModelOf } from './wish-model.ts';
import { WishPointer } from './wish-pointer.ts';
import { WishShelf } from './wish-shelf.ts';

const TOOLS: readonly WishTool[] = ['tie', 'line', 'fill', 'select', 'pick', 'pan'];

@spoken
export class LbWish extends LitElement {
  static override styles = [controls, wishStyles];

  @property({ attribute: false }) session!: BoardSession;
  /** Where alone something is painted: what was selected on the board; null = everywhere. */
  @property({ attribute: false }) region: Block | null = null;
  @state() fingerPaints = false;
  @state() private notice = '';
  @state() private spoken = '';
  @state() private seamless = false;
  @state() private looked: WishAnswer | null = null;
  @query('.stage') stage!: HTMLElement;
  editor!: WishEditor;
  canvas: BoardCanvas | null = null;
  isSpaceHeld = false;
  readonly #pointer = new WishPointer(this);
  readonly #keys = new WishKeys(this);
  readonly #painter = new WishPainter();
  readonly #choice = new Consumer(this, boardChoice, (choice) => this.#onChoice(choice));
  readonly #job = new BackgroundJob<WishJob>(this, () => this.#onJob());
  readonly #subscriptions = new Subscriptions(this);
  readonly #dark = matchMedia('(prefers-color-scheme: dark)');
  readonly #onTheme = (): void => this.canvas?.forgetTheme();
  #shelf: WishShelf | null = null;
  #held!: HeldWish;
  #model: BoardModel | null = null;
  #isCellFocused = false;
  /** Rows that an answer being taken puts above. */
  #takenRows: number | null = null;
  /** Of the answer that she chose to look at; null = the one that shows most. */
  #chosenKind: WishAnswer['kind'] | null = null;

  override connectedCallback(): void {
    super.connectedCallback();
    this.#dark.addEventListener('change', this.#onTheme);
    const { design } = this.session;
    this.editor = new WishEditor(openWishFor(design), {
      onChange: () => this.#onEditor(),
      onWish: () => this.#onWish(),
      onNews: (news, count) => this.#say(t(`wish.say.${news}`, { count })),
    });
    this.editor.limitTo(this.region);
    this.#held = new HeldWish(design, this.editor);
    this.#subscriptions.keep(
      design.subscribe((_, { kind }) => this.#onBoard(kind)),
      followOwnKeys(() => this.requestUpdate()),
    );
    this.addEventListener('lb-bring-wish', this.#onBring);
    void this.#recall();
  }

  override disconnectedCallback(): void {
    this.#dark.removeEventListener('change', this.#onTheme);
    this.removeEventListener('lb-bring-wish', this.#onBring);
    this.#subscriptions.keep();
    this.canvas?.dispose();
    this.canvas = null;
    this.#shelf?.close();
    this.#shelf = null;
    super.disconnectedCallback();
  }

  protected override willUpdate(_: PropertyValues): void {
    this.#isCellFocused = this.renderRoot?.querySelector('[role=gridcell]:focus') != null;
  }

  protected override updated(): void {
    if (!this.isConnected) return;
    if (this.canvas === null) this.#openCanvas();
    if (this.#isCellFocused && this.shadowRoot?.activeElement === null) this.focusCell();
  }

  protected override render(): TemplateResult {
    return html`${this.#renderTools()}
      <div
        class="stage tool-${this.isSpaceHeld ? 'pan' : this.editor.tool}"
        @pointerdown=${this.#pointer.down}
        @pointermove=${this.#pointer.move}
        @pointerup=${this.#pointer.up}
        @pointercancel=${this.#pointer.cancel}
        @pointerleave=${this.#pointer.leave}
        @wheel=${this.#pointer.wheel}
        @touchstart=${this.#pointer.touch}
      >
        <canvas class="pattern" aria-hidden="true"></canvas>
        <canvas class="overlay" aria-hidden="true"></canvas>
        <canvas class="others" aria-hidden="true"></canvas>
        ${this.editor.wish.rows.length === 0 ? html`<p class="empty quiet">${t('wish.noRows')}</p>` : this.#renderGrid()}
        <p class="notice" role="status">${this.notice}</p>
        <p class="visually-hidden" aria-live="polite">${this.spoken}</p>
      </div>
      ${this.#renderColours()} ${this.#renderSide()}`;
  }

  #renderTools(): TemplateResult {
    const { editor } = this;
    const isMirrored = editor.mirror.upright !== null || editor.mirror.level !== null;
    const button = (
      name: string,
      picture: TemplateResult | string,
      act: () => void,
      isOn?: boolean,
      isOff = false,
    ): TemplateResult =>
      html`<button class="tool" aria-label=${name} title=${name} aria-pressed=${isOn ?? nothing} ?disabled=${isOff} @click=${act}>${picture}</button>`;
    return html`<div class="tools"><div class="bar" role="toolbar" aria-label=${t('wish.tools')}>
      ${TOOLS.map((tool) => button(t(`wish.tool.${tool}`), icon(tool), () => editor.choose(tool), editor.tool === tool))}
      ${button(t('wish.mirror'), icon('mirror'), () => editor.setMirror({ upright: isMirrored ? null : 'middle', level: null }), isMirrored)}
      <span class="gap"></span>
      ${button(t('board.act.undo'), '↶', () => editor.undo(), undefined, !editor.canUndo)}
      ${button(t('board.act.redo'), '↷', () => editor.redo(), undefined, !editor.canRedo)}
      <span class="gap"></span>
      ${button(t('board.zoomOut'), icon('zoomOut'), () => this.zoomBy(1 / 1.25))}
      ${button(t('board.fit'), icon('fit'), () => this.fit('all'))}
      ${button(t('board.zoomIn'), icon('zoomIn'), () => this.zoomBy(1.25))}
      <button class="finger" aria-pressed=${this.fingerPaints} @click=${() => (this.fingerPaints = !this.fingerPaints)}>${t(this.fingerPaints ? 'wish.finger.paints' : 'wish.finger.moves')}</button>
      </div><button class="back" aria-label=${t('wish.back')} title=${t('wish.back')} @click=${this.close}><span class="name">${t('wish.back')}</span><span class="sign" aria-hidden="true">×</span></button>
    </div>`;
  }

  #renderColours(): TemplateResult {
    const { editor } = this;
    const inks = [OPEN, ...editor.wish.palette.keys()];
    return html`<div class="colours" role="toolbar" aria-label=${t('wish.colours')}>${inks.map((ink) => {
      const colour = editor.wish.palette[ink];
      const name = colour === undefined ? t('wish.open') : colour.name || colour.id;
      return html`<button class="swatch-button" aria-label=${name} title=${name} aria-pressed=${editor.ink === ink} @click=${() => editor.chooseInk(ink)}><span class=${ink === OPEN ? 'open' : ''} style="--ink: ${colour?.hex ?? 'transparent'}"></span></button>`;
    })}</div>`;
  }

  #renderGrid(): TemplateResult {
    const { editor } = this;
    const { row, k } = editor.cursor ?? { row: 0, k: 0 };
    return html`<div
      class="grid"
      role="grid"
      aria-label=${t('wish.grid')}
      aria-rowcount=${editor.wish.rows.length}
      aria-colcount=${knotsIn(editor.stagger, row)}
      aria-multiselectable="true"
      @keydown=${this.#keys.down}
      @keyup=${this.#keys.up}
      @copy=${this.#clip}
      @cut=${this.#clip}
      @paste=${this.#clip}
      @focusin=${() => this.canvas?.invalidate('overlay')}
      @focusout=${() => this.holdSpace(false)}
    ><div role="row" aria-rowindex=${row + 1}>${keyed(
      `${row}:${k}`,
      html`<div role="gridcell" tabindex="0" aria-colindex=${k + 1} aria-selected=${editor.isSelected({ row, k })} aria-label=${this.#spokenCell()}></div>`,
    )}</div></div>`;
  }

  #renderSide(): TemplateResult {
    const { editor } = this;
    const isEmpty = wantedCells(editor.wish) === 0;
    return html`<section class="side" aria-labelledby="wish">
      <h2 id="wish">${t('wish.heading')}</h2>
      <p class="lead small quiet">${t('wish.lead')}</p>
      <div class="ways">
        <button @click=${this.#onFromBoard}>${t('wish.fromBoard')}</button>
        <button ?disabled=${isEmpty} @click=${this.#onClear}>${t('wish.clear')}</button>
        ${editor.region === null ? html`<label><input type="checkbox" .checked=${this.seamless} @change=${this.#onSeamless} />${t('wish.seamless')}</label>` : nothing}
      </div>
      ${editor.region === null ? nothing : html`<p class="region small">${t('wish.region')} <button @click=${this.#onWhole}>${t('wish.whole')}</button></p>`}
      ${this.#renderState(isEmpty)}
      <lb-wish-answers .board=${this.#board} .answers=${this.#answers} .looked=${this.looked} @lb-answer-look=${({ answer }: AnswerEvent) => this.#look(answer)} @lb-answer-take=${this.#onTake}></lb-wish-answers>
    </section>`;
  }

  #renderState(isEmpty: boolean): TemplateResult {
    const { state: job } = this.#job;
    if (isEmpty) return html`<p class="state quiet" role="status">${t('wish.nothing')}</p>`;
    switch (job.kind) {
      case 'looking': {
        const percent = Math.round(job.share * 100);
        return html`<div class="state"><span>${t('wish.looking', { percent })}</span><button @click=${() => this.#job.stop()}>${t('wish.stop')}</button></div>
          <progress max="1" .value=${job.share} aria-label=${t('wish.looking', { percent })}></progress>`;
      }
      case 'failed':
        return html`<p class="state warn" role="alert">${job.why}</p>`;
      case 'found':
        return html`<p class="state" role="status">${this.#sayFound(splitAnswers(job.answer).offered.length)}</p>`;
      case 'idle':
        return html``;
    }
  }

  #sayFound(count: number): string {
    const { wish, region } = this.editor;
    if (count > 0) return t('wish.found', { count });
    if (region === null) return t('wish.failed');
    return t(isShown(wish, wishFrom(this.#board), region) ? 'wish.shows' : 'wish.noMend');
  }

  // Hosts of keys and pointer

  zoomBy(factor: number): void {
    this.canvas?.zoomBy(factor);
  }

  fit(what: 'all' | 'width'): void {
    this.canvas?.fit(what);
  }

  holdSpace(isHeld: boolean): void {
    this.isSpaceHeld = isHeld;
    this.requestUpdate();
  }

  moveTo(row: number, k: number, extend: boolean): void {
    const { editor } = this;
    editor.moveTo({ row, k }, extend);
    if (editor.isInStroke) editor.drag({ row, k });
    this.canvas?.reveal(cellToPoint(editor.stagger, { row, k }));
    void this.updateComplete.then(() => this.focusCell());
  }

  speak(): void {
    this.spoken = this.#spokenCell();
  }

  focusCell(): void {
    this.renderRoot.querySelector<HTMLElement>('[role=gridcell]')?.focus({ preventScroll: true });
  }

  readonly close = (): void => {
    this.dispatchEvent(new Event('lb-close'));
  };

  // The wish, the board, and what is kept

  get #board(): Board {
    return this.session.design.snapshot.board;
  }

  get #answers(): readonly WishAnswer[] {
    const { state: job } = this.#job;
    if (job.kind === 'found') return job.answer;
    return job.kind === 'looking' ? (job.best ?? []) : [];
  }

  async #recall(): Promise<void> {
    const shelf = await WishShelf.open(this.session.boardId);
    const kept = await shelf.read();
    if (!this.isConnected) {
      shelf.close();
      return;
    }
    this.#shelf = shelf;
    if (!shelf.keeps) this.#say(t('wish.notKept'));
    // What was painted before it was read is what she wants now.
    if (kept === null || this.editor.canUndo) this.#keep();
    else {
      const brought = broughtTo(this.session.design, kept.addresses);
      this.editor.follow(() => brought.bring(kept.wish));
      if (brought.isByPlace) this.#tellBrought(brought, wantedCells(kept.wish));
    }
    // What is to be mended begins as it is.
    if (this.editor.region !== null) this.#takeBoard();
  }

  #keep(): void {
    const { wish } = this.editor;
    this.#shelf?.keep(wantedCells(wish) === 0 ? null : wish, this.#held.addresses);
  }

  #onBoard(kind: string): void {
    const { design } = this.session;
    if (kind === 'structure') {
      const wanted = wantedCells(this.editor.wish);
      const brought = this.#held.follow(this.#takenRows ?? 0);
      this.#keep();
      if (this.#takenRows === null) this.#tellBrought(brought, wanted);
    } else if (design.snapshot.board.palette !== this.editor.wish.palette) this.#held.recolour();
    else if (kind !== 'knots') this.#search();
    this.#draw();
    this.requestUpdate();
  }

  #tellBrought({ isByPlace }: Brought, wanted: number): void {
    const lost = wanted - wantedCells(this.editor.wish);
    if (wanted === 0) return;
    if (isByPlace) this.#say(t('wish.byPlace'));
    else if (lost > 0) this.#say(t('wish.lost', { lost }));
    else this.#say(t('wish.brought'));
  }

  #onWish(): void {
    this.#keep();
    this.#search();
  }

  #search(): void {
    const { wish } = this.editor;
    if (wantedCells(wish) === 0) this.#job.cancel();
    else
      this.#job.start({
        kind: 'wish',
        board: this.#board,
        wish,
        seamless: this.seamless,
        part: this.editor.region,
      });
  }

  #onJob(): void {
    const answers = this.#answers;
    const before = this.looked;
    const same = answers.find(({ kind }) => kind === this.#chosenKind);
    const least = Math.min(...answers.map(({ wrongCells }) => wrongCells.length));
    const next = same ?? answers.find(({ wrongCells }) => wrongCells.length === least) ?? null;
    if (next === before) return;
    this.looked = next;
    this.#draw();
  }

  #look(answer: WishAnswer): void {
    this.#chosenKind = answer.kind;
    this.looked = answer;
    this.#draw();
  }

  readonly #onTake = ({ answer }: AnswerEvent): void => {
    this.#takenRows = answer.newRows;
    const refused = takeAnswer(this.session.design, answer.board);
    this.#takenRows = null;
    if (refused === null) this.#say(t('wish.taken', { kind: sayKind(answer, this.#board) }));
    else this.#say(t('wish.refused', { why: sayError(refused) }));
  };

  readonly #onBring = ({ wish }: BringWishEvent): void => {
    const { taken, outside, strange } = fitBrought(wish, openWishFor(this.session.design));
    this.editor.take(taken);
    if (outside > 0) this.#say(t('wish.cut', { count: outside }));
    else if (strange > 0) this.#say(t('wish.strange', { count: strange }));
  };

  readonly #onFromBoard = (): void => this.#takeBoard();

  /** What shows now in the part to be painted, all else of the wish as it was. */
  #takeBoard(): void {
    const { wish, region } = this.editor;
    const now = wishFrom(this.#board);
    const cells = cellsWithin(wish, region, cellsOf(wish));
    const wanted = cells.map(({ row, k }) => ({ row, k, wanted: now.rows[row]![k]! }));
    this.editor.take(withCells(wish, wanted));
  }

  readonly #onWhole = (): void => {
    this.editor.limitTo(null);
    this.#search();
  };

  readonly #onClear = (): void => this.editor.take(openWishFor(this.session.design));

  readonly #onSeamless = (event: Event): void => {
    this.seamless = (event.target as HTMLInputElement).checked;
    this.#search();
  };

  // The canvas

  #openCanvas(): void {
    const canvasOf = (name: string): HTMLCanvasElement =>
      this.renderRoot.querySelector<HTMLCanvasElement>(`canvas.${name}`) as HTMLCanvasElement;
    const [pattern, overlay, others] = [canvasOf('pattern'), canvasOf('overlay'), canvasOf('others')];
    const layers = { pattern, overlay, others };
    this.canvas = new BoardCanvas(this.stage, layers, this.#painter, {
      source: this.#source,
      onView: () => {},
    });
    this.canvas.useTextures(this.#choice.value.textures);
    // Nobody else is on a wish.
    this.canvas.useLater({ drawMarks: drawWishMarks, drawOthers: () => {}, beginZoom });
    this.#draw();
    this.focusCell();
  }

  #draw(): void {
    const { wish, region } = this.editor;
    const missed = (this.looked?.wrongCells ?? []).filter(
      ([row, k]) => (wish.rows[row]?.[k] ?? OPEN) !== OPEN,
    );
    this.#model = wishModelOf({ board: this.#board, wish, missed, region }, this.#model);
    this.canvas?.invalidate('pattern', 'overlay');
  }

  readonly #source = (): CanvasSource => {
    const { editor } = this;
    const { hover } = this.#pointer;
    return {
      model: this.#model!,
      overlay: {
        hover: editor.tool === 'pan' ? null : hover,
        ink: null,
        isFilling: false,
        mirror: editor.mirror,
        cursor: editor.cursor,
        peg: null,
        hasFocus: this.renderRoot.querySelector('[role=gridcell]:focus-visible') !== null,
        selection: editor.selection ?? editor.region,
        shift: editor.shift,
        preview: editor.preview.map((cell) => ({ ...cell, knot: 0 as const })),
        lit: null,
        isPaths: false,
      },
      others: [],
    };
  };

  #onEditor(): void {
    this.#draw();
    this.requestUpdate();
  }

  #onChoice({ textures }: BoardChoice): void {
    this.canvas?.useTextures(textures);
  }

  #spokenCell(): string {
    const { editor } = this;
    const { cursor, wish } = editor;
    if (cursor === null) return t('wish.noRows');
    const where = { row: cursor.row + 1, knot: cursor.k + 1 };
    const colour = wish.palette[wish.rows[cursor.row]![cursor.k]!];
    if (colour === undefined) return t('wish.spokenOpen', where);
    const isMissed = this.looked?.wrongCells.some(([row, k]) => row === cursor.row && k === cursor.k);
    return t(isMissed ? 'wish.spokenMissed' : 'wish.spoken', { ...where, colour: colour.name || colour.id });
  }

  #say(text: string): void {
    this.notice = text;
  }

  readonly #clip = (event: ClipboardEvent): void => {
    const { editor } = this;
    event.preventDefault();
    if (event.type === 'paste') editor.paste(event.clipboardData?.getData('text/plain') || null);
    else {
      const text = event.type === 'cut' ? editor.cut() : editor.copy();
      if (text !== null) event.clipboardData?.setData('text/plain', text);
    }
  };
}
