/**
 * The board: the pattern on a canvas, tied by pointer, touch or keyboard.
 *
 * It reads the session's design and runs commands on it; it never touches the document itself. Two canvases lie over each
 * other, the pattern and what marks it; each is drawn at most once a frame, and only when it changed.
 *
 * @fires lb-point What the pointer or the keyboard cursor is on.
 * @fires lb-refused A command that was not done, with the reason.
 */
import { html, LitElement, type PropertyValues, type TemplateResult } from 'lit';
import { property, query, state } from 'lit/decorators.js';
import type { Command } from '../../engine/document/index.ts';
import { isLeftShown, type KnotCode } from '../../engine/index.ts';
import { controls } from '../styles/controls.ts';
import type { BoardSession } from '../sync/index.ts';
import { t } from '../text/index.ts';
import { type BoardModel, modelOf } from './board-model.ts';
import { drawBoard, headHeight, type Theme } from './draw-board.ts';
import { drawOverlay, type Mark } from './draw-overlay.ts';
import { PointEvent, RefusedEvent } from './events.ts';
import { KNOT_TOOLS, kindName, knotIcon } from './knot-tools.ts';
import { boardStyles } from './lb-board.styles.ts';
import type { Lit } from './lit-set.ts';
import {
  fitBoard,
  keepInSight,
  knotAtPixel,
  pegAtPixel,
  type Viewport,
  visibleRows,
  zoomAt,
} from './viewport.ts';

type Tool = { readonly kind: 'tie'; readonly knot: KnotCode } | { readonly kind: 'move' };

export class LbBoard extends LitElement {
  static override styles = [controls, boardStyles];

  @property({ attribute: false }) session!: BoardSession;
  /** What to light up; null = nothing. */
  @property({ attribute: false }) lit: Lit | null = null;
  /** Palette id that a click on a peg gives to its string. */
  @property({ attribute: false }) colour: string | null = null;
  @state() private tool: Tool = { kind: 'tie', knot: 1 };
  @state() private isMirrored = false;
  @state() private cursor: Mark = { row: 0, k: 0 };
  @state() private model: BoardModel | null = null;
  @state() private spoken = '';
  @query('canvas.pattern') private pattern!: HTMLCanvasElement;
  @query('canvas.overlay') private overlay!: HTMLCanvasElement;
  @query('.stage') private stage!: HTMLElement;

