/**
 * The board: the pattern on a canvas, tied by pointer, touch, pen or keyboard, in three looks.
 *
 * It reads the session's design and runs commands on it through its editor; it never touches the document itself.
 *
 * @fires lb-point What the pointer or the keyboard cursor is on.
 * @fires lb-sheet The panels are wanted, where they are a sheet.
 * @fires lb-refused A command that was not done, with the reason.
 * @fires lb-colour A colour was chosen in the strip of colours or picked from the board.
 */
import { html, LitElement, nothing, type PropertyValues, type TemplateResult } from 'lit';
import { property, query, state } from 'lit/decorators.js';
import type { Design } from '../../engine/document/index.ts';
import { type Cell, cellToPoint, type KnotCode } from '../../engine/index.ts';
import { Consumer, type Subject, Subscriptions } from '../context/index.ts';
import { fetchMeanwhile, usePart, whenSeen } from '../parts/index.ts';
import { controls } from '../styles/index.ts';
import type { BoardSession } from '../sync/index.ts';
import { spoken, t } from '../text/index.ts';
import { sayError } from '../words/index.ts';
import type { Look } from './board-action.ts';
import { BoardCanvas, type CanvasSource } from './board-canvas.ts';
import { type BoardChoice, boardChoice } from './board-choice.ts';
import { BoardKeys, type KeysHost } from './board-keys.ts';
import { boardGrid } from './board-grid.ts';
import { othersOf, overlayOf } from './board-marks.ts';
import { stringsOf } from './board-model.ts';
import { BoardPointer, type PointerHost } from './board-pointer.ts';
import { readClipboard, writeClipboard } from './clipboard.ts';
import { ChartPainter } from './draw-chart.ts';
import { Editor } from './editor.ts';
import { type EditorNews, newsText } from './editor-news.ts';
import { ColourChosenEvent, PointEvent, RefusedEvent } from './events.ts';
import { isStrip } from './head-layout.ts';
import { HeldKnots, pointOfSpot, spotsToHold } from './held-knots.ts';
import { keepView, readView } from './kept-view.ts';
import { boardStyles } from './lb-board.styles.ts';
import type { LbFinished } from './lb-finished.ts';
import type { Lit } from './lit-set.ts';
import { followPhone, isPhone } from './phone-width.ts';
import { boardPinView, PIN_VIEW_EVENT, type PinView } from './pin-view.ts';
import { followOwnKeys } from './own-keys.ts';
import { PresenceTeller } from './presence-teller.ts';
import { renderSheet, type Sheet } from './render-sheet.ts';
import { kindName, spokenSpot } from './speech.ts';
import type { Spot } from './spot.ts';
import type { TalkHere } from './talk-here.ts';
import { colourStrip, secondLook, toolBar, viewControls } from './tool-bar.ts';
import { type PixelPoint, pointToPixel, rowsInSight } from './viewport.ts';

@spoken
export class LbBoard extends LitElement implements PointerHost, KeysHost {
  static override styles = [controls, boardStyles];

  @property({ attribute: false }) session!: BoardSession;
  /** The design as it is only looked at; null = it is edited. */
  @property({ attribute: false }) dressed: Design | null = null;
  /** What to light up; null = nothing. */
  @property({ attribute: false }) lit!: Subject<Lit | null>;
  @property({ attribute: false }) talk: TalkHere | null = null;
  @state() look: Look = 'chart';
  @state() isBeside = false;
  @state() besideLook: Look = 'finished';
  @state() isSwapping = false;
  @state() fingerTies = false;
  @state() private spoken = '';
  @state() private notice = '';
  @state() private sheet: Sheet | null = null;
  @state() isTrueShape = false;
  @query('.stage') stage!: HTMLElement;
  @query('lb-finished') private finished!: LbFinished | null;

