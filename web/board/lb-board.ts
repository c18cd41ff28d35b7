/**
 * The board: the pattern on a canvas, tied by pointer, touch, pen or keyboard, in three looks.
 *
 * It reads the session's design and runs commands on it through its editor; it never touches the document itself.
 *
 * @fires lb-point What the pointer or the keyboard cursor is on.
 * @fires lb-refused A command that was not done, with the reason.
 * @fires lb-colour A colour was chosen in the strip of colours or picked from the board.
 */
import { html, LitElement, nothing, type PropertyValues, type TemplateResult } from 'lit';
import { property, query, state } from 'lit/decorators.js';
import { keyed } from 'lit/directives/keyed.js';
import {
  blockOf,
  type Cell,
  cellsInBlock,
  cellToPoint,
  type KnotCode,
  knotsIn,
  pointToCell,
  stringPath,
} from '../../engine/index.ts';
import { controls } from '../styles/controls.ts';
import type { BoardSession } from '../sync/index.ts';
import { t } from '../text/index.ts';
import {
  type ActionHost,
  actionFor,
  type BoardAction,
  isAllowed,
  type KeyPress,
  type Look,
} from './board-actions.ts';
import { BoardCanvas, type CanvasSource } from './board-canvas.ts';
import { shownAt, stringsOf } from './board-model.ts';
import { ChartPainter } from './draw-chart.ts';
import type { OtherMaker } from './draw-others.ts';
import type { Overlay } from './draw-overlay.ts';
import { Editor, type Spot } from './editor.ts';
import { type EditorNews, newsText } from './editor-news.ts';
import { ColourChosenEvent, PointEvent, RefusedEvent } from './events.ts';
import { Gestures } from './gestures.ts';
import { spotAfter } from './keyboard.ts';
import { boardStyles } from './lb-board.styles.ts';
import type { Lit } from './lit-set.ts';
import { axisX, withMirrored } from './mirror.ts';
import { PresenceTeller } from './presence-teller.ts';
import { kindName, spokenKnot, spokenPeg } from './speech.ts';
import { colourStrip, toolBar, viewControls } from './tool-bar.ts';
import { type PixelPoint, pixelToPoint, pointToPixel } from './viewport.ts';

/** What lies over the board, loaded when first opened. */
type Sheet = 'commands' | 'shortcuts' | 'menu';

export class LbBoard extends LitElement implements ActionHost {
  static override styles = [controls, boardStyles];

  @property({ attribute: false }) session!: BoardSession;
  /** What to light up; null = nothing. */
  @property({ attribute: false }) lit: Lit | null = null;
  /** Palette id that tools use; null = none. */
  @property({ attribute: false }) colour: string | null = null;
  @state() look: Look = 'chart';
  @state() isBeside = false;
  @state() private isSwapping = false;
  @state() private spoken = '';
  @state() private notice = '';
  @state() private sheet: Sheet | null = null;
  @query('.stage') private stage!: HTMLElement;

