/** Knots drawn once for each colour and kind at a scale, to be copied from then on: a copy costs a tenth of drawing. */
import { HITCH_STROKES, inkOn } from '../../engine/index.ts';
import { drawTexture } from './knot-texture.ts';

/** Below this many px from place to place strokes would be a blur. */
const STROKE_UNIT = 9;
const EDGE_UNIT = 6;
/** A palette of 200 colours needs 800; whoever slides through colours leaves one behind at each step. */
export const MOST_SPRITES = 1_000;
/** Canvases kept for another scale: as many as most boards need. */
const MOST_SPARE = 100;

/** A lozenge with its strokes, around the middle of its canvas. */
export class KnotSprites {
  readonly #sprites = new Map<string, OffscreenCanvas>();
  /** Canvases of another scale, to be drawn on anew: making one takes longer than drawing a knot. */
  #spare: OffscreenCanvas[] = [];
  #unit = 0;
  #row = 0;
  #ratio = 0;

  /** Sets the scale: CSS px of a place and of a row, device px of a CSS px. Another one forgets all knots. */
  scaleTo(unit: number, row: number, ratio: number): void {
    if (unit === this.#unit && row === this.#row && ratio === this.#ratio) return;
    this.#unit = unit;
    this.#row = row;
    this.#ratio = ratio;
    this.#spare = [...this.#sprites.values(), ...this.#spare].slice(0, MOST_SPARE);
    this.#sprites.clear();
  }

  /** Width and height of a knot's picture in CSS px. */
  get width(): number {
    return 2 * this.#unit + 2 / this.#ratio;
  }
  get height(): number {
    return 2 * this.#row + 2 / this.#ratio;
  }

  /** The picture of a knot of code 1 to 4 in a colour, with a texture where one is given. */
  of(hex: string, knot: number, texture = 0): OffscreenCanvas {
    const kind = this.#unit < STROKE_UNIT ? 1 : knot;
    const key = `${hex}${kind}${texture}`;
    let sprite = this.#sprites.get(key);
    if (sprite === undefined) {
      if (this.#sprites.size === MOST_SPRITES) this.#sprites.clear();
      sprite = this.#draw(hex, kind, texture);
      this.#sprites.set(key, sprite);
    }
    return sprite;
  }

  #draw(hex: string, knot: number, texture: number): OffscreenCanvas {
    const ratio = this.#ratio;
    const [width, height] = [Math.round(this.width * ratio), Math.round(this.height * ratio)];
    const sprite = this.#spare.pop() ?? new OffscreenCanvas(width, height);
    // Also where they are as they were: a canvas that is given its size is empty.
    Object.assign(sprite, { width, height });
    const context = sprite.getContext('2d');
    if (context === null) throw new Error('this browser gives no canvas to draw knots on');
    const unit = this.#unit * ratio;
    const row = this.#row * ratio;
    context.translate(sprite.width / 2, sprite.height / 2);
    const hasEdge = this.#unit >= EDGE_UNIT;
    const gap = hasEdge ? Math.max(0.5 * ratio, unit * 0.03) : -0.4;
    const path = roundedLozenge(unit - gap, row - gap * (row / unit), hasEdge ? unit * 0.16 : 0);
    context.fillStyle = hex;
    context.fill(path);
    const ink = inkOn(hex);
    if (texture > 0 && hasEdge) {
      context.save();
      context.clip(path);
      drawTexture(context, texture, hex, unit, row);
      context.restore();
    }
    if (hasEdge) {
      context.strokeStyle = ink;
      context.globalAlpha = 0.3;
      context.lineWidth = Math.max(ratio * 0.75, unit * 0.035);
      context.stroke(path);
    }
    if (this.#unit >= STROKE_UNIT) {
      context.globalAlpha = 0.9;
      context.strokeStyle = ink;
      context.lineCap = 'round';
      context.lineWidth = Math.max(ratio, unit * 0.11);
      context.beginPath();
      for (const [x0, y0, x1, y1] of HITCH_STROKES[knot] ?? []) {
        context.moveTo(x0 * unit, y0 * row);
        context.lineTo(x1 * unit, y1 * row);
      }
      context.stroke();
    }
    return sprite;
  }
}

/** A lozenge around (0, 0), `half` wide and `tall` high to each side, its corners rounded. */
export function roundedLozenge(half: number, tall: number, radius: number): Path2D {
  const path = new Path2D();
  path.moveTo(half / 2, -tall / 2);
  path.arcTo(half, 0, half / 2, tall / 2, radius * 0.6);
  path.arcTo(0, tall, -half / 2, tall / 2, radius);
  path.arcTo(-half, 0, -half / 2, -tall / 2, radius * 0.6);
  path.arcTo(0, -tall, half / 2, -tall / 2, radius);
  path.closePath();
  return path;
}
