/** Knots of the finished look: two turns of shaded cord, lying as the half hitches do. Drawn once a colour and kind. */
import { shade, strokeCord } from './cord.ts';
import { MOST_SPRITES } from './knot-sprites.ts';
import { textureAlong } from './knot-texture.ts';

/** Middle lines of the two turns by knot code, in cord diameters around the knot's middle. */
const TURNS: readonly (readonly (readonly [number, number, number, number])[])[] = [
  [],
  [
    [-0.72, -0.3, -0.1, 0.52],
    [0.1, -0.52, 0.72, 0.3],
  ],
  [
    [0.1, 0.52, 0.72, -0.3],
    [-0.72, 0.3, -0.1, -0.52],
  ],
  [
    [-0.44, -0.62, 0.5, -0.26],
    [0.5, 0.26, -0.44, 0.62],
  ],
  [
    [0.44, -0.62, -0.5, -0.26],
    [-0.5, 0.26, 0.44, 0.62],
  ],
];

export class CordSprites {
  readonly #sprites = new Map<string, OffscreenCanvas>();
  readonly #unit: number;
  readonly #row: number;
  readonly #ratio: number;

  /** @param unit px of a cord diameter; @param row px of a row; @param ratio device px of a CSS px */
  constructor(unit: number, row: number, ratio: number) {
    this.#unit = unit;
    this.#row = row;
    this.#ratio = ratio;
  }

  isFor(unit: number, row: number, ratio: number): boolean {
    return unit === this.#unit && row === this.#row && ratio === this.#ratio;
  }

  /** Width and height of a knot's picture in CSS px; the knot lies in its middle. */
  get width(): number {
    return Math.ceil(3 * this.#unit * this.#ratio) / this.#ratio;
  }
  get height(): number {
    return Math.ceil((3 * this.#row * this.#ratio) / Math.sqrt(3)) / this.#ratio + 2;
  }

  of(hex: string, knot: number, texture = 0): OffscreenCanvas {
    const key = `${hex}${knot}${texture}`;
    let sprite = this.#sprites.get(key);
    if (sprite === undefined) {
      if (this.#sprites.size === MOST_SPRITES) this.#sprites.clear();
      sprite = this.#draw(hex, knot, texture);
      this.#sprites.set(key, sprite);
    }
    return sprite;
  }

  #draw(hex: string, knot: number, texture: number): OffscreenCanvas {
    const sprite = new OffscreenCanvas(
      Math.round(this.width * this.#ratio),
      Math.round(this.height * this.#ratio),
    );
    const context = sprite.getContext('2d') as unknown as CanvasRenderingContext2D | null;
    if (context === null) throw new Error('this browser gives no canvas to draw knots on');
    const unit = this.#unit * this.#ratio;
    // A knot is two cords wide and, in close packing, two cords high; the maker's gauge may stretch it.
    const tall = (this.#row * this.#ratio) / Math.sqrt(3);
    context.translate(sprite.width / 2, sprite.height / 2);
    context.fillStyle = shade(hex, -0.5);
    context.beginPath();
    context.ellipse(0, 0, unit * 1.12, tall * 1.16, 0, 0, 2 * Math.PI);
    context.fill();
    for (const [x0, y0, x1, y1] of TURNS[knot] ?? []) {
      const path = new Path2D();
      path.moveTo(x0 * unit, y0 * tall);
      path.lineTo(x1 * unit, y1 * tall);
      strokeCord(context, path, hex, unit * 0.98);
      if (texture > 0) textureAlong(context, path, texture, hex, unit * 0.9);
      else if (unit >= 9) this.#drawTwist(context, [x0, y0, x1, y1], hex, unit, tall);
    }
    return sprite;
  }

  /** The plies of the cord as fine slanting lines across a turn. */
  #drawTwist(
    context: CanvasRenderingContext2D,
    [x0, y0, x1, y1]: readonly [number, number, number, number],
    hex: string,
    unit: number,
    tall: number,
  ): void {
    context.strokeStyle = shade(hex, -0.3);
    context.globalAlpha = 0.5;
    context.lineWidth = Math.max(0.6, unit * 0.05);
    context.beginPath();
    const [dx, dy] = [(x1 - x0) * unit, (y1 - y0) * tall];
    const length = Math.hypot(dx, dy);
    const [ux, uy] = [dx / length, dy / length];
    const half = unit * 0.3;
    for (let at = -0.1; at <= 1.1; at += 0.3) {
      const [x, y] = [x0 * unit + dx * at, y0 * tall + dy * at];
      context.moveTo(x + uy * half - ux * half * 0.5, y - ux * half - uy * half * 0.5);
      context.lineTo(x - uy * half + ux * half * 0.5, y + ux * half + uy * half * 0.5);
    }
    context.stroke();
    context.globalAlpha = 1;
  }
}