  #view: Viewport = { scale: 30, x: 0, y: 0 };
  #size = { width: 0, height: 0 };
  #hover: Mark | null = null;
  #theme: Theme | null = null;
  #frame = 0;
  #isPatternStale = true;
  #isFitted = false;
  #stop: (() => void) | null = null;
  #resize: ResizeObserver | null = null;
  readonly #pointers = new Map<number, { x: number; y: number }>();
  #drag: { kind: 'tie' | 'pan'; last: { x: number; y: number }; lastKnot: Mark | null } | null = null;
  readonly #dark = matchMedia('(prefers-color-scheme: dark)');
  readonly #onTheme = (): void => {
    this.#theme = null;
    this.#redraw(true);
  };

  override connectedCallback(): void {
    super.connectedCallback();
    this.#dark.addEventListener('change', this.#onTheme);
    if (this.hasUpdated) this.#watch();
  }

  override disconnectedCallback(): void {
    this.#dark.removeEventListener('change', this.#onTheme);
    this.#stop?.();
    this.#stop = null;
    this.#resize?.disconnect();
    cancelAnimationFrame(this.#frame);
    this.#frame = 0;
    super.disconnectedCallback();
  }

  protected override firstUpdated(): void {
    this.#watch();
  }

  protected override updated(changed: PropertyValues): void {
    if (changed.has('lit') || changed.has('cursor')) this.#redraw(false);
    if (changed.has('model')) this.#redraw(true);
  }

  protected override render(): TemplateResult {
    const { model } = this;
    const cell = model === null ? null : this.#speak(model, this.cursor);
    return html`
      <div class="tools" role="toolbar" aria-label=${t('board.tools')}>
        <div class="group">
          ${KNOT_TOOLS.map(
            ({ knot, key }) => html`<button
              title=${t(key)}
              aria-label=${t(key)}
              aria-pressed=${this.tool.kind === 'tie' && this.tool.knot === knot}
              ?disabled=${!this.session.canEdit}
              @click=${() => this.#choose({ kind: 'tie', knot })}
            >
              ${knotIcon(knot)}
            </button>`,
          )}
        </div>
        <div class="group">
          <button
            aria-pressed=${this.isMirrored}
            title=${t('board.mirroredHint')}
            ?disabled=${!this.session.canEdit}
            @click=${() => {
              this.isMirrored = !this.isMirrored;
            }}
          >
            ${t('board.mirrored')}
          </button>
          <button aria-pressed=${this.tool.kind === 'move'} title=${t('board.tool.move')} aria-label=${t('board.tool.move')} @click=${() => this.#choose({ kind: 'move' })}>✥</button>
        </div>
        <div class="group">
          <button title=${t('board.zoomOut')} aria-label=${t('board.zoomOut')} @click=${() => this.#zoom(1 / 1.25)}>−</button>
          <button title=${t('board.zoomIn')} aria-label=${t('board.zoomIn')} @click=${() => this.#zoom(1.25)}>+</button>
          <button @click=${() => this.#fit()}>${t('board.fit')}</button>
        </div>
        <details class="more">
          <summary>${t('board.shape')}</summary>
          <div class="menu">
            <p class="small quiet">${t('board.hereHint')}</p>
            ${this.#shapeButton('board.addRows', (row) => ({ kind: 'insert-row-pairs', at: row + 1, count: 1 }))}
            ${this.#shapeButton('board.removeRows', (row) => ({ kind: 'delete-row-pairs', from: row, count: 1 }))}
            ${this.#shapeButton('board.addStrings', (_, string) => ({ kind: 'insert-string-pairs', at: string + 1, count: 1 }))}
            ${this.#shapeButton('board.removeStrings', (_, string) => ({ kind: 'delete-string-pairs', from: string, count: 1 }))}
          </div>
        </details>
      </div>
      <div
        class="stage"
        @pointerdown=${this.#onDown}
        @pointermove=${this.#onMove}
        @pointerup=${this.#onUp}
        @pointercancel=${this.#onUp}
        @pointerleave=${this.#onLeave}
        @wheel=${this.#onWheel}
        @contextmenu=${(event: Event) => event.preventDefault()}
      >
        <canvas class="pattern" aria-hidden="true"></canvas>
        <canvas class="overlay" aria-hidden="true"></canvas>
        <div
          class="grid"
          role="grid"
          aria-label=${t('board.grid')}
          aria-rowcount=${model?.rows ?? 0}
          aria-colcount=${model === null ? 0 : model.strings >> 1}
        >
          <div role="row" aria-rowindex=${this.cursor.row + 1}>
            <div
              role="gridcell"
              tabindex="0"
              aria-colindex=${this.cursor.k + 1}
              aria-label=${cell ?? ''}
              @keydown=${this.#onKey}
              @focus=${() => this.#redraw(false)}
              @blur=${() => this.#redraw(false)}
            ></div>
          </div>
        </div>
      </div>
      <p class="visually-hidden" role="status">${this.spoken}</p>
    `;
  }

  #shapeButton(
    key: 'board.addRows' | 'board.removeRows' | 'board.addStrings' | 'board.removeStrings',
    make: (rowPair: number, stringPair: number) => Command,
  ): TemplateResult {
    return html`<button
      ?disabled=${!this.session.canEdit}
      @click=${() => {
        const { model } = this;
        if (model === null) return;
        const { row, k } = this.cursor;
        const place = 2 * k + ((model.start + row) & 1);
        this.#run(make((row + model.start) >> 1, place >> 1));
      }}
    >
      ${t(key)}
    </button>`;
  }

  #watch(): void {
    this.#stop?.();
    const { design } = this.session;
    this.model = modelOf(design.snapshot.board, null);
    let seen = design.snapshot;
    this.#stop = this.session.subscribe(() => {
      if (design.snapshot !== seen) {
        seen = design.snapshot;
        this.model = modelOf(seen.board, this.model);
        this.#keepCursor();
      } else this.#redraw(false);
    });
    this.#resize?.disconnect();
    this.#resize = new ResizeObserver(() => this.#measure());
    this.#resize.observe(this.stage);
    this.#measure();
  }

  #measure(): void {
    const box = this.stage.getBoundingClientRect();
    this.#size = { width: box.width, height: box.height };
    for (const canvas of [this.pattern, this.overlay]) {
      canvas.width = Math.round(box.width * devicePixelRatio);
      canvas.height = Math.round(box.height * devicePixelRatio);
    }
    if (!this.#isFitted && box.width > 0 && this.model !== null && this.model.rows > 0) {
      this.#isFitted = true;
      this.#fit();
    } else this.#redraw(true);
  }

  #fit(): void {
    if (this.model === null) return;
    this.#view = fitBoard(this.#size, this.model.strings, this.model.rows, headHeight(this.model));
    this.#redraw(true);
  }

  #zoom(factor: number): void {
    this.#setView(zoomAt(this.#view, this.#size.width / 2, this.#size.height / 2, factor));
  }

  #setView(view: Viewport): void {
    if (this.model === null) return;
    this.#view = keepInSight(view, this.#size, this.model.strings, this.model.rows);
    this.#redraw(true);
    const { from, to } = visibleRows(this.#view, this.#size, this.model.rows);
    this.session.setPresence({ view: { fromRow: from, toRow: Math.max(from, to) } });
  }

  #readTheme(): Theme {
    const style = getComputedStyle(this);
    const token = (name: string): string => style.getPropertyValue(name).trim();
    return {
      page: token('--lb-surface'),
      text: token('--lb-text'),
      quiet: token('--lb-text-quiet'),
      line: token('--lb-line'),
      accent: token('--lb-accent'),
      warn: token('--lb-warn'),
      font: style.fontFamily,
    };
  }

  #redraw(isPattern: boolean): void {
    this.#isPatternStale ||= isPattern;
    if (this.#frame !== 0 || !this.isConnected) return;
    this.#frame = requestAnimationFrame(() => {
      this.#frame = 0;
      this.#draw();
    });
  }

  #draw(): void {
    const { model } = this;
    if (model === null || this.#size.width === 0) return;
    this.#theme ??= this.#readTheme();
    const contextOf = (canvas: HTMLCanvasElement): CanvasRenderingContext2D => {
      const context = canvas.getContext('2d')!;
      context.setTransform(devicePixelRatio, 0, 0, devicePixelRatio, 0, 0);
      return context;
    };
    if (this.#isPatternStale) {
      this.#isPatternStale = false;
      drawBoard(contextOf(this.pattern), model, this.#view, this.#size, this.#theme);
    }
    const others = this.session.people.flatMap(({ self, presence }) => {
      const at = self || presence.cursor === null ? null : this.session.design.placeOf(presence.cursor);
      return at === null ? [] : [{ person: presence.person, at }];
    });
    drawOverlay(contextOf(this.overlay), model, this.#view, this.#size, this.#theme, {
      cursor: this.cursor,
      hasFocus: this.renderRoot.querySelector('[role=gridcell]:focus-visible') !== null,
      hover: this.#hover,
      lit: this.lit,
      others,
    });
  }

  #choose(tool: Tool): void {
    this.tool = tool;
  }

  #run(command: Command): void {
    const result = this.session.design.run(command);
    if (!result.ok) this.dispatchEvent(new RefusedEvent(result.error.message));
  }

  #tie(at: Mark, knot: KnotCode): void {
    if (!this.session.canEdit) {
      this.dispatchEvent(new RefusedEvent(null));
      return;
    }
    this.#run({ kind: 'set-knots', knots: [{ ...at, knot }], mirrored: this.isMirrored });
  }

  #moveCursor(at: Mark): void {
    this.cursor = at;
    this.session.setPresence({ cursor: this.session.design.addressOf(at.row, at.k) });
    this.#point(at);
  }

  #point(at: Mark | null): void {
    const { model } = this;
    if (at === null || model === null) {
      this.dispatchEvent(new PointEvent(null));
      return;
    }
    const place = 2 * at.k + ((model.start + at.row) & 1);
    const order = model.weave.orderFlat;
    const left = order[at.row * model.strings + place] ?? 0;
    const right = order[at.row * model.strings + place + 1] ?? 0;
    this.dispatchEvent(new PointEvent({ ...at, left, right }));
  }

  #keepCursor(): void {
    const { model } = this;
    if (model === null || model.rows === 0) return;
    const row = Math.min(this.cursor.row, model.rows - 1);
    const last = Math.max(0, ((model.strings - ((model.start + row) & 1)) >> 1) - 1);
    this.cursor = { row, k: Math.min(this.cursor.k, last) };
  }

  /** What a screen reader says of a knot. */
  #speak(model: BoardModel, at: Mark): string {
    const parity = (model.start + at.row) & 1;
    const knot = (model.board.pattern.knots[at.row * (model.strings >> 1) + at.k] ?? 0) as KnotCode;
    const name = (place: number): string => {
      const string = model.weave.orderFlat[at.row * model.strings + place];
      return string === undefined ? '' : (model.names[string] ?? '');
    };
    const [left, right] = [name(2 * at.k + parity), name(2 * at.k + parity + 1)];
    const where = { row: at.row + 1, knot: at.k + 1 };
    if (knot === 0) return t('board.spokenUntied', { ...where, left, right });
    const [shown, hidden] = isLeftShown(knot) ? [left, right] : [right, left];
    return t('board.spoken', { ...where, kind: kindName(knot), shown, hidden });
  }

  readonly #onKey = (event: KeyboardEvent): void => {
    const { model } = this;
    if (model === null || event.altKey) return;
    const { row, k } = this.cursor;
    const lastOf = (r: number): number => Math.max(0, ((model.strings - ((model.start + r) & 1)) >> 1) - 1);
    const isWide = event.ctrlKey || event.metaKey;
    const to = (r: number, at: number): void => {
      const target = Math.min(model.rows - 1, Math.max(0, r));
      this.#moveCursor({ row: target, k: Math.min(lastOf(target), Math.max(0, at)) });
      this.#showCursor();
    };
    const page = 10;
    switch (event.key) {
      case 'ArrowUp':
        to(row - 1, k);
        break;
      case 'ArrowDown':
        to(row + 1, k);
        break;
      case 'ArrowLeft':
        to(row, k - 1);
        break;
      case 'ArrowRight':
        to(row, k + 1);
        break;
      case 'Home':
        to(isWide ? 0 : row, 0);
        break;
      case 'End':
        to(isWide ? model.rows - 1 : row, model.strings);
        break;
      case 'PageUp':
        to(row - page, k);
        break;
      case 'PageDown':
        to(row + page, k);
        break;
      case '1':
      case '2':
      case '3':
      case '4':
        this.#tieHere(Number(event.key) as KnotCode);
        break;
      case '0':
      case 'Delete':
      case 'Backspace':
        this.#tieHere(0);
        break;
      case 'Enter':
      case ' ':
        if (this.tool.kind === 'tie') this.#tieHere(this.tool.knot);
        break;
      default:
        return;
    }
    event.preventDefault();
  };

  #tieHere(knot: KnotCode): void {
    this.#tie(this.cursor, knot);
    if (this.model !== null)
      this.spoken = this.#speak(modelOf(this.session.design.snapshot.board, this.model), this.cursor);
  }

  /** Scrolls so that the cursor can be seen. */
  #showCursor(): void {
    const { model } = this;
    if (model === null) return;
    const { from, to } = visibleRows(this.#view, this.#size, model.rows);
    const tall = this.#view.scale * 0.8;
    if (this.cursor.row < from + 3 || this.cursor.row > to - 3)
      this.#setView({ ...this.#view, y: this.#size.height / 2 - (this.cursor.row + 1) * tall });
  }

  #at(event: PointerEvent | WheelEvent): { x: number; y: number } {
    const box = this.stage.getBoundingClientRect();
    return { x: event.clientX - box.left, y: event.clientY - box.top };
  }

  #knotAt(point: { x: number; y: number }): Mark | null {
    const { model } = this;
    if (model === null) return null;
    return knotAtPixel(this.#view, point.x, point.y, model.strings, model.rows, model.start);
  }

  readonly #onDown = (event: PointerEvent): void => {
    const point = this.#at(event);
    const { model } = this;
    if (model === null) return;
    this.stage.setPointerCapture(event.pointerId);
    this.#pointers.set(event.pointerId, point);
    const peg = pegAtPixel(this.#view, point.x, point.y, model.strings);
    if (peg !== null && this.colour !== null && this.session.canEdit) {
      this.#run({ kind: 'recolour-strings', strings: [peg], colour: this.colour });
      return;
    }
    const isPan = this.#pointers.size > 1 || event.button === 1 || this.tool.kind === 'move';
    const knot = this.#knotAt(point);
    this.#drag = { kind: isPan || knot === null ? 'pan' : 'tie', last: point, lastKnot: null };
    if (this.#drag.kind === 'tie') {
      this.session.design.stopUndoCapture();
      this.#dragTo(point);
    }
  };

  readonly #onMove = (event: PointerEvent): void => {
    const point = this.#at(event);
    const known = this.#pointers.get(event.pointerId);
    if (known === undefined) {
      this.#setHover(this.#knotAt(point));
      return;
    }
    if (this.#pointers.size === 2) this.#pinch(event.pointerId, point);
    this.#pointers.set(event.pointerId, point);
    if (this.#pointers.size === 1) this.#dragTo(point);
  };

  #dragTo(point: { x: number; y: number }): void {
    const drag = this.#drag;
    if (drag === null) return;
    if (drag.kind === 'pan') {
      this.#setView({
        ...this.#view,
        x: this.#view.x + point.x - drag.last.x,
        y: this.#view.y + point.y - drag.last.y,
      });
    } else if (this.tool.kind === 'tie') {
      const knot = this.#knotAt(point);
      if (knot !== null && (drag.lastKnot?.row !== knot.row || drag.lastKnot.k !== knot.k)) {
        drag.lastKnot = knot;
        this.#tie(knot, this.tool.knot);
        this.#moveCursor(knot);
      }
    }
    drag.last = point;
  }

  #pinch(moved: number, point: { x: number; y: number }): void {
    this.#drag = { kind: 'pan', last: point, lastKnot: null };
    const other = [...this.#pointers].find(([id]) => id !== moved)?.[1];
    const before = this.#pointers.get(moved);
    if (!other || !before) return;
    const distance = (p: { x: number; y: number }): number => Math.hypot(p.x - other.x, p.y - other.y);
    const middle = { x: (point.x + other.x) / 2, y: (point.y + other.y) / 2 };
    const zoomed = zoomAt(this.#view, middle.x, middle.y, distance(point) / Math.max(1, distance(before)));
    this.#setView({
      ...zoomed,
      x: zoomed.x + (point.x - before.x) / 2,
      y: zoomed.y + (point.y - before.y) / 2,
    });
  }

  readonly #onUp = (event: PointerEvent): void => {
    this.#pointers.delete(event.pointerId);
    if (this.#pointers.size === 0) {
      if (this.#drag?.kind === 'tie') this.session.design.stopUndoCapture();
      this.#drag = null;
    }
  };

  readonly #onLeave = (): void => this.#setHover(null);

  #setHover(knot: Mark | null): void {
    if (this.#hover?.row === knot?.row && this.#hover?.k === knot?.k) return;
    this.#hover = knot;
    this.session.setPresence({
      cursor: knot === null ? null : this.session.design.addressOf(knot.row, knot.k),
    });
    this.#point(knot);
    this.#redraw(false);
  }

  readonly #onWheel = (event: WheelEvent): void => {
    event.preventDefault();
    const point = this.#at(event);
    if (event.ctrlKey || event.metaKey)
      this.#setView(zoomAt(this.#view, point.x, point.y, Math.exp(-event.deltaY / 200)));
    else this.#setView({ ...this.#view, x: this.#view.x - event.deltaX, y: this.#view.y - event.deltaY });
  };
}
