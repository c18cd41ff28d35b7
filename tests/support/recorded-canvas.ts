/** A canvas that draws nothing and lists what it was asked to draw, in order. */
import { vi } from 'vitest';

/** One thing drawn. */
export interface Drawn {
  readonly how: 'fill' | 'stroke' | 'rect' | 'text' | 'image';
  readonly colour: string;
  readonly text: string;
  /** Least and greatest x and y of its points, where the canvas was moved to included. */
  readonly box: readonly [left: number, top: number, right: number, bottom: number];
  readonly alpha: number;
  readonly dash: readonly number[];
  readonly width: number;
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
  bezierCurveTo(...xy: number[]): void {
    for (let i = 0; i < xy.length; i += 2) this.points.push([xy[i]!, xy[i + 1]!]);
  }
  arc(x: number, y: number, radius: number): void {
    this.points.push([x - radius, y - radius], [x + radius, y + radius]);
  }
  ellipse(x: number, y: number, wide: number, high: number): void {
    this.points.push([x - wide, y - high], [x + wide, y]);
  }
  roundRect(x: number, y: number, width: number, height: number): void {
    this.points.push([x, y], [x + width, y + height]);
  }
  addPath(path: RecordedPath): void {
    this.points.push(...path.points);
  }
  closePath(): void {}
}

class RecordedContext extends RecordedPath {
  readonly drawn: Drawn[] = [];
  fillStyle = '';
  strokeStyle = '';
  lineWidth = 1;
  globalAlpha = 1;
  font = '';
  #dash: readonly number[] = [];
  #moved: readonly [number, number] = [0, 0];
  readonly #saved: (readonly [number, number])[] = [];

  beginPath(): void {
    this.points.length = 0;
  }
  setLineDash(dash: readonly number[]): void {
    this.#dash = dash;
  }
  save(): void {
    this.#saved.push(this.#moved);
  }
  restore(): void {
    this.#moved = this.#saved.pop() ?? [0, 0];
  }
  translate(x: number, y: number): void {
    this.#moved = [this.#moved[0] + x, this.#moved[1] + y];
  }
  clip(): void {}
  clearRect(): void {
    this.drawn.length = 0;
  }
  measureText(text: string): { readonly width: number } {
    return { width: 6 * text.length };
  }
  fill(path: RecordedPath = this): void {
    this.#note('fill', this.fillStyle, path.points);
  }
  stroke(path: RecordedPath = this): void {
    this.#note('stroke', this.strokeStyle, path.points);
  }
  fillRect(x: number, y: number, width: number, height: number): void {
    this.#note('rect', this.fillStyle, [
      [x, y],
      [x + width, y + height],
    ]);
  }
  fillText(text: string, x: number, y: number): void {
    this.#note('text', this.fillStyle, [[x, y]], text);
  }
  drawImage(_: object, x: number, y: number, width: number, height: number): void {
    this.#note('image', '', [
      [x, y],
      [x + width, y + height],
    ]);
  }

  #note(how: Drawn['how'], colour: string, points: readonly (readonly [number, number])[], text = ''): void {
    const [dx, dy] = this.#moved;
    const xs = points.map(([x]) => x + dx);
    const ys = points.map(([, y]) => y + dy);
    this.drawn.push({
      how,
      colour,
      text,
      box: [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)],
      alpha: this.globalAlpha,
      dash: [...this.#dash],
      width: this.lineWidth,
    });
  }
}

/** What is drawn by `draw`. `vi.unstubAllGlobals` takes away what it needs of the browser. */
export function drawnBy(draw: (context: CanvasRenderingContext2D) => void): readonly Drawn[] {
  const context = new RecordedContext();
  vi.stubGlobal('Path2D', RecordedPath);
  vi.stubGlobal(
    'DOMMatrix',
    class {
      translate(): object {
        return this;
      }
    },
  );
  vi.stubGlobal(
    'OffscreenCanvas',
    class {
      getContext(): RecordedContext {
        return new RecordedContext();
      }
    },
  );
  draw(context as unknown as CanvasRenderingContext2D);
  return context.drawn;
}
