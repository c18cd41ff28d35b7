/** The finished band on its ring, front or back, with its measures. Scrolls when it is longer than its box. */
import { css, html, LitElement, nothing, type PropertyValues, type TemplateResult } from 'lit';
import { property, query, state } from 'lit/decorators.js';
import type { Design } from '../../engine/document/index.ts';
import { type Board, type BoardPoint, type MountPlan, staggerOf } from '../../engine/index.ts';
import { controls } from '../styles/index.ts';
import { spoken, t } from '../text/index.ts';
import { formatNear, readUnit, UNIT_EVENT } from '../units/index.ts';
import { PlanReader, planIn } from '../worker/index.ts';
import { CordSprites } from './cord-sprites.ts';
import {
  type BandSide,
  drawFinished,
  type FinishedLayout,
  layoutFinished,
  wholeZoom,
} from './draw-finished.ts';
import { backBars, type FinishedModel, finishedModelOf } from './finished-model.ts';
import { clearCanvas, FrameDrawing } from './frame-drawing.ts';
import { finishedPinView } from './finished-pin-view.ts';
import { HeldKnots, middleSpot } from './held-knots.ts';
import { PIN_VIEW_EVENT, type PinView } from './pin-view.ts';
import { sideButtons } from './side-buttons.ts';
import type { Textures } from './textures.ts';
import { readTheme } from './theme.ts';

export { LbSecondLook } from './lb-second-look.ts';
export { shapeChart } from './shape-chart.ts';

/** How many times smaller or larger than it fits the band can be shown. */
const LEAST_ZOOM = 0.1;
const MOST_ZOOM = 6;

@spoken
export class LbFinished extends LitElement {
  static override styles = [
    controls,
    css`
      :host {
        position: relative;
        display: grid;
        grid-template-rows: auto minmax(0, 1fr) auto;
        min-width: 0;
        min-height: 0;
        background: var(--lb-surface);
      }
      .sides {
        display: flex;
        justify-content: center;
        gap: 2px;
        padding: 4px;
      }
      .sides button {
        min-height: 32px;
        border-color: transparent;
        background: transparent;
        color: var(--lb-text-quiet);
        font-size: var(--lb-size-small);
        font-weight: 600;
      }
      .sides button[aria-pressed='true'] {
        background: var(--lb-sunken);
        color: var(--lb-text);
      }
      .scroll {
        overflow: auto;
        min-height: 0;
        touch-action: pan-x pan-y;
        overscroll-behavior: contain;
      }
      .sheet {
        position: relative;
      }
      canvas {
        position: sticky;
        inset-block-start: 0;
        inset-inline-start: 0;
        display: block;
      }
      .facts {
        display: flex;
        justify-content: safe center;
        gap: 0 var(--lb-space-4);
        /* Of one height, whatever is said. */
        overflow-x: auto;
        scrollbar-width: none;
        white-space: nowrap;
        padding: var(--lb-space-1) var(--lb-space-3) var(--lb-space-2);
        color: var(--lb-text-quiet);
        font-size: var(--lb-size-small);
        text-align: center;
      }
    `,
  ];

  @property({ attribute: false }) board: Board | null = null;
  /** Whose rows are followed while others come and go. */
  @property({ attribute: false }) design!: Design;
  @property({ attribute: false }) textures: Textures | null = null;
  @state() private side: BandSide = 'front';
  @query('.scroll') private scroller!: HTMLElement;
  @query('.sheet') private sheet!: HTMLElement;
  @query('canvas') private canvas!: HTMLCanvasElement;
  readonly #plans = new PlanReader(this);
  #isPlanning = false;
  #model: FinishedModel | null = null;
  #layout: FinishedLayout | null = null;
  readonly #drawing = new FrameDrawing(this, () => this.#draw());
  #zoom = 1;
  /** What is under the pointer, else in the middle, stays where it is. */
  readonly #held = new HeldKnots();
  #pointer: { readonly x: number; readonly y: number } | null = null;
  /** How far it has gone since it was drawn; null = that is not to be followed. */
  #way: BoardPoint | null = null;
  #sprites: CordSprites | null = null;
  readonly #onUnit = (): void => this.requestUpdate();
  /** Distance of the two fingers of a pinch; null without one. */
  #apart: number | null = null;

