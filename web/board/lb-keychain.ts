/** One finished keychain as a picture, as large as its box, drawn when it comes into sight. Not spoken: what it hangs on says it. */
import { css, html, LitElement, type TemplateResult } from 'lit';
import { property, query } from 'lit/decorators.js';
import { CordSprites } from './cord-sprites.ts';
import { type BandSide, drawFinished, layoutWhole } from './draw-finished.ts';
import type { FinishedModel } from './finished-model.ts';
import { clearCanvas, FrameDrawing } from './frame-drawing.ts';
import { readTheme } from './theme.ts';

export class LbKeychain extends LitElement {
  static override styles = css`
    :host {
      display: block;
      overflow: hidden;
      min-width: 0;
    }
    canvas {
      display: block;
      width: 100%;
      height: 100%;
    }
    /* A band too long for its box goes on below. */
    :host([cut]) canvas {
      mask-image: linear-gradient(#000 80%, transparent);
    }
  `;

  @property({ attribute: false }) model: FinishedModel | null = null;
  @property({ attribute: false }) side: BandSide = 'front';
  @query('canvas') private canvas!: HTMLCanvasElement;
  readonly #drawing = new FrameDrawing(this, () => this.#draw());
  #sight: IntersectionObserver | null = null;
  #isSeen = false;
  #sprites: CordSprites | null = null;

  override connectedCallback(): void {
    super.connectedCallback();
    this.#sight = new IntersectionObserver(
      (entries) => {
        this.#isSeen = entries.at(-1)?.isIntersecting ?? false;
        this.#drawing.later();
      },
      { rootMargin: '200px' },
    );
    this.#sight.observe(this);
  }

  override disconnectedCallback(): void {
    this.#sight?.disconnect();
    super.disconnectedCallback();
  }

  protected override render(): TemplateResult {
    return html`<canvas aria-hidden="true"></canvas>`;
  }

  #draw(): void {
    const { model, canvas } = this;
    const { width, height } = this.getBoundingClientRect();
    if (!this.#isSeen || model === null || width === 0 || height === 0) return;
    const ratio = devicePixelRatio;
    const context = clearCanvas(canvas, width, height);
    const layout = layoutWhole(model, width, height);
    this.toggleAttribute('cut', layout.height > height + 1);
    if (this.#sprites?.isFor(layout.unit, layout.row, ratio) !== true)
      this.#sprites = new CordSprites(layout.unit, layout.row, ratio);
    drawFinished(context, model, layout, this.side, readTheme(this), this.#sprites, 0, height);
  }
}
