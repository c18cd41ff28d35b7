/** The band as a small picture, as many repeats long as its box has room for. */
import { css, html, LitElement, type PropertyValues, type TemplateResult } from 'lit';
import { property } from 'lit/decorators.js';
import type { Board } from '../../engine/index.ts';
import { type BoardModel, modelOf } from './board-model.ts';
import { drawLozenge } from './draw-knot.ts';
import { ROW } from './viewport.ts';

const MAX_SCALE = 14;

export class LbBandPicture extends LitElement {
  static override styles = css`
    :host {
      display: block;
      overflow: hidden;
    }
    canvas {
      display: block;
      width: 100%;
      height: 100%;
    }
  `;

  @property({ attribute: false }) board: Board | null = null;
  #model: BoardModel | null = null;
  #resize: ResizeObserver | null = null;
  #frame = 0;

  override connectedCallback(): void {
    super.connectedCallback();
    this.#resize = new ResizeObserver(() => this.#later());
    this.#resize.observe(this);
  }

  override disconnectedCallback(): void {
    this.#resize?.disconnect();
    cancelAnimationFrame(this.#frame);
    this.#frame = 0;
    super.disconnectedCallback();
  }

  protected override render(): TemplateResult {
    return html`<canvas></canvas>`;
  }

  protected override updated(changed: PropertyValues): void {
    if (!changed.has('board')) return;
    this.#model = this.board === null ? null : modelOf(this.board, this.#model);
    this.#later();
  }

  #later(): void {
    if (this.#frame !== 0) return;
    this.#frame = requestAnimationFrame(() => {
      this.#frame = 0;
      this.#draw();
    });
  }

  #draw(): void {
    const canvas = this.renderRoot.querySelector('canvas');
    const model = this.#model;
    const { width, height } = this.getBoundingClientRect();
    if (canvas === null || width === 0) return;
    canvas.width = Math.round(width * devicePixelRatio);
    canvas.height = Math.round(height * devicePixelRatio);
    const context = canvas.getContext('2d');
    if (context === null || model === null || model.rows === 0) return;
    context.setTransform(devicePixelRatio, 0, 0, devicePixelRatio, 0, 0);
    const { strings, rows, weave, hexes } = model;
    const stride = strings >> 1;
    const scale = Math.min(MAX_SCALE, (width - 8) / strings);
    const left = (width - (strings - 1) * scale) / 2;
    const tall = ROW * scale;
    // The strings of the next repeat hang in the order in which the last one left them.
    let order = Int16Array.from({ length: strings }, (_, i) => i);
    const perRepeat = rows + (rows & 1);
    for (let y = 0, repeat = 0; y < height && repeat < 200; repeat++, y += perRepeat * tall) {
      for (let row = 0; row < rows && y + row * tall < height; row++) {
        const parity = (model.start + row) & 1;
        for (let k = 0; k < (strings - parity) >> 1; k++) {
          const string = weave.shownFlat[row * stride + k]!;
          if (string < 0) continue;
          const x = left + (2 * k + parity + 0.5) * scale;
          drawLozenge(context, x, y + (row + 1) * tall, scale + 0.3, tall + 0.3, hexes[order[string]!]!);
        }
      }
      const next = new Int16Array(strings);
      for (let place = 0; place < strings; place++) next[place] = order[weave.finalOrder[place]!]!;
      order = next;
    }
  }
}