  editor!: Editor;
  #canvas: BoardCanvas | null = null;
  readonly #chart = new ChartPainter();
  readonly #gestures = new Gestures({
    strokeStart: (at) => this.#strokeStart(at),
    strokeMove: (at) => this.#strokeMove(at),
    strokeEnd: (isCopy) => this.editor.release(isCopy),
    strokeTakeBack: () => this.editor.cancel(true),
    pan: (dx, dy) => this.#canvas?.pan(dx, dy),
    zoom: (at, factor) => this.#canvas?.zoomBy(factor, at),
  });
  #hover: Cell | null = null;
  #hoverString: number | null = null;
  #isSpaceHeld = false;
  #menuAt: PixelPoint = { px: 0, py: 0 };
  #noticeTimer = 0;
  #teller: PresenceTeller | null = null;
  #stopSession: (() => void) | null = null;
  readonly #dark = matchMedia('(prefers-color-scheme: dark)');
  readonly #onTheme = (): void => this.#canvas?.forgetTheme();
  readonly #themeWatch = new MutationObserver(this.#onTheme);

  override connectedCallback(): void {
    super.connectedCallback();
    this.#dark.addEventListener('change', this.#onTheme);
    this.#themeWatch.observe(document.documentElement, { attributeFilter: ['data-theme'] });
    if (this.hasUpdated) this.#openSession();
  }

  override disconnectedCallback(): void {
    this.#dark.removeEventListener('change', this.#onTheme);
    this.#themeWatch.disconnect();
    this.#closeSession();
    super.disconnectedCallback();
  }

  protected override willUpdate(changed: PropertyValues<this>): void {
    if (changed.has('session')) this.#openSession();
    if (changed.has('colour') && this.colour !== this.editor.colour) this.editor.chooseColour(this.colour);
  }

  protected override updated(changed: PropertyValues<this>): void {
    if (this.#canvas === null) this.#openCanvas();
    if (changed.has('lit')) this.#showLit();
  }

  protected override render(): TemplateResult {
    const { editor } = this;
    return html`<div class="frame">
      ${toolBar(this)}
      <div class="view">${viewControls(this)}</div>
      <div class="boards ${this.isBeside && this.look !== 'finished' ? 'beside' : ''}">
        <div
          class="stage tool-${this.#isSpaceHeld ? 'pan' : editor.tool}"
          ?hidden=${this.look === 'finished'}
          @pointerdown=${this.#onDown}
          @pointermove=${this.#onMove}
          @pointerup=${this.#onUp}
          @pointercancel=${() => this.#gestures.cancel()}
          @pointerleave=${() => this.#setHover(null, null)}
          @wheel=${this.#onWheel}
          @contextmenu=${this.#onMenu}
        >
          <canvas class="pattern" aria-hidden="true"></canvas>
          <canvas class="overlay" aria-hidden="true"></canvas>
          <canvas class="others" aria-hidden="true"></canvas>
          ${this.#renderGrid()}
          ${editor.model.rows === 0 ? html`<div class="empty"><p>${t('board.spokenEmpty')}</p><button class="primary" ?disabled=${!editor.canEdit} @click=${() => editor.insertRows('below')}>${t('board.act.rowsBelow')}</button></div>` : nothing}
        </div>
        ${
          this.look === 'finished' || this.isBeside
            ? html`<lb-finished .board=${editor.model.board}></lb-finished>`
            : nothing
        }
      </div>
      ${colourStrip(this, { isSwapping: this.isSwapping, onColour: (id) => this.#onColour(id) })}
      <p class="notice" role="status">${this.notice}</p>
      <p class="visually-hidden" aria-live="polite">${this.spoken}</p>
      ${this.#renderSheet()}
    </div>`;
  }

  /** Middle of a knot on the screen, in client px, for what points at it from outside; null before the board is drawn. */
  clientPointOf(cell: Cell): { readonly x: number; readonly y: number } | null {
    if (this.#canvas === null) return null;
    const { px, py } = pointToPixel(this.#canvas.view, cellToPoint(this.editor.model.stagger, cell));
    const box = this.stage.getBoundingClientRect();
    return { x: box.left + px, y: box.top + py };
  }

  // ActionHost

  zoomBy(factor: number): void {
    this.#canvas?.zoomBy(factor);
  }

  /** Moves the board so that these rows are in the middle of the sight, as where one follows another maker. */
  showRows({ fromRow, toRow }: { readonly fromRow: number; readonly toRow: number }): void {
    const canvas = this.#canvas;
    if (canvas === null) return;
    const { view, size } = canvas;
    const off = size.height / 2 - (((fromRow + toRow + 1) / 2) * view.row + view.y);
    // Rows are whole numbers: two who follow each other would creep along for ever.
    if (Math.abs(off) > view.row) canvas.pan(0, off);
  }

  fit(what: 'all' | 'width'): void {
    this.#canvas?.fit(what);
  }

  showLook(look: Look): void {
    this.look = look;
    if (look === 'finished') void this.#loadFinished();
    void this.#applyPainter();
  }

  showBeside(isBeside: boolean): void {
    this.isBeside = isBeside;
    if (isBeside) void this.#loadFinished();
    if (isBeside && this.look === 'finished') this.showLook('chart');
  }

  copyToClipboard(isCut: boolean): void {
    const text = isCut ? this.editor.cut() : this.editor.copy();
    if (text === null) return;
    navigator.clipboard.writeText(text).catch(() => this.#say(t('board.say.noClipboard')));
  }

  pasteFromClipboard(): void {
    navigator.clipboard.readText().then(
      (text) => this.editor.paste(text),
      // Without leave to read it there is still what was copied from this board.
      () => (this.editor.hasClip ? this.editor.paste(null) : this.#say(t('board.say.noClipboard'))),
    );
  }

  startSwap(): void {
    this.isSwapping = !this.isSwapping;
    const { editor } = this;
    if (!this.isSwapping) return;
    if (editor.colour === null) editor.chooseColour(editor.model.board.palette[0]?.id ?? null);
    const chosen = editor.model.board.palette.find(({ id }) => id === editor.colour);
    this.#say(t('board.swapHint', { name: chosen?.name || (chosen?.id ?? '') }));
  }

  openCommands(): void {
    void this.#openSheet('commands');
  }

  openShortcuts(): void {
    void this.#openSheet('shortcuts');
  }

  openMenuHere(): void {
    const { cursor, model } = this.editor;
    const canvas = this.#canvas;
    if (canvas === null) return;
    const point = cursor === null ? { x: 0, y: 0 } : cellToPoint(model.stagger, cursor);
    this.#menuAt = {
      px: canvas.view.x + point.x * canvas.view.unit,
      py: canvas.view.y + point.y * canvas.view.row,
    };
    void this.#openSheet('menu');
  }

  // Rendering

  /** One cell of the grid stands for the whole of it: the one the keyboard is on. A new element for each spot, so that moving the
   * focus to it makes a screen reader say it. */
  #renderGrid(): TemplateResult {
    const { spot, model } = this.editor;
    const isPeg = spot.on === 'peg';
    const column = isPeg ? spot.place : spot.k;
    const count = isPeg ? model.strings : knotsIn(model.stagger, spot.row);
    const row = isPeg ? 1 : spot.row + 2;
    return html`<div
      class="grid"
      role="grid"
      aria-label=${t('board.grid')}
      aria-rowcount=${model.rows + 1}
      aria-colcount=${count}
      aria-multiselectable="true"
      @keydown=${this.#onKey}
      @keyup=${this.#onKeyUp}
      @copy=${(event: ClipboardEvent) => this.#onCopy(event, false)}
      @cut=${(event: ClipboardEvent) => this.#onCopy(event, true)}
      @paste=${this.#onPaste}
      @focusin=${() => this.#canvas?.invalidate('overlay')}
      @focusout=${() => this.#canvas?.invalidate('overlay')}
    >
      <div role="row" aria-rowindex=${row}>
        ${keyed(
          `${row}:${column}`,
          html`<div role="gridcell" tabindex="0" aria-colindex=${column + 1} aria-selected=${this.#isSpotSelected()} aria-label=${this.#spokenSpot()}></div>`,
        )}
      </div>
    </div>`;
  }

  #renderSheet(): TemplateResult | typeof nothing {
    if (this.sheet === null) return nothing;
    const close = (): void => {
      this.sheet = null;
      void this.updateComplete.then(() => this.#focusCell());
    };
    switch (this.sheet) {
      case 'commands':
        return html`<lb-command-list .host=${this} @lb-close=${close}></lb-command-list>`;
      case 'shortcuts':
        return html`<lb-shortcut-sheet @lb-close=${close}></lb-shortcut-sheet>`;
      case 'menu':
        return html`<lb-board-menu .host=${this} .at=${this.#menuAt} @lb-close=${close}></lb-board-menu>`;
    }
  }

  async #openSheet(sheet: Sheet): Promise<void> {
    const { defineSheets } = await import('./lazy-sheets.ts');
    defineSheets();
    this.sheet = sheet;
  }

  async #loadFinished(): Promise<void> {
    const { defineFinished } = await import('./lazy-finished.ts');
    defineFinished();
  }

  async #applyPainter(): Promise<void> {
    if (this.look !== 'paths') {
      this.#canvas?.setPainter(this.#chart);
      return;
    }
    const { PathsPainter } = await import('./draw-paths.ts');
    if (this.look === 'paths') this.#canvas?.setPainter(new PathsPainter());
  }

  #openSession(): void {
    this.#closeSession();
    const { session } = this;
    this.editor = new Editor(session.design, {
      canEdit: session.canEdit,
      onChange: () => this.#onEditor(),
      onNews: (news) => this.#onNews(news),
    });
    if (this.colour !== null) this.editor.chooseColour(this.colour);
    this.#teller = new PresenceTeller(session);
    this.#stopSession = session.subscribe(() => this.#canvas?.invalidate('others'));
    this.requestUpdate();
  }

  #closeSession(): void {
    this.#stopSession?.();
    this.#stopSession = null;
    this.#teller?.dispose();
    this.#teller = null;
    this.#canvas?.dispose();
    this.#canvas = null;
    this.editor?.dispose();
  }

  #openCanvas(): void {
    const canvasOf = (name: string): HTMLCanvasElement =>
      this.renderRoot.querySelector<HTMLCanvasElement>(`canvas.${name}`) as HTMLCanvasElement;
    const layers = {
      pattern: canvasOf('pattern'),
      overlay: canvasOf('overlay'),
      others: canvasOf('others'),
    };
    this.#canvas = new BoardCanvas(this.stage, layers, this.#chart, {
      source: () => this.#source(),
      onView: () => this.#tellView(),
    });
    void this.#applyPainter();
    this.#tellView();
  }

  #source(): CanvasSource {
    return { model: this.editor.model, overlay: this.#overlay(), others: this.#others() };
  }

  #overlay(): Overlay {
    const { editor } = this;
    const { model, mirror, spot } = editor;
    const isTying = editor.canEdit && ['tie', 'line', 'fill'].includes(editor.tool);
    const hover = this.#hover;
    const mirrored =
      hover === null || !isTying
        ? []
        : withMirrored(model.stagger, mirror, [{ ...hover, knot: 1 }]).filter(
            ({ row, k }) => row !== hover.row || k !== hover.k,
          );
    const strings = [editor.traced, this.look === 'paths' ? this.#hoverString : null].filter(
      (s) => s !== null,
    );
    return {
      hover: editor.tool === 'pan' ? null : hover,
      mirrored,
      cursor: editor.cursor,
      peg: spot.on === 'peg' ? spot.place : null,
      hasFocus: this.renderRoot.querySelector('[role=gridcell]:focus-visible') !== null,
      selection: editor.selection,
      shift: editor.shift,
      preview: editor.preview,
      lit: strings.length > 0 ? { ...this.lit, strings } : this.lit,
      axisX: axisX(mirror, model.strings),
      axisRow: mirror.level,
      isPaths: this.look === 'paths',
    };
  }

  #others(): readonly OtherMaker[] {
    const { design } = this.session;
    return this.session.people.flatMap(({ self, presence }) => {
      if (self) return [];
      const { person, cursor, selection } = presence;
      const from = selection && design.placeOf(selection.from);
      const to = selection && design.placeOf(selection.to);
      const block = from !== null && to !== null ? blockOf(this.editor.model.stagger, from, to) : null;
      return [{ name: person.name, hex: person.hex, at: cursor && design.placeOf(cursor), selection: block }];
    });
  }

  // What changes

  #onEditor(): void {
    this.#canvas?.reshape();
    this.#canvas?.invalidate('pattern', 'overlay', 'others');
    this.#teller?.tellSelection(this.editor.selection, this.editor.model.stagger);
    this.requestUpdate();
  }

  #onNews(news: EditorNews): void {
    const { editor } = this;
    if (news.kind === 'refused') this.dispatchEvent(new RefusedEvent(news.why));
    else if (news.kind === 'picked') {
      const entry = editor.model.board.palette.find(({ id }) => id === editor.colour);
      const knot = editor.ink.kind === 'knot' ? editor.ink.knot : (0 as KnotCode);
      this.#say(t('board.say.picked', { kind: kindName(knot), colour: entry?.name || (entry?.id ?? '') }));
      this.#tellColour(editor.colour);
    } else if (news.kind === 'tied') {
      const text = newsText(news);
      if (text !== '') this.spoken = text;
    } else this.#say(newsText(news));
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
    this.#tellColour(next);
  }

  #tellColour(colour: string | null): void {
    if (this.colour === colour) return;
    const shown = this.colour;
    this.colour = colour;
    const told = colour ?? shown;
    if (told !== null) this.dispatchEvent(new ColourChosenEvent(told));
  }

  /** A sentence to read and to hear, for some seconds. */
  #say(text: string): void {
    this.notice = text;
    clearTimeout(this.#noticeTimer);
    this.#noticeTimer = window.setTimeout(() => {
      this.notice = '';
    }, 6000);
  }

  #spokenSpot(): string {
    const { spot, model, cursor } = this.editor;
    if (spot.on === 'peg') return spokenPeg(model, Math.min(spot.place, model.strings - 1));
    return cursor === null ? t('board.spokenEmpty') : spokenKnot(model, cursor);
  }

  #isSpotSelected(): boolean {
    const { cursor, selection, model } = this.editor;
    if (cursor === null || selection === null) return false;
    return cellsInBlock(model.stagger, selection).some(({ row, k }) => row === cursor.row && k === cursor.k);
  }

  #showLit(): void {
    const first = this.lit?.isFollowed ? this.lit.knots?.[0] : undefined;
    if (first !== undefined) this.#canvas?.reveal(cellToPoint(this.editor.model.stagger, first));
    this.#canvas?.invalidate('overlay');
  }

  #focusCell(): void {
    this.renderRoot.querySelector<HTMLElement>('[role=gridcell]')?.focus({ preventScroll: true });
  }

  #moveTo(spot: Spot, extend = false): void {
    const { editor } = this;
    editor.moveTo(spot, extend);
    const { cursor } = editor;
    if (editor.isInStroke && cursor !== null) editor.drag(cursor);
    this.#canvas?.reveal(
      spot.on === 'peg' ? { x: spot.place, y: 0 } : cellToPoint(editor.model.stagger, spot),
    );
    this.#tellPoint(cursor);
    void this.updateComplete.then(() => this.#focusCell());
  }

  #tellPoint(cell: Cell | null): void {
    this.#teller?.tellCursor(cell);
    this.dispatchEvent(new PointEvent(cell && { ...cell, ...stringsOf(this.editor.model, cell) }));
  }

  #tellView(): void {
    const canvas = this.#canvas;
    if (canvas === null) return;
    const { view, size } = canvas;
    const last = this.editor.model.rows - 1;
    const rowAt = (py: number): number => Math.min(last, Math.max(0, Math.floor((py - view.y) / view.row)));
    this.#teller?.tellView(last < 0 ? null : { fromRow: rowAt(0), toRow: rowAt(size.height) });
  }

  // Pointer

  #at(event: MouseEvent): PixelPoint {
    const box = this.stage.getBoundingClientRect();
    return { px: event.clientX - box.left, py: event.clientY - box.top };
  }

  #cellAt(at: PixelPoint): Cell | null {
    return this.#canvas && pointToCell(this.editor.model.stagger, pixelToPoint(this.#canvas.view, at));
  }

  #pegAt(at: PixelPoint): number | null {
    const view = this.#canvas?.view;
    if (view === undefined || at.py > view.y - 3 || at.py < view.y - 44) return null;
    const place = Math.round((at.px - view.x) / view.unit);
    return place >= 0 && place < this.editor.model.strings ? place : null;
  }

  /** The string that hangs or shows at a point; null beside the band. */
  #stringAt(at: PixelPoint, cell: Cell | null): number | null {
    const { model } = this.editor;
    const peg = this.#pegAt(at);
    if (peg !== null) return peg;
    if (cell === null || this.#canvas === null) return null;
    if (this.look === 'chart' && shownAt(model, cell) >= 0) return shownAt(model, cell);
    const { x, y } = pixelToPoint(this.#canvas.view, at);
    const row = Math.max(0, Math.min(model.rows, Math.floor(y)));
    const place = Math.max(0, Math.min(model.strings - 1, Math.round(x)));
    return model.weave.orderFlat[row * model.strings + place] ?? null;
  }

  #strokeStart(at: PixelPoint): void {
    const { editor } = this;
    const cell = this.#cellAt(at);
    const peg = this.#pegAt(at);
    if (editor.tool === 'trace') {
      const string = this.#stringAt(at, cell);
      if (string !== null) this.#trace(string);
    } else if (peg !== null && cell === null) this.#onPeg(peg);
    if (cell === null) {
      if (editor.tool === 'select' && peg === null) editor.clearSelection();
      return;
    }
    editor.moveTo({ on: 'knot', ...cell });
    editor.press(cell);
  }

  #strokeMove(at: PixelPoint): void {
    const cell = this.#cellAt(at);
    if (cell !== null) this.editor.drag(cell);
  }

  #onPeg(place: number): void {
    const { editor } = this;
    editor.moveTo({ on: 'peg', place });
    if (editor.tool !== 'pick') {
      editor.recolour(place);
      return;
    }
    const colour = editor.model.board.pattern.colours[place] ?? null;
    editor.chooseColour(colour);
    this.#tellColour(colour);
  }

  #trace(string: number): void {
    const { editor } = this;
    editor.trace(string);
    if (editor.traced === null) return;
    const { model } = editor;
    const { shown, places } = stringPath(model.board.pattern, model.weave, string);
    const values = { string: string + 1, colour: model.names[string] as string, shown: shown.length };
    this.#say(t('board.say.traced', { ...values, place: (places[model.rows] as number) + 1 }));
  }

  readonly #onDown = (event: PointerEvent): void => {
    if (event.button === 2) return;
    this.stage.setPointerCapture(event.pointerId);
    this.#focusCell();
    this.#gestures.down({
      id: event.pointerId,
      at: this.#at(event),
      isTouch: event.pointerType === 'touch',
      isPan: event.button === 1 || this.#isSpaceHeld || this.editor.tool === 'pan',
    });
    event.preventDefault();
  };

  readonly #onMove = (event: PointerEvent): void => {
    // A fast hand moves over several knots between two frames; the browser kept the points.
    const points = event.getCoalescedEvents?.() ?? [];
    for (const point of points.length > 0 ? points : [event])
      this.#gestures.move(event.pointerId, this.#at(point));
    const at = this.#at(event);
    const cell = this.#cellAt(at);
    this.#setHover(cell, this.look === 'paths' ? this.#stringAt(at, cell) : null);
  };

  readonly #onUp = (event: PointerEvent): void => {
    this.#gestures.up(event.pointerId, event.altKey);
    if (event.pointerType === 'touch') this.#setHover(null, null);
  };

  #setHover(cell: Cell | null, string: number | null): void {
    const before = this.#hover;
    if (before?.row === cell?.row && before?.k === cell?.k && string === this.#hoverString) return;
    this.#hover = cell;
    this.#hoverString = string;
    this.#tellPoint(cell);
    this.#canvas?.invalidate('overlay');
  }

  readonly #onWheel = (event: WheelEvent): void => {
    event.preventDefault();
    const px = event.deltaMode === WheelEvent.DOM_DELTA_LINE ? 18 : 1;
    const [dx, dy] = [event.deltaX * px, event.deltaY * px];
    if (event.ctrlKey || event.metaKey) this.#canvas?.zoomBy(Math.exp(-dy / 240), this.#at(event));
    else if (event.shiftKey && dx === 0) this.#canvas?.pan(-dy, 0);
    else this.#canvas?.pan(-dx, -dy);
  };

  readonly #onMenu = (event: MouseEvent): void => {
    event.preventDefault();
    this.#gestures.cancel();
    const at = this.#at(event);
    const cell = this.#cellAt(at);
    if (cell !== null) this.editor.moveTo({ on: 'knot', ...cell });
    this.#menuAt = at;
    void this.#openSheet('menu');
  };

  // Keyboard

  readonly #onKey = (event: KeyboardEvent): void => {
    const { editor } = this;
    if (event.key === ' ' && !event.shiftKey && !event.ctrlKey) {
      this.#isSpaceHeld = true;
      event.preventDefault();
      this.requestUpdate();
      return;
    }
    const spot = spotAfter(editor.model.stagger, editor.spot, event);
    if (spot !== null) this.#moveTo(spot, event.shiftKey && spot.on === 'knot');
    else if (event.key === 'Enter') this.#useTool();
    else if (!this.#runKeys(event)) return;
    event.preventDefault();
    event.stopPropagation();
  };

  readonly #onKeyUp = (event: KeyboardEvent): void => {
    if (event.key !== ' ') return;
    this.#isSpaceHeld = false;
    this.requestUpdate();
  };

  /** @returns whether the keys mean anything here */
  #runKeys(press: KeyPress): boolean {
    const action = actionFor(press);
    if (action === null) return false;
    if (!isAllowed(action, this)) {
      if (action.edits === true && !this.editor.canEdit) this.dispatchEvent(new RefusedEvent(null));
      return true;
    }
    action.run(this);
    if (action.group === 'tie') this.editor.tieHere();
    this.#speakAfter(action);
    return true;
  }

  /** By key the maker has not looked at the knot: it is said what it became. */
  #speakAfter({ group, id }: BoardAction): void {
    if (group === 'tie' || group === 'edit') this.spoken = this.#spokenSpot();
    if (id === 'mirror')
      this.#say(t(this.editor.mirror.upright === null ? 'board.say.noMirror' : 'board.say.mirror'));
  }

  #useTool(): void {
    const { editor } = this;
    const { cursor } = editor;
    if (cursor === null) {
      if (editor.spot.on === 'peg') this.#onPeg(editor.spot.place);
      return;
    }
    switch (editor.tool) {
      case 'line':
      case 'select':
        if (editor.isInStroke) editor.release();
        else editor.press(cursor);
        break;
      case 'trace':
        editor.traceHere();
        break;
      case 'pan':
        break;
      case 'tie':
      case 'fill':
      case 'pick':
        editor.press(cursor);
        editor.release();
        break;
    }
    this.spoken = this.#spokenSpot();
  }

  #onCopy(event: ClipboardEvent, isCut: boolean): void {
    const text = isCut && this.editor.canEdit ? this.editor.cut() : this.editor.copy();
    if (text === null) return;
    event.clipboardData?.setData('text/plain', text);
    event.preventDefault();
  }

  readonly #onPaste = (event: ClipboardEvent): void => {
    event.preventDefault();
    this.editor.paste(event.clipboardData?.getData('text/plain') ?? null);
  };
}
