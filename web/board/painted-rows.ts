/**
 * What a canvas shows of the rows in sight, in numbers: comparing two of them finds the tiles that an edit changes.
 *
 * Compared is what can be seen (kinds of knots, colours), not what is stored: a carrier that changes its place inside a knot changes
 * no lozenge, and two strings of one colour may change places unseen. Lists of what changed would have to be kept and joined instead, since
 * an edit may exchange two strings down to the last row and several edits come between two frames. Only the latest model of a board is right.
 *
 * Tiles lie in board space: tile (tx, ty) holds the places from `tx * TILE_PLACES` and the rows from `ty * TILE_ROWS` on; those at the
 * edges hold all beyond them as well. Their edges are whole device pixels whatever the view.
 */
import type { BoardModel } from './board-model.ts';
import type { Strip } from './repaint.ts';
import type { Size, Viewport } from './viewport.ts';

export const TILE_PLACES = 8;
export const TILE_ROWS = 8;

/** Rows of a board, ends included. */
export interface RowsInSight {
  readonly from: number;
  readonly to: number;
}

/** Numbers for colours, the same for the same colour as long as the canvas lives. */
export class ColourNumbers {
  readonly #numbers = new Map<string, number>();

  of(hex: string): number {
    const known = this.#numbers.get(hex);
    if (known !== undefined) return known;
    this.#numbers.set(hex, this.#numbers.size + 1);
    return this.#numbers.size;
  }
}

export class PaintedRows {
  readonly #model: BoardModel;
  readonly #rows: RowsInSight;
  /** By row and knot: kind of knot + 8 x colour that shows; 0 where untied. */
  readonly #cells: Uint32Array;
  /** By row and place, the strings below the last row included: colour of a string that can be seen hanging there, else 0. */
  readonly #strings: Uint32Array;
  readonly #colours: Uint32Array;

  /** @param hasCarriers whether the look shows strings inside knots too. O(rows in sight x strings). */
  constructor(model: BoardModel, rows: RowsInSight, hasCarriers: boolean, numbers: ColourNumbers) {
    this.#model = model;
    this.#rows = rows;
    const { strings, start, weave, hexes } = model;
    const { knots } = model.board.pattern;
    const stride = strings >> 1;
    const count = Math.max(0, rows.to - rows.from + 1);
    const colours = Uint32Array.from(hexes, (hex) => numbers.of(hex));
    const cells = new Uint32Array(count * stride);
    const hanging = new Uint32Array((count + 1) * strings);
    for (let i = 0; i <= count; i++) {
      const row = rows.from + i;
      if (row > model.rows) break;
      const parity = (start + row) & 1;
      for (let place = 0; place < strings; place++) {
        const k = (place - parity) >> 1;
        const isPaired = row < model.rows && place >= parity && 2 * k + parity + 1 < strings;
        if (hasCarriers || !isPaired || knots[row * stride + k] === 0)
          hanging[i * strings + place] = colours[weave.orderFlat[row * strings + place] as number] as number;
      }
      if (i === count) break;
      for (let k = 0; k < stride; k++) {
        const knot = knots[row * stride + k] as number;
        if (knot !== 0)
          cells[i * stride + k] = knot + 8 * (colours[weave.shownFlat[row * stride + k] as number] as number);
      }
    }
    this.#cells = cells;
    this.#strings = hanging;
    this.#colours = colours;
  }

  /** Tiles that look otherwise now, as `ty * 256 + tx`; 'all' when the board has another size or other strings on its pegs. */
  changedTiles(now: PaintedRows): ReadonlySet<number> | 'all' {
    const { strings, rows, start, plan, isPlanning } = now.#model;
    const before = this.#model;
    if (before.strings !== strings || before.rows !== rows || before.start !== start) return 'all';
    if (before.plan !== plan || before.isPlanning !== isPlanning) return 'all';
    if (now.#colours.some((colour, i) => colour !== this.#colours[i])) return 'all';
    const stride = strings >> 1;
    const tiles = new Set<number>();
    const from = Math.max(this.#rows.from, now.#rows.from);
    const to = Math.min(this.#rows.to, now.#rows.to);
    for (let row = from; row <= to + 1; row++) {
      const [a, b] = [row - this.#rows.from, row - now.#rows.from];
      for (let place = 0; place < strings; place++)
        if (this.#strings[a * strings + place] !== now.#strings[b * strings + place])
          mark(tiles, row, place, place);
      if (row > to) break;
      const parity = (start + row) & 1;
      for (let k = 0; k < stride; k++)
        if (this.#cells[a * stride + k] !== now.#cells[b * stride + k])
          mark(tiles, row, 2 * k + parity, 2 * k + parity + 1);
    }
    return tiles;
  }
}

/** Notes the tiles that a knot or a hanging string reaches: two rows down, half a place and an edge to either side. */
function mark(tiles: Set<number>, row: number, fromPlace: number, toPlace: number): void {
  const last = Math.floor((row + 2) / TILE_ROWS);
  const right = Math.floor((toPlace + 1) / TILE_PLACES);
  for (let ty = Math.floor(row / TILE_ROWS); ty <= last; ty++)
    for (let tx = Math.max(0, Math.floor((fromPlace - 1) / TILE_PLACES)); tx <= right; tx++)
      tiles.add(ty * 256 + tx);
}

/** The tiles as strips of the canvas, those beside each other as one; what is out of sight is left out. */
export function stripsOfTiles(
  tiles: ReadonlySet<number>,
  { strings, rows }: Pick<BoardModel, 'strings' | 'rows'>,
  view: Viewport,
  size: Size,
): readonly Strip[] {
  const strips: Strip[] = [];
  const lastX = Math.floor((strings - 1) / TILE_PLACES);
  const lastY = Math.floor(rows / TILE_ROWS);
  const left = (tx: number): number => (tx <= 0 ? 0 : view.x + tx * TILE_PLACES * view.unit);
  const top = (ty: number): number => (ty <= 0 ? 0 : view.y + ty * TILE_ROWS * view.row);
  for (const tile of [...tiles].sort((a, b) => a - b)) {
    const [ty, tx] = [tile >> 8, tile & 255];
    if (tiles.has(tile - 1) && tx > 0) continue;
    let end = tx;
    while (tiles.has(ty * 256 + end + 1)) end++;
    const from = { x: Math.max(0, left(tx)), y: Math.max(0, top(ty)) };
    const width = Math.min(size.width, end >= lastX ? size.width : left(end + 1)) - from.x;
    const height = Math.min(size.height, ty >= lastY ? size.height : top(ty + 1)) - from.y;
    if (width > 0 && height > 0) strips.push({ left: from.x, top: from.y, width, height });
  }
  return strips;
}
