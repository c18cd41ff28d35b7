/** A canvas that draws nothing and lists what it was asked to draw, in order. */
import { vi } from 'vitest';

/** Least and greatest x and y. */
export type Box = readonly [left: number, top: number, right: number, bottom: number];
type Point = readonly [x: number, y: number];

/** One thing drawn. */
export interface Drawn {
  readonly how: 'fill' | 'stroke' | 'rect' | 'text' | 'image';
  readonly colour: string;
  readonly text: string;
  /** That of its points, where the canvas was moved to included. */
  readonly box: Box;
  /** What its path goes through, its handles included. */
  readonly points: readonly Point[];
  readonly alpha: number;
  readonly dash: readonly number[];
  readonly width: number;
  readonly cap: string;
  /** What it is cut off by; null where by nothing. */
  readonly clip: Box | null;
  /** What the image shows that is copied. */
  readonly picture: readonly Drawn[];
}

function boxOf(points: readonly Point[]): Box {
  const [xs, ys] = [points.map(([x]) => x), points.map(([, y]) => y)];
  return [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)];
}

/** Points that a path goes through, its handles included. */
class RecordedPath {
  readonly points: [number, number][] = [];
  moveTo(x: number, y: number): void {
    this.points.push([x, y]);
  }
  lineTo(x: number, y: number): void {
    this.points.push([x, y]);
  }
  arcTo(x: number, y: number, toX: number, toY: number): void {
    this.points.push([x, y], [toX, toY]);
  }
  quadraticCurveTo(...xy: number[]): void {
    this.bezierCurveTo(...xy);
  }
  bezierCurveTo(...xy: number[]): void {
    for (let i = 0; i < xy.length; i += 2) this.points.push([xy[i]!, xy[i + 1]!]);
  }
  arc(x: number, y: number, radius: number): void {
    this.points.push([x - radius, y - radius], [x + radius, y + radius]);
  }
  /** A whole one, or its upper half. */
  ellipse(x: number, y: number, wide: number, high: number, _: number, from: number, to: number): void {
    const isWhole = Math.abs(to - from) > 6;
    this.points.push([x - wide, y - high], [x + wide, isWhole ? y + high : y]);
  }
  rect(x: number, y: number, width: number, height: number): void {
    this.points.push([x, y], [x + width, y + height]);
  }
  roundRect(x: number, y: number, width: number, height: number): void {
    this.rect(x, y, width, height);
  }
  addPath(path: RecordedPath): void {
    this.points.push(...path.points);
  }
  closePath(): void {}
}

/** What `save` keeps and `restore` brings back. */
interface State {
  fillStyle: string;
  strokeStyle: string;
  lineWidth: number;
  lineCap: string;
  globalAlpha: number;
  dash: readonly number[];
  clip: Box | null;
  scale: number;
  moved: Point;
}

const begun = (): State => ({
  fillStyle: '',
  strokeStyle: '',
  lineWidth: 1,
  lineCap: 'butt',
  globalAlpha: 1,
  dash: [],
  clip: null,
  scale: 1,
  moved: [0, 0],
});

class RecordedContext extends RecordedPath {
  readonly drawn: Drawn[] = [];
  font = '';
  #now = begun();
  readonly #saved: State[] = [];

  set fillStyle(colour: string) {
    this.#now.fillStyle = colour;
  }
  set strokeStyle(colour: string) {
    this.#now.strokeStyle = colour;
  }
  set lineWidth(width: number) {
    this.#now.lineWidth = width;
  }
  set lineCap(cap: string) {
    this.#now.lineCap = cap;
  }
  set globalAlpha(alpha: number) {
    this.#now.globalAlpha = alpha;
  }

