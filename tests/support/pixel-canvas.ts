/** A canvas whose pixels can be read, and a board drawn in blocks: what is drawn in parts is compared with all drawn at once. */
import type { BoardModel } from '../../web/board/board-model.ts';
import type { Painter, Scene } from '../../web/board/painter.ts';
import type { Strip } from '../../web/board/repaint.ts';
import { THEME } from './scene.ts';

export const SIZE = { width: 140, height: 120 };
/** Half seen: what lies below it darkens, as where the soft edge of a line is drawn. */
const SHADOW = ' darker';

/** A canvas of pixels, each one word; it fills rectangles within a rectangle, and copies another moved. */
export class PixelCanvas {
  readonly width = SIZE.width;
  readonly height = SIZE.height;
  readonly pixels: string[] = Array(SIZE.width * SIZE.height).fill('empty');
  readonly asked: unknown[] = [];
  fillStyle = '';
  globalCompositeOperation = 'source-over';
  imageSmoothingEnabled = true;
  #path = [0, 0, 0, 0];
  #clip = [0, 0, SIZE.width, SIZE.height];

  getContext(...asked: unknown[]): PixelCanvas {
    this.asked.push(...asked);
    return this;
  }
  save(): void {}
  restore(): void {
    this.#clip = [0, 0, SIZE.width, SIZE.height];
    this.globalCompositeOperation = 'source-over';
  }
  setTransform(): void {}
  beginPath(): void {}
  rect(x: number, y: number, width: number, height: number): void {
    this.#path = [x, y, x + width, y + height];
  }
  clip(): void {
    this.#clip = this.#path;
  }
  fillRect(x: number, y: number, width: number, height: number): void {
    const [left, top, right, bottom] = this.#clip as [number, number, number, number];
    for (let py = Math.max(y, top, 0); py < Math.min(y + height, bottom, SIZE.height); py++)
      for (let px = Math.max(x, left, 0); px < Math.min(x + width, right, SIZE.width); px++)
        if (this.fillStyle === SHADOW) this.pixels[py * SIZE.width + px] += SHADOW;
        else this.pixels[py * SIZE.width + px] = this.fillStyle;
  }
  /** Scaled as the nearest pixel says, where a size is given. */
  drawImage(from: PixelCanvas, dx: number, dy: number, width = from.width, height = from.height): void {
    // A browser gives one that is drawn onto itself new memory each time.
    if (from === this) throw new Error('the canvas is drawn onto itself');
    const before = [...from.pixels];
    // What lies where nothing is copied to is gone, by this way of putting one over the other alone.
    if (this.globalCompositeOperation === 'copy') this.pixels.fill('empty');
    for (let y = Math.max(0, Math.round(dy)); y < Math.min(SIZE.height, Math.round(dy + height)); y++)
      for (let x = Math.max(0, Math.round(dx)); x < Math.min(SIZE.width, Math.round(dx + width)); x++) {
        const fromX = Math.min(from.width - 1, Math.floor(((x + 0.5 - dx) * from.width) / width));
        const fromY = Math.min(from.height - 1, Math.floor(((y + 0.5 - dy) * from.height) / height));
        this.pixels[y * SIZE.width + x] = before[fromY * SIZE.width + fromX]!;
      }
  }
}

/** Draws all of the board, whatever the strip: what is not cut off is darkened twice. */
export class BlockPainter implements Painter {
  readonly rowPerPlace = 1;
  readonly hasCarriers: boolean;
  readonly #look: string;
  constructor(hasCarriers: boolean, look = 'plain') {
    this.hasCarriers = hasCarriers;
    this.#look = look;
  }
  paint(context: CanvasRenderingContext2D, { model, view }: Scene, _: Strip): void {
    const { strings, rows, start, weave, hexes } = model;
    const { knots } = model.board.pattern;
    const stride = strings >> 1;
    for (let row = 0; row <= rows; row++) {
      const parity = (start + row) & 1;
      for (let place = 0; place < strings; place++) {
        const k = (place - parity) >> 1;
        const isPaired = row < rows && place >= parity && 2 * k + parity + 1 < strings;
        if (!this.hasCarriers && isPaired && knots[row * stride + k] !== 0) continue;
        context.fillStyle = hexes[weave.orderFlat[row * strings + place]!]!;
        context.fillRect(view.x + place * view.unit, view.y + row * view.row, 2, 2 * view.row);
      }
    }
    for (let row = 0; row < rows; row++)
      for (let place = (start + row) & 1; place + 1 < strings; place += 2) {
        const at = row * stride + (place >> 1);
        if (knots[at] === 0) continue;
        context.fillStyle = `${hexes[weave.shownFlat[at]!]} ${knots[at]}`;
        context.fillRect(
          view.x + (place - 0.5) * view.unit,
          view.y + row * view.row,
          2 * view.unit,
          2 * view.row,
        );
      }
    context.fillStyle = `${this.#look} head ${model.plan?.folds.length ?? model.isPlanning}`;
    context.fillRect(view.x, view.y - 8, strings * view.unit, 8);
    context.fillStyle = SHADOW;
    context.fillRect(0, 0, SIZE.width, SIZE.height);
  }
}

export const sceneOf = (model: BoardModel, more: Partial<Scene> = {}): Scene => ({
  model,
  view: { unit: 4, row: 4, x: 20, y: 16 },
  theme: THEME,
  ratio: 1,
  textures: null,
  isFolded: false,
  ...more,
});
