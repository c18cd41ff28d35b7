/** One finished keychain as a picture, as large as its box, drawn when it comes into sight. Not spoken: what it hangs on says it. */
import { css, html, LitElement, type TemplateResult } from 'lit';
import { property, query } from 'lit/decorators.js';
import { CordSprites } from '../board/cord-sprites.ts';
import { type BandSide, drawFinished, layoutWhole } from '../board/draw-finished.ts';
import type { FinishedModel } from '../board/finished-model.ts';
import { readTheme } from '../board/theme.ts';

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
  #resize: ResizeObserver | null = null;
  #sight: IntersectionObserver | null = null;
  #isSeen = false;
  #frame = 0;
  #sprites: CordSprites | null = null;

  override connectedCallback(): void {
    super.connectedCallback();
    this.#resize = new ResizeObserver(() => this.#later());
    this.#resize.observe(this);
    this.#sight = new IntersectionObserver(
      (entries) => {
        this.#isSeen = entries.at(-1)?.isIntersecting ?? false;
        this.#later();
      },
      { rootMargin: '200px' },
    );
    this.#sight.observe(this);
  }

  override disconnectedCallback(): void {
    this.#resize?.disconnect();
    this.#sight?.disconnect();
    cancelAnimationFrame(this.#frame);
    this.#frame = 0;
    super.disconnectedCallback();
  }

  protected override render(): TemplateResult {
    return html`<canvas aria-hidden="true"></canvas>`;
  }

  protected override updated(): void {
    this.#later();
  }

  #later(): void {
    if (!this.#isSeen || this.#frame !== 0) return;
    this.#frame = requestAnimationFrame(() => {
      this.#frame = 0;
      this.#draw();
    });
  }

  #draw(): void {
    const { model, canvas } = this;
    const { width, height } = this.getBoundingClientRect();
    if (model === null || width === 0 || height === 0) return;
    const ratio = devicePixelRatio;
    canvas.width = Math.round(width * ratio);
    canvas.height = Math.round(height * ratio);
    const context = canvas.getContext('2d');
    if (context === null) throw new Error('this browser gives no canvas to draw the keychain on');
    const layout = layoutWhole(model, width, height);
    this.toggleAttribute('cut', layout.height > height + 1);
    if (this.#sprites?.isFor(layout.unit, layout.row, ratio) !== true)
      this.#sprites = new CordSprites(layout.unit, layout.row, ratio);
    context.setTransform(ratio, 0, 0, ratio, 0, 0);
    drawFinished(context, model, layout, this.side, readTheme(this), this.#sprites, 0, height);
  }
}