  override connectedCallback(): void {
    super.connectedCallback();
    addEventListener(UNIT_EVENT, this.#onUnit);
  }

  override disconnectedCallback(): void {
    removeEventListener(UNIT_EVENT, this.#onUnit);
    super.disconnectedCallback();
  }

  protected override willUpdate(changed: PropertyValues<this>): void {
    if (changed.has('board') || changed.has('textures'))
      this.#model = this.board && finishedModelOf(this.board, this.#planOf(this.board), this.textures);
    else if (this.#model !== null) this.#model = { ...this.#model, plan: this.#planOf(this.#model.board) };
    if (changed.has('board') && this.board !== null && this.#layout !== null)
      this.#way = this.#held.wayOf(this.design, staggerOf(this.board.pattern));
  }

  #planOf(board: Board): MountPlan | null {
    const state = this.#plans.stateOf(board);
    this.#isPlanning = state.kind === 'looking';
    return planIn(state);
  }

  /** Where marks on the band stand; null before it is drawn. */
  get pinView(): PinView | null {
    return this.#model && this.#layout && finishedPinView(this.#model, this.#layout, this.side);
  }

  protected override render(): TemplateResult {
    return html`
      <div class="sides" role="group" aria-label=${t('board.side')}>
        ${sideButtons(this.side, (side) => {
          this.side = side;
        })}
      </div>
      <div class="scroll" tabindex="0" role="group" aria-label=${t(`board.finished.${this.side}`)} @scroll=${this.#drawing.later} @pointermove=${this.#onPointer} @pointerleave=${this.#onPointer} @wheel=${this.#onWheel} @touchmove=${this.#onTouch} @touchend=${this.#onTouchEnd}>
        <div class="sheet"><canvas role="img" aria-label=${t(`board.finished.${this.side}`)}></canvas><slot name="pins"></slot></div>
      </div>
      <p class="facts">${this.#renderFacts()}</p>
    `;
  }

  #renderFacts(): TemplateResult | typeof nothing {
    const model = this.#model;
    if (model === null) return nothing;
    const { widthMm, bandMm, isMeasured } = model.proportions;
    const unit = readUnit();
    const size = { width: formatNear(widthMm, unit), length: formatNear(bandMm, unit) };
    const bars = backBars(model.plan);
    const colours = [...new Set(bars.map(({ left }) => model.names[left] as string))].join(', ');
    return html`<span>${t(isMeasured ? 'board.finished.measured' : 'board.finished.estimated', size)}</span>
      ${model.allRows > model.rows ? html`<span>${t('board.finished.shortened', { shown: model.rows, rows: model.allRows })}</span>` : nothing}
      ${model.plan === null ? html`<span role="status">${t(this.#isPlanning ? 'board.planning' : 'board.unplanned')}</span>` : nothing}
      ${bars.length > 0 ? html`<span class="warn">${t('board.finished.bars', { colours })}</span>` : nothing}`;
  }

  get zoom(): number {
    return this.#zoom;
  }

  /** Larger or smaller; what lies at the point of the box (by default its middle) stays there. */
  zoomBy(factor: number, at?: { readonly x: number; readonly y: number }): void {
    const { scroller } = this;
    const point = at ?? { x: scroller.clientWidth / 2, y: scroller.clientHeight / 2 };
    const before = this.#zoom;
    this.#zoom = Math.min(MOST_ZOOM, Math.max(LEAST_ZOOM, before * factor));
    const by = this.#zoom / before;
    const { scrollLeft, scrollTop } = scroller;
    this.#draw();
    scroller.scrollLeft = (scrollLeft + point.x) * by - point.x;
    scroller.scrollTop = (scrollTop + point.y) * by - point.y;
    this.#drawing.later();
  }

  /** All of it from the ring to the ends, where that can still be made out. */
  fit(): void {
    const { clientWidth: width, clientHeight: height } = this.scroller;
    if (this.#model === null || height === 0) return;
    this.#zoom = Math.max(LEAST_ZOOM, wholeZoom(this.#model, { width, height }));
    this.#draw();
    this.scroller.scrollTo(0, 0);
    this.#drawing.later();
  }

  readonly #onPointer = (event: PointerEvent): void => {
    this.#pointer = event.type === 'pointerleave' ? null : this.#inBox(event);
    this.#holdStill();
  };

  /** Where what is held lies in the box. */
  #heldPoint(): { readonly x: number; readonly y: number } {
    const { clientWidth, clientHeight } = this.scroller;
    return this.#pointer ?? { x: clientWidth / 2, y: clientHeight / 2 };
  }

  #holdStill(): void {
    const [model, layout] = [this.#model, this.#layout];
    if (model === null || layout === null) return;
    const { scrollLeft, scrollTop } = this.scroller;
    const at = this.#heldPoint();
    const view = { ...layout, x: layout.x - scrollLeft, y: layout.y - scrollTop };
    const stagger = staggerOf(model.board.pattern);
    this.#held.hold(this.design, stagger, [middleSpot(stagger, view, { width: 2 * at.x, height: 2 * at.y })]);
  }

  /** Scrolls so that what is held lies where it did. */
  #follow(before: FinishedLayout, { unit, row, x, y }: FinishedLayout, left: number, top: number): void {
    const way = this.#way;
    this.#way = null;
    if (way === null) return;
    const at = this.#heldPoint();
    const [across, down] = [(left + at.x - before.x) / before.unit, (top + at.y - before.y) / before.row];
    this.scroller.scrollLeft = x + (across + (this.side === 'front' ? way.x : 0)) * unit - at.x;
    this.scroller.scrollTop = y + (down + way.y) * row - at.y;
  }

  #inBox(at: { readonly clientX: number; readonly clientY: number }): { x: number; y: number } {
    const box = this.scroller.getBoundingClientRect();
    return { x: at.clientX - box.left, y: at.clientY - box.top };
  }

  readonly #onWheel = (event: WheelEvent): void => {
    if (!event.ctrlKey && !event.metaKey) return;
    event.preventDefault();
    const px = event.deltaMode === WheelEvent.DOM_DELTA_LINE ? 18 : 1;
    this.zoomBy(Math.exp((-event.deltaY * px) / 240), this.#inBox(event));
  };

  readonly #onTouch = (event: TouchEvent): void => {
    const [one, two] = event.touches;
    if (one === undefined || two === undefined) return;
    event.preventDefault();
    const apart = Math.max(1, Math.hypot(one.clientX - two.clientX, one.clientY - two.clientY));
    const middle = { clientX: (one.clientX + two.clientX) / 2, clientY: (one.clientY + two.clientY) / 2 };
    if (this.#apart !== null) this.zoomBy(apart / this.#apart, this.#inBox(middle));
    this.#apart = apart;
  };

  readonly #onTouchEnd = (): void => {
    this.#apart = null;
  };

  #draw(): void {
    const model = this.#model;
    const { clientWidth: width, clientHeight: height } = this.scroller;
    if (model === null || width === 0 || height === 0) return;
    const layout = layoutFinished(model, { width, height }, this.#zoom);
    const [before, left, top] = [this.#layout, this.scroller.scrollLeft, this.scroller.scrollTop];
    this.#layout = layout;
    this.dispatchEvent(new Event(PIN_VIEW_EVENT, { bubbles: true, composed: true }));
    this.sheet.style.height = `${Math.max(layout.height, height)}px`;
    this.sheet.style.width = `${layout.width}px`;
    if (before !== null) this.#follow(before, layout, left, top);
    this.#holdStill();
    const ratio = devicePixelRatio;
    const { canvas } = this;
    canvas.style.width = `${width}px`;
    canvas.style.height = `${height}px`;
    const context = clearCanvas(canvas, width, height);
    const { scrollTop, scrollLeft } = this.scroller;
    if (this.#sprites?.isFor(layout.unit, layout.row, ratio) !== true)
      this.#sprites = new CordSprites(layout.unit, layout.row, ratio);
    context.setTransform(ratio, 0, 0, ratio, -scrollLeft * ratio, -scrollTop * ratio);
    const theme = readTheme(this);
    drawFinished(context, model, layout, this.side, theme, this.#sprites, scrollTop, scrollTop + height);
  }
}
