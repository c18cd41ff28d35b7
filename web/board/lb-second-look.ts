/** A second look of the same board beside the first: to see, not to tie. It shows the rows that the first one shows; moving it moves both. */
import { css, html, LitElement, type PropertyValues, type TemplateResult } from 'lit';
import { property, query } from 'lit/decorators.js';
import { fetchMeanwhile } from '../parts/index.ts';
import { BoardCanvas, type CanvasSource } from './board-canvas.ts';
import { ChartPainter } from './draw-chart.ts';
import { PathsPainter } from './draw-paths.ts';
import type { Textures } from './textures.ts';

export class LbSecondLook extends LitElement {
  static override styles = css`
    :host {
      display: block;
      position: relative;
      min-width: 0;
      min-height: 0;
      overflow: hidden;
      touch-action: none;
      cursor: grab;
    }
    canvas {
      position: absolute;
      inset: 0;
      width: 100%;
      height: 100%;
      pointer-events: none;
    }
  `;

  @property({ attribute: false }) look: 'chart' | 'paths' = 'paths';
  @property({ attribute: false }) textures: Textures | null = null;
  /** What the first look shows. */
  @property({ attribute: false }) source!: () => CanvasSource;
  /** The canvas of the first look, which tells this one what is stale. */
  @property({ attribute: false }) first: BoardCanvas | null = null;
  @query('.pattern') private pattern!: HTMLCanvasElement;
  @query('.overlay') private overlay!: HTMLCanvasElement;
  @query('.others') private others!: HTMLCanvasElement;
  #canvas: BoardCanvas | null = null;
  #followed: BoardCanvas | null = null;
  /** Where the pointer that moves it was last. */
  #at: PointerEvent | null = null;

  constructor() {
    super();
    this.addEventListener('pointerdown', (event) => {
      if (!event.isPrimary) return;
      this.setPointerCapture(event.pointerId);
      this.#at = event;
    });
    this.addEventListener('pointermove', (event) => {
      if (this.#at?.pointerId !== event.pointerId) return;
      this.#move(event.clientX - this.#at.clientX, event.clientY - this.#at.clientY);
      this.#at = event;
    });
    this.addEventListener('lostpointercapture', () => {
      this.#at = null;
    });
    this.addEventListener('wheel', (event) => {
      event.preventDefault();
      const px = event.deltaMode === WheelEvent.DOM_DELTA_LINE ? 18 : 1;
      this.#move(-event.deltaX * px, -event.deltaY * px);
    });
  }

  override connectedCallback(): void {
    super.connectedCallback();
    if (this.hasUpdated) this.requestUpdate();
  }

  override disconnectedCallback(): void {
    this.#leave();
    this.#canvas?.dispose();
    this.#canvas = null;
    super.disconnectedCallback();
  }

  protected override render(): TemplateResult {
    return html`<canvas class="pattern" aria-hidden="true"></canvas>
      <canvas class="overlay" aria-hidden="true"></canvas>
      <canvas class="others" aria-hidden="true"></canvas>`;
  }

  protected override updated(changed: PropertyValues<this>): void {
    // An update that was due when it left the page opens nothing there.
    if (!this.isConnected) return;
    const { pattern, overlay, others } = this;
    const isNew = this.#canvas === null;
    this.#canvas ??= new BoardCanvas(this, { pattern, overlay, others }, this.#painter(), {
      source: () => this.#marked(),
      onView: () => {},
    });
    this.#canvas.setBeside(true);
    if (isNew) void fetchMeanwhile('later-drawing', ({ later }) => this.#canvas?.useLater(later));
    if (changed.has('look') && !isNew) this.#canvas.setPainter(this.#painter());
    this.#canvas.useTextures(this.textures);
    if (this.first === this.#followed) return;
    this.#leave();
    this.#followed = this.first;
    this.first?.followers.add(this.#follow);
    this.#follow();
  }

  #painter(): ChartPainter | PathsPainter {
    return this.look === 'paths' ? new PathsPainter() : new ChartPainter();
  }

  #marked(): CanvasSource {
    const source = this.source();
    return { ...source, overlay: { ...source.overlay, isPaths: this.look === 'paths' } };
  }

  #move(dx: number, dy: number): void {
    const [first, own] = [this.#followed, this.#canvas];
    if (first === null || own === null) return;
    own.pan(dx, 0);
    first.pan(0, (dy * first.view.row) / own.view.row);
  }

  /** Draws what is new there, with the same row at the top. */
  readonly #follow = (): void => {
    const [first, own] = [this.#followed, this.#canvas];
    if (first === null || own === null) return;
    // Pegs and arcs above the rows are as high in every look.
    const { y, row } = first.view;
    own.pan(0, (y > 0 ? y : (y / row) * own.view.row) - own.view.y);
    own.reshape();
    own.invalidate('pattern', 'overlay', 'others');
  };

  #leave(): void {
    this.#followed?.followers.delete(this.#follow);
    this.#followed = null;
  }
}
