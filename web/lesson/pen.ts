/** A teacher's pen over the work: what its moves are in places of the board, as strokes short enough to be sent while she draws. Knows no screen. */
import type { Drawn, Spot } from '../table/index.ts';

/** Points nearer than this, in strings and rows, are one. */
const NEAR = 0.12;
/** Points of a stroke that is sent; a longer line goes on in another one. */
const MOST_POINTS = 100;
/** A line that is being drawn is seen so soon. */
const PIECE_MS = 400;

export class Pen {
  readonly #draw: (stroke: readonly number[]) => void;
  #points: Spot[] | null = null;
  #begunAt = 0;

  /** @param draw is given each stroke, of two points at least */
  constructor(draw: (stroke: readonly number[]) => void) {
    this.#draw = draw;
  }

  get isDown(): boolean {
    return this.#points !== null;
  }

  down(at: Spot, now: number): void {
    this.#points = [at];
    this.#begunAt = now;
  }

  /** Where the pen goes on; null = off the work. */
  move(at: Spot | null, now: number): void {
    const points = this.#points;
    if (points === null || at === null) return;
    const [string, row] = points.at(-1)!;
    if (Math.max(Math.abs(at[0] - string), Math.abs(at[1] - row)) < NEAR) return;
    points.push(at);
    if (points.length < MOST_POINTS && now - this.#begunAt < PIECE_MS) return;
    this.#send(points);
    this.down(at, now);
  }

  /** The pen is lifted. A tap is a dot. */
  up(): void {
    const points = this.#points;
    this.#points = null;
    if (points === null) return;
    if (points.length === 1) points.push([points[0]![0] + NEAR, points[0]![1]]);
    this.#send(points);
  }

  #send(points: readonly Spot[]): void {
    if (points.length > 1) this.#draw(points.flat().map((one) => Math.round(one * 100) / 100));
  }
}

/** The same over the mirror image of a board. Twice: the same. Rule R54. */
export function mirrorDrawn({ strokes, pointer }: Drawn, strings: number): Drawn {
  return {
    strokes: strokes.map((stroke) => mirrorStroke(stroke, strings)),
    pointer: pointer === null ? null : mirrorSpot(pointer, strings),
  };
}

export function mirrorSpot([string, row]: Spot, strings: number): Spot {
  return [strings - 1 - string, row];
}

function mirrorStroke(stroke: readonly number[], strings: number): readonly number[] {
  return stroke.map((one, at) => (at % 2 === 0 ? strings - 1 - one : one));
}

/** Pieces of one line in one stroke again, as far as a stroke may be long. @param most numbers of a stroke */
export function joinStrokes(
  strokes: readonly (readonly number[])[],
  most: number,
): readonly (readonly number[])[] {
  const joined: number[][] = [];
  for (const stroke of strokes) {
    const last = joined.at(-1);
    const goesOn = last?.at(-2) === stroke[0] && last?.at(-1) === stroke[1];
    if (last !== undefined && goesOn && last.length + stroke.length - 2 <= most)
      last.push(...stroke.slice(2));
    else joined.push([...stroke]);
  }
  return joined;
}