  editor!: Editor;
  canvas: BoardCanvas | null = null;
  chart = new ChartPainter();
  readonly #pointer = new BoardPointer(this);
  readonly #keys = new BoardKeys(this);
  readonly #held = new HeldKnots();
  readonly #choice = new Consumer(this, boardChoice, (choice) => this.#onChoice(choice));
  isSpaceHeld = false;
  /** Whether the keyboard was on it before this update. */
  #isOnCell = false;
  #menuAt: PixelPoint = { px: 0, py: 0 };
  #noticeTimer = 0;
  #teller: PresenceTeller | null = null;
  readonly #subscriptions = new Subscriptions(this);
  readonly #dark = matchMedia('(prefers-color-scheme: dark)');
  readonly #onTheme = (): void => this.canvas?.forgetTheme();
  readonly #keepView = (): void => {
    const kept = this.canvas?.kept;
    if (kept && this.#boardId !== '') keepView(this.#boardId, kept);
  };
  /** Whose view the canvas has. */
  #boardId = '';
  readonly #themeWatch = new MutationObserver(this.#onTheme);

  override connectedCallback(): void {
    super.connectedCallback();
    this.#dark.addEventListener('change', this.#onTheme);
    document.addEventListener('visibilitychange', this.#keepView);
    this.#themeWatch.observe(document.documentElement, { attributeFilter: ['data-theme'] });
    if (this.hasUpdated) this.#openSession();
  }

  override disconnectedCallback(): void {
    this.#dark.removeEventListener('change', this.#onTheme);
    document.removeEventListener('visibilitychange', this.#keepView);
    this.#themeWatch.disconnect();
    this.#closeSession();
    super.disconnectedCallback();
  }

  protected override willUpdate(changed: PropertyValues<this>): void {
    this.#isOnCell = this.renderRoot?.querySelector('[role=gridcell]:focus') != null;
    if (changed.has('session')) this.#openSession();
    else if (changed.has('dressed')) this.#dress();
  }

  protected override updated(): void {
    // An update that was due when it left the page opens nothing there.
    if (!this.isConnected) {
      this.#closeSession();
      return;
    }
    if (this.canvas === null) this.#openCanvas();
    // Rows that come and go move the cursor with its knot, to another element.
    if (this.#isOnCell && this.shadowRoot?.activeElement === null) this.focusCell();
    this.canvas?.useTextures(this.#choice.value.textures);
    this.canvas?.setBeside(secondLook(this) !== null);
  }

  protected override render(): TemplateResult {
    const { editor } = this;
    const second = secondLook(this);
    return html`<div class="frame">
      ${toolBar(this, isPhone())}
      <div class="view" role="toolbar" aria-label=${t('board.view')}>${isPhone() ? nothing : viewControls(this)}</div>
      <div class="boards ${second === null ? '' : 'beside'}">
        <div
          class="stage tool-${this.isSpaceHeld ? 'pan' : editor.tool}"
          ?hidden=${this.look === 'finished'}
          @pointerdown=${this.#pointer.down}
          @pointermove=${this.#pointer.move}
          @pointerup=${this.#pointer.up}
          @pointercancel=${() => this.#pointer.cancel()}
          @pointerleave=${() => this.#pointer.setHover(null, null)}
          @wheel=${this.#pointer.wheel}
          @touchstart=${this.#pointer.touch}
          @contextmenu=${this.#pointer.menu}
        >
          <canvas class="pattern" aria-hidden="true"></canvas>
          <canvas class="overlay" aria-hidden="true"></canvas>
          <canvas class="others" aria-hidden="true"></canvas>
          ${boardGrid(this, this.#keys, this.#clip)}<slot name="pins"></slot>
          ${editor.model.rows === 0 ? html`<div class="empty"><p>${t('board.spokenEmpty')}</p><button class="primary" ?disabled=${!editor.canEdit} @click=${() => editor.insertRows('below')}>${t('board.act.rowsBelow')}</button></div>` : nothing}
        </div>
        ${
          second === 'chart' || second === 'paths'
            ? html`<lb-second-look .look=${second} .first=${this.canvas} .textures=${this.#choice.value.textures} .source=${this.#source}></lb-second-look>`
            : nothing
        }
        ${
          this.look === 'finished' || second === 'finished'
            ? html`<lb-finished .design=${editor.design} .board=${editor.model.board} .textures=${this.#choice.value.textures}><slot name="finished-pins" slot="pins"></slot></lb-finished>`
            : nothing
        }
      </div>
      <div class="over"><slot name="strip"></slot><div class="low"><slot name="notices"></slot><slot name="ask"></slot></div></div>
      ${colourStrip(this, { isSwapping: this.isSwapping, onColour: (id) => this.#onColour(id) })}
      <p class="notice" role="status">${this.notice}</p>
      <p class="visually-hidden" aria-live="polite">${this.spoken}</p>
      ${this.#renderSheet()}<lb-one-tab-stop></lb-one-tab-stop>
    </div>`;
  }

  /** Middle of a knot on the screen, in client px, for what points at it from outside; null before the board is drawn. */
  clientPointOf(cell: Cell): { readonly x: number; readonly y: number } | null {
    if (this.canvas === null) return null;
    const { px, py } = pointToPixel(this.canvas.view, cellToPoint(this.editor.model.stagger, cell));
    const box = this.stage.getBoundingClientRect();
    return { x: box.left + px, y: box.top + py };
  }

  /** Where marks on the board stand; null before it is drawn. `lb-pin-view` tells when they stand elsewhere. */
  pinView(isFinished: boolean): PinView | null {
    if (isFinished) return this.finished?.pinView ?? null;
    return this.canvas && boardPinView(this.canvas.view, this.canvas.size, this.editor.model.stagger);
  }

  // ActionHost

  zoomBy(factor: number): void {
    if (this.look === 'finished') this.finished?.zoomBy(factor);
    else this.canvas?.zoomBy(factor);
  }

  /** Moves the board so that these rows are in the middle of the sight, as where one follows another maker. */
  showRows({ fromRow, toRow }: { readonly fromRow: number; readonly toRow: number }): void {
    if (this.canvas === null) return;
    const { canvas } = this;
    const { view, size } = canvas;
    const off = size.height / 2 - (((fromRow + toRow + 1) / 2) * view.row + view.y);
    // Rows are whole numbers: two who follow each other would creep along for ever.
    if (Math.abs(off) > view.row) canvas.pan(0, off);
  }

  fit(what: 'all' | 'width'): void {
    if (this.look === 'finished') this.finished?.fit();
    else this.canvas?.fit(what);
  }

  showTrueShape(isTrue: boolean): void {
    this.isTrueShape = isTrue;
    void usePart('finished', ({ shapeChart }) => shapeChart(this));
  }

  showLook(look: Look): void {
    this.look = look;
    if (look === 'finished') void usePart('finished', () => {});
    void this.#applyPainter();
  }

  showBeside(isBeside: boolean, look: Look = this.besideLook): void {
    this.isBeside = isBeside;
    this.besideLook = look;
    if (isBeside) void usePart('finished', () => {});
    if (isBeside && this.look === 'finished') this.showLook('chart');
  }

  async copyToClipboard(isCut: boolean): Promise<void> {
    const text = isCut ? this.editor.cut() : this.editor.copy();
    if (text !== null && !(await writeClipboard(text))) this.say(t('board.say.noClipboard'));
  }

  async pasteFromClipboard(): Promise<void> {
    const text = await readClipboard();
    this.notice = '';
    // Without leave to read it there is still what was copied from this board.
    if (text !== null || this.editor.hasClip) this.editor.paste(text);
    else this.say(t('board.say.noClipboard'));
  }

  startSwap(): void {
    this.isSwapping = !this.isSwapping;
    const { editor } = this;
    if (!this.isSwapping) return;
    if (editor.colour === null) editor.chooseColour(editor.model.board.palette[0]?.id ?? null);
    const chosen = editor.model.board.palette.find(({ id }) => id === editor.colour);
    this.say(t('board.swapHint', { name: chosen?.name || (chosen?.id ?? '') }));
  }

  readonly openCommands = (): unknown =>
    this.dispatchEvent(new Event('lb-commands', { bubbles: true, composed: true }));
  readonly openShortcuts = (): unknown => this.#openSheet('shortcuts');
  openMenuHere(): void {
    const { canvas } = this;
    const { spot, model } = this.editor;
    if (canvas === null) return;
    this.#menuAt = pointToPixel(canvas.view, pointOfSpot(model.stagger, spot));
    void this.#openSheet('menu');
  }

  #renderSheet(): TemplateResult | typeof nothing {
    if (this.sheet === null) return nothing;
    const close = (): void => {
      this.sheet = null;
      // Unless what was chosen took the keyboard elsewhere.
      if (this.#hasFocusNear()) void this.updateComplete.then(() => this.focusCell());
    };
    return renderSheet(this.sheet, this, this.#menuAt, close);
  }

  #hasFocusNear(): boolean {
    const { activeElement } = this.getRootNode() as Document | ShadowRoot;
    return activeElement === null || activeElement === this || activeElement === document.body;
  }

  async #openSheet(sheet: Sheet): Promise<void> {
    await usePart('sheets', () => {
      this.sheet = sheet;
    });
  }

  async #applyPainter(): Promise<void> {
    if (this.look === 'paths')
      await usePart('paths', ({ PathsPainter }) => {
        if (this.look === 'paths') this.canvas?.setPainter(new PathsPainter());
      });
    else this.canvas?.setPainter(this.chart);
  }

  #openSession(): void {
    this.#closeSession();
    this.#openEditor();
    this.#boardId = this.session.boardId;
    this.#teller = new PresenceTeller(this.session);
    this.#subscriptions.keep(
      this.session.people.subscribe(() => this.canvas?.invalidate('others')),
      this.lit.subscribe((lit) => this.#showLit(lit)),
      followOwnKeys(() => this.requestUpdate()),
      followPhone(() => this.requestUpdate()),
    );
    this.requestUpdate();
  }

  #openEditor(): void {
    const { session, dressed } = this;
    this.editor?.dispose();
    this.editor = new Editor(dressed ?? session.design, {
      canEdit: dressed === null && session.canEdit,
      onChange: () => this.#onEditor(),
      onNews: (news) => this.#onNews(news),
    });
    const { colour } = this.#choice.value;
    if (colour !== null) this.editor.chooseColour(colour);
  }

  /** Other colours, or the board's own again, in the same view and at the same place. */
  #dress(): void {
    const { spot } = this.editor;
    this.#openEditor();
    this.editor.moveTo(spot);
  }

  #closeSession(): void {
    this.#subscriptions.keep();
    this.#teller?.dispose();
    this.#teller = null;
    this.#keepView();
    this.canvas?.dispose();
    this.canvas = null;
    this.editor?.dispose();
  }

  #openCanvas(): void {
    const canvasOf = (name: string): HTMLCanvasElement =>
      this.renderRoot.querySelector<HTMLCanvasElement>(`canvas.${name}`) as HTMLCanvasElement;
    const [pattern, overlay, others] = [canvasOf('pattern'), canvasOf('overlay'), canvasOf('others')];
    const layers = { pattern, overlay, others };
    this.canvas = new BoardCanvas(this.stage, layers, this.chart, {
      source: this.#source,
      onView: () => this.#tellView(),
      kept: readView(this.#boardId),
    });
    const { canvas } = this;
    void whenSeen().then(() => {
      void fetchMeanwhile('later-drawing', ({ later }) => canvas.useLater(later));
      void fetchMeanwhile('pegs', this.#pointer.takeHand);
    });
    void this.#applyPainter();
    void this.updateComplete.then(() => this.#tellView());
    // Who has just made or opened a board is on it.
    if (document.activeElement === document.body) this.focusCell();
  }

  readonly #source = (): CanvasSource => {
    const { editor, look, lit, session } = this;
    const { hover, hoverString } = this.#pointer;
    const hasFocus = this.renderRoot.querySelector('[role=gridcell]:focus-visible') !== null;
    return {
      model: editor.model,
      overlay: overlayOf({ editor, isPaths: look === 'paths', lit: lit.value, hover, hoverString, hasFocus }),
      others: othersOf(session, editor.model.stagger),
    };
  };

  openMenu(at: PixelPoint): void {
    this.#menuAt = at;
    void this.#openSheet('menu');
  }

  readonly usePeg = (place: number): void => this.#pointer.usePeg(place);

  movePeg(by: number): void {
    void usePart('pegs', ({ movePegHere }) => movePegHere(this, by)).then(this.speakSpot);
  }

  holdSpace(isHeld: boolean): void {
    this.isSpaceHeld = isHeld;
    this.canvas?.invalidate('overlay');
    this.requestUpdate();
  }

  readonly speakSpot = (): void => {
    this.spoken = spokenSpot(this.editor, this.talk);
  };

  readonly refuse = (): unknown => this.dispatchEvent(new RefusedEvent(null));

  holdStill(): void {
    const { canvas } = this;
    if (canvas === null) return;
    const { design, spot, model } = this.editor;
    const spots = spotsToHold(model.stagger, canvas, spot, this.#pointer.hoverSpot);
    this.#held.hold(design, model.stagger, spots);
  }

  #onEditor(): void {
    if (this.isTrueShape) this.showTrueShape(true);
    this.canvas?.reshape(this.#held.wayOf(this.editor.design, this.editor.model.stagger));
    this.holdStill();
    this.canvas?.invalidate('pattern', 'overlay', 'others');
    this.tellColour(this.editor.colour);
    this.#teller?.tellSelection(this.editor.selection, this.editor.model.stagger);
    this.requestUpdate();
  }

  #onNews(news: EditorNews): void {
    const { editor } = this;
    if (news.kind === 'refused') this.dispatchEvent(new RefusedEvent(news.why && sayError(news.why)));
    else if (news.kind === 'picked') {
      const entry = editor.model.board.palette.find(({ id }) => id === editor.colour);
      const knot = editor.ink.kind === 'knot' ? editor.ink.knot : (0 as KnotCode);
      this.say(t('board.say.picked', { kind: kindName(knot), colour: entry?.name || (entry?.id ?? '') }));
      this.tellColour(editor.colour);
    } else if (news.kind === 'tied') this.spoken = newsText(news) || this.spoken;
    else this.say(newsText(news));
  }

  #onColour(id: string): void {
    const { editor } = this;
    if (this.isSwapping) {
      this.isSwapping = false;
      if (editor.colour !== null) editor.swapColours(editor.colour, id);
      return;
    }
    const next = editor.colour === id && editor.ink.kind !== 'show' ? null : id;
    editor.chooseColour(next);
    this.tellColour(next);
  }

  tellColour(colour: string | null): void {
    if (this.#choice.value.colour !== colour) this.dispatchEvent(new ColourChosenEvent(colour));
  }

  #onChoice({ colour }: BoardChoice): void {
    // Before its session is opened there is no editor.
    if (this.editor?.colour !== colour) this.editor?.chooseColour(colour);
  }

  /** A sentence to read and to hear, for some seconds. */
  say(text: string): void {
    this.notice = text;
    clearTimeout(this.#noticeTimer);
    this.#noticeTimer = window.setTimeout(() => {
      this.notice = '';
    }, 6000);
  }

  #showLit(lit: Lit | null): void {
    // Under a sheet little of the board is in sight: what is lit is to be seen.
    const isFollowed = lit?.isFollowed || (this.canvas !== null && isStrip(this.canvas.size));
    const first = isFollowed ? lit?.knots?.[0] : undefined;
    if (first !== undefined) this.canvas?.reveal(cellToPoint(this.editor.model.stagger, first));
    this.canvas?.invalidate('overlay');
  }

  focusCell(): void {
    this.renderRoot.querySelector<HTMLElement>('[role=gridcell]')?.focus({ preventScroll: true });
  }

  moveTo(spot: Spot, extend = false): void {
    const { editor } = this;
    editor.moveTo(spot, extend);
    if (!extend) editor.leaveSelection();
    const { cursor } = editor;
    if (editor.isInStroke && cursor !== null) editor.drag(cursor);
    this.canvas?.reveal(pointOfSpot(editor.model.stagger, spot));
    this.tellPoint(cursor);
    void this.updateComplete.then(() => this.focusCell());
  }

  tellPoint(cell: Cell | null): void {
    this.#teller?.tellCursor(cell);
    this.dispatchEvent(new PointEvent(cell && { ...cell, ...stringsOf(this.editor.model, cell) }));
  }

  #tellView(): void {
    const { canvas } = this;
    if (canvas === null) return;
    this.holdStill();
    this.dispatchEvent(new Event(PIN_VIEW_EVENT));
    this.#teller?.tellView(rowsInSight(canvas.view, canvas.size.height, this.editor.model.rows));
  }

  readonly #clip = (event: ClipboardEvent): void => {
    const { editor } = this;
    if (event.type === 'paste') {
      event.preventDefault();
      this.notice = '';
      editor.paste(event.clipboardData?.getData('text/plain') ?? null);
      return;
    }
    const text = event.type === 'cut' && editor.canEdit ? editor.cut() : editor.copy();
    if (text === null) return;
    event.clipboardData?.setData('text/plain', text);
    event.preventDefault();
  };
}
