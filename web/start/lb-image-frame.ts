/**
 * An image behind the outline of a band: it is moved, made larger and turned until the band shows what is wanted. By mouse or finger it is
 * dragged; with two fingers also turned and made larger; with the wheel made larger; by keys all of it.
 *
 * @fires lb-frame The band lies otherwise on the image.
 */
import { css, html, LitElement, type PropertyValues, type TemplateResult } from 'lit';
import { property, query } from 'lit/decorators.js';
import type { Frame } from '../../engine/index.ts';
import { controls } from '../styles/index.ts';
import { spoken, t } from '../text/index.ts';
import { moved, movedByKey, transformOf, turnedBy, zoomed } from './frame-moves.ts';

/** Where the band lies on the image now. */
export class FrameEvent extends Event {
  readonly frame: Frame;

  constructor(frame: Frame) {
    super('lb-frame', { bubbles: true, composed: true });
    this.frame = frame;
  }
}

declare global {
  interface HTMLElementEventMap {
    'lb-frame': FrameEvent;
  }
}

/** Room for the image, and what is left of it round the band, in px. */
const WIDTH = 260;
const HEIGHT = 320;
const ROOM = 24;

@spoken
export class LbImageFrame extends LitElement {
  static override styles = [
    controls,
    css`
      :host {
        display: grid;
        gap: var(--lb-space-2);
        justify-items: start;
      }
      .view {
        position: relative;
        overflow: hidden;
        width: ${WIDTH}px;
        max-width: 100%;
        height: ${HEIGHT}px;
        border: 1px solid var(--lb-line-strong);
        border-radius: var(--lb-radius-small);
        background: var(--lb-sunken);
        cursor: grab;
        touch-action: none;
      }
      canvas {
        position: absolute;
        inset: 0 auto auto 0;
        transform-origin: 0 0;
        pointer-events: none;
        /* The image is the content. */
        forced-color-adjust: none;
      }
      .band {
        position: absolute;
        translate: -50% -50%;
        inset: 50% auto auto 50%;
        border: 2px solid #fff;
        outline: 2px solid #000;
        box-shadow: 0 0 0 999px color-mix(in srgb, var(--lb-page) 60%, transparent);
        pointer-events: none;
      }
      .row {
        display: flex;
        flex-wrap: wrap;
        gap: 4px;
      }
    `,
  ];

  @property({ attribute: false }) pixels!: ImageData;
  @property({ attribute: false }) frame!: Frame;
  @query('canvas') private canvas!: HTMLCanvasElement;
  @query('.view') private view!: HTMLElement;
  /** Fingers and buttons that are down, where they were last. */
  readonly #down = new Map<number, { x: number; y: number }>();

  protected override render(): TemplateResult {
    const { rows, strings, rowPerCord } = this.frame;
    const placePx = this.#placePx;
    const button = (key: 'larger' | 'smaller' | 'left' | 'right', next: () => Frame): TemplateResult =>
      html`<button @click=${() => this.#tell(next())}>${t(`fromImage.${key}`)}</button>`;
    return html`<div class="view" tabindex="0" role="group" aria-label=${t('fromImage.view')} aria-describedby="keys"
        @pointerdown=${this.#onDown} @pointermove=${this.#onMove} @pointerup=${this.#onUp} @pointercancel=${this.#onUp} @wheel=${this.#onWheel} @keydown=${this.#onKey}>
        <canvas aria-hidden="true"></canvas>
        <div class="band" style="width: ${strings * placePx}px; height: ${(rows + 1) * rowPerCord * placePx}px"></div>
      </div>
      <p class="quiet small" id="keys">${t('fromImage.keys')}</p>
      <div class="row">
        ${button('larger', () => zoomed(this.frame, 1.1))} ${button('smaller', () => zoomed(this.frame, 1 / 1.1))}
        ${button('left', () => turnedBy(this.frame, -15))} ${button('right', () => turnedBy(this.frame, 15))}
      </div>`;
  }

  protected override updated(changed: PropertyValues<this>): void {
    const { canvas, pixels } = this;
    if (changed.has('pixels')) {
      canvas.width = pixels.width;
      canvas.height = pixels.height;
      canvas.getContext('2d')?.putImageData(pixels, 0, 0);
    }
    const middle = { x: this.view.clientWidth / 2, y: this.view.clientHeight / 2 };
    canvas.style.transform = transformOf(this.frame, this.#placePx, middle);
  }

  /** Width of a place on the screen: the band is in sight, and something round it. */
  get #placePx(): number {
    const { strings, rows, rowPerCord } = this.frame;
    return Math.min((WIDTH - 2 * ROOM) / strings, (HEIGHT - 2 * ROOM) / ((rows + 1) * rowPerCord));
  }

  #tell(frame: Frame): void {
    this.dispatchEvent(new FrameEvent(frame));
  }

  readonly #onDown = (event: PointerEvent): void => {
    this.view.setPointerCapture(event.pointerId);
    this.#down.set(event.pointerId, { x: event.clientX, y: event.clientY });
  };

  readonly #onMove = (event: PointerEvent): void => {
    const before = this.#down.get(event.pointerId);
    if (before === undefined) return;
    const now = { x: event.clientX, y: event.clientY };
    const other = [...this.#down].find(([id]) => id !== event.pointerId)?.[1];
    this.#down.set(event.pointerId, now);
    const [dx, dy] = [now.x - before.x, now.y - before.y];
    if (other === undefined) {
      this.#tell(moved(this.frame, dx, dy, this.#placePx));
      return;
    }
    const [from, to] = [before, now].map(({ x, y }) => ({ x: x - other.x, y: y - other.y })) as [
      { x: number; y: number },
      { x: number; y: number },
    ];
    const times = Math.hypot(to.x, to.y) / Math.max(1, Math.hypot(from.x, from.y));
    const degrees = ((Math.atan2(to.y, to.x) - Math.atan2(from.y, from.x)) * 180) / Math.PI;
    // The middle between two fingers goes half as far as the one that moves.
    const along = moved(this.frame, dx / 2, dy / 2, this.#placePx);
    this.#tell(turnedBy(zoomed(along, Math.max(0.5, times)), degrees));
  };

  readonly #onUp = (event: PointerEvent): void => {
    this.#down.delete(event.pointerId);
  };

  readonly #onWheel = (event: WheelEvent): void => {
    event.preventDefault();
    this.#tell(zoomed(this.frame, event.deltaY < 0 ? 1.1 : 1 / 1.1));
  };

  readonly #onKey = (event: KeyboardEvent): void => {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const next = movedByKey(this.frame, event.key, this.#placePx);
    if (next === null) return;
    event.preventDefault();
    this.#tell(next);
  };
}