  beginPath(): void {
    this.points.length = 0;
  }
  setLineDash(dash: readonly number[]): void {
    this.#now.dash = dash;
  }
  save(): void {
    this.#saved.push({ ...this.#now });
  }
  restore(): void {
    this.#now = this.#saved.pop() ?? begun();
  }
  translate(x: number, y: number): void {
    this.#now.moved = this.#seen([x, y]);
  }
  /** Of a scale that is the same either way. */
  setTransform(scale: number, _b: number, _c: number, _d: number, x: number, y: number): void {
    Object.assign(this.#now, { scale, moved: [x, y] });
  }
  clip(path: RecordedPath = this): void {
    this.#now.clip = boxOf(path.points.map((point) => this.#seen(point)));
  }
  clearRect(): void {
    this.drawn.length = 0;
  }
  measureText(text: string): { readonly width: number } {
    return { width: 6 * text.length };
  }
  fill(path: RecordedPath = this): void {
    this.#note('fill', this.#now.fillStyle, path.points);
  }
  stroke(path: RecordedPath = this): void {
    this.#note('stroke', this.#now.strokeStyle, path.points);
  }
  fillRect(x: number, y: number, width: number, height: number): void {
    this.#note('rect', this.#now.fillStyle, [
      [x, y],
      [x + width, y + height],
    ]);
  }
  fillText(text: string, x: number, y: number): void {
    this.#note('text', this.#now.fillStyle, [[x, y]], { text });
  }
  drawImage(image: object, x: number, y: number, width = 0, height = 0): void {
    const picture = image instanceof RecordedCanvas ? [...image.drawn] : [];
    this.#note(
      'image',
      '',
      [
        [x, y],
        [x + width, y + height],
      ],
      { picture },
    );
  }

  #seen([x, y]: Point): Point {
    const { scale, moved } = this.#now;
    return [moved[0] + scale * x, moved[1] + scale * y];
  }

  #note(how: Drawn['how'], colour: string, path: readonly Point[], more: Partial<Drawn> = {}): void {
    const points = path.map((point) => this.#seen(point));
    const { globalAlpha, dash, lineWidth, lineCap, clip } = this.#now;
    this.drawn.push({
      how,
      colour,
      text: '',
      box: boxOf(points),
      points,
      alpha: globalAlpha,
      dash: [...dash],
      width: lineWidth,
      cap: lineCap,
      clip,
      picture: [],
      ...more,
    });
  }
}

/** A canvas to be copied from. */
class RecordedCanvas {
  #width: number;
  height: number;
  #context = new RecordedContext();
  constructor(width: number, height: number) {
    this.#width = width;
    this.height = height;
  }
  get width(): number {
    return this.#width;
  }
  /** A canvas that is given its width is empty. */
  set width(width: number) {
    this.#width = width;
    this.#context = new RecordedContext();
  }
  get drawn(): readonly Drawn[] {
    return this.#context.drawn;
  }
  getContext(): RecordedContext {
    return this.#context;
  }
}

/** What was drawn on a canvas that came from `new OffscreenCanvas`. */
export function drawnOn(canvas: object): readonly Drawn[] {
  if (!(canvas instanceof RecordedCanvas)) throw new TypeError('that canvas records nothing');
  return canvas.drawn;
}

/** Puts what records in the place of the browser's canvas, until `vi.unstubAllGlobals`. */
export function stubCanvas(): void {
  vi.stubGlobal('Path2D', RecordedPath);
  vi.stubGlobal(
    'DOMMatrix',
    class {
      translate(): object {
        return this;
      }
    },
  );
  vi.stubGlobal('OffscreenCanvas', RecordedCanvas);
}

/** What is drawn by `draw`. `vi.unstubAllGlobals` takes away what it needs of the browser. */
export function drawnBy(draw: (context: CanvasRenderingContext2D) => void): readonly Drawn[] {
  const context = new RecordedContext();
  stubCanvas();
  draw(context as unknown as CanvasRenderingContext2D);
  return context.drawn;
}

/** One whose drawing area cannot be had, as where a browser has used up its memory for them. */
export function stubNoCanvas(): void {
  stubCanvas();
  vi.stubGlobal(
    'OffscreenCanvas',
    class {
      getContext(): null {
        return null;
      }
    },
  );
}
