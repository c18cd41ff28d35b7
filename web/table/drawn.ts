/**
 * What a teacher draws over the work and where she points, in places of the board: string and row, whatever a screen shows of it and whichever
 * way round. Decimals lie between strings and rows. What hangs from the ring has rows of its own, far above the band.
 */
import { nothing, type SVGTemplateResult, svg } from 'lit';

/** String and row; string 0 is the first from the left, row 0 the first of the piece. */
export type Spot = readonly [string: number, row: number];

export interface Drawn {
  /** Each strings and rows in turn. */
  readonly strokes: readonly (readonly number[])[];
  readonly pointer: Spot | null;
}

export const NOTHING_DRAWN: Drawn = { strokes: [], pointer: null };

/** How places of the board lie in a drawing: in units, from its upper left corner. */
export interface PlaceGrid {
  /** Where string 0 and row 0 are. */
  readonly x: number;
  readonly y: number;
  /** How far two strings, and two rows, are apart. */
  readonly string: number;
  readonly row: number;
}

/** Where a spot lies in a drawing. */
export function pointOf([string, row]: Spot, grid: PlaceGrid): readonly [x: number, y: number] {
  return [grid.x + string * grid.string, grid.y + row * grid.row];
}

/** The inverse of {@link pointOf}. */
export function spotOf(x: number, y: number, grid: PlaceGrid): Spot {
  return [(x - grid.x) / grid.string, (y - grid.y) / grid.row];
}

/** Strokes and pointer as they lie in a drawing, over all else in it. Rule R54. */
export function drawnOver({ strokes, pointer }: Drawn, grid: PlaceGrid): SVGTemplateResult | typeof nothing {
  if (strokes.length === 0 && pointer === null) return nothing;
  const pathOf = (stroke: readonly number[]): string =>
    Array.from({ length: stroke.length >> 1 }, (_, at) => {
      const [x, y] = pointOf([stroke[2 * at]!, stroke[2 * at + 1]!], grid);
      return `${at === 0 ? 'M' : 'L'}${x.toFixed(2)} ${y.toFixed(2)}`;
    }).join('');
  const paths = strokes.map(pathOf);
  const at = pointer === null ? null : pointOf(pointer, grid);
  const unit = grid.string;
  return svg`<g class="drawn" fill="none" stroke-linecap="round" stroke-linejoin="round">
    ${paths.map((path) => svg`<path d=${path} stroke="#fff" stroke-width=${0.44 * unit} /><path d=${path} stroke="#c2185b" stroke-width=${0.22 * unit} />`)}
    ${at === null ? nothing : svg`<circle class="pointer" cx=${at[0]} cy=${at[1]} r=${0.5 * unit} stroke="#fff" stroke-width=${0.3 * unit} /><circle cx=${at[0]} cy=${at[1]} r=${0.5 * unit} stroke="#c2185b" stroke-width=${0.16 * unit} />`}
  </g>`;
}

/**
 * The spot of a drawing at a point of the window; null outside of it.
 * @param group what the places lie in, as it is turned
 */
export function spotAtPoint(
  group: SVGGraphicsElement,
  clientX: number,
  clientY: number,
  grid: PlaceGrid,
): Spot | null {
  const box = group.ownerSVGElement?.getBoundingClientRect();
  const turned = group.getScreenCTM();
  if (box === undefined || turned === null) return null;
  const isIn = clientX >= box.left && clientX <= box.right && clientY >= box.top && clientY <= box.bottom;
  if (!isIn) return null;
  const { x, y } = new DOMPoint(clientX, clientY).matrixTransform(turned.inverse());
  return spotOf(x, y, grid);
}

/** A grid as it stands on what is drawn in it, to be read again. */
export function gridText({ x, y, string, row }: PlaceGrid): string {
  return `${x} ${y} ${string} ${row}`;
}

export function readGrid(text: string | null): PlaceGrid | null {
  const [x, y, string, row] = (text ?? '').split(' ').map(Number);
  const all = [x, y, string, row];
  return all.every((one) => one !== undefined && Number.isFinite(one))
    ? { x: x!, y: y!, string: string!, row: row! }
    : null;
}
