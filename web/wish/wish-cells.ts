/** What painting does to the cells of a wish, without a screen. */
import {
  type Block,
  type Cell,
  fitWish,
  knotsIn,
  neighboursOf,
  OPEN,
  type Pattern,
  rowStride,
  type Stagger,
  type Wish,
} from '../../engine/index.ts';
import { isInBlock, type KnotBlock, type Mirror, type TiedCell, withMirrored } from '../board/index.ts';

/** A cell with what is wanted there: index into the palette, or `OPEN`. */
export interface WantedCell extends Cell {
  readonly wanted: number;
}

export function staggerOfWish({ strings, start, rows }: Wish): Stagger {
  return { strings, start, rows: rows.length };
}

/** The wish with these cells; the same one where they were so already. O(rows + cells). */
export function withCells(wish: Wish, cells: readonly WantedCell[]): Wish {
  const rows = new Map<number, number[]>();
  for (const { row, k, wanted } of cells) {
    if ((rows.get(row) ?? wish.rows[row])?.[k] === wanted) continue;
    const changed = rows.get(row) ?? [...wish.rows[row]!];
    changed[k] = wanted;
    rows.set(row, changed);
  }
  return rows.size === 0 ? wish : { ...wish, rows: wish.rows.map((row, r) => rows.get(r) ?? row) };
}

/** The cells with those on the other side of a mirror, each once. */
export function mirroredCells(stagger: Stagger, mirror: Mirror, cells: readonly Cell[]): readonly Cell[] {
  // A colour looks the same in a mirror: no kind of knot is turned.
  return withMirrored(
    stagger,
    mirror,
    cells.map(({ row, k }) => ({ row, k, knot: 0 })),
  );
}

/** The cells that want the same and hang together with this one, edge by edge. O(cells). */
export function areaFrom(wish: Wish, at: Cell): readonly Cell[] {
  const stagger = staggerOfWish(wish);
  const wanted = wish.rows[at.row]?.[at.k];
  const seen = new Set([`${at.row}:${at.k}`]);
  const found: Cell[] = [at];
  for (let i = 0; i < found.length; i++)
    for (const next of neighboursOf(stagger, found[i]!)) {
      const key = `${next.row}:${next.k}`;
      if (seen.has(key) || wish.rows[next.row]![next.k] !== wanted) continue;
      seen.add(key);
      found.push(next);
    }
  return found;
}

/**
 * The wish in the place of knots, so that blocks of it are cut, moved and laid as blocks of knots are: what is wanted stands one higher than
 * in the palette, and 0 for open.
 */
export function asPattern({ strings, start, rows, palette }: Wish): Pattern {
  const stride = rowStride(strings);
  const knots = new Uint8Array(rows.length * stride);
  rows.forEach((row, r) => {
    row.forEach((wanted, k) => {
      knots[r * stride + k] = wanted + 1;
    });
  });
  return { colours: new Array<string>(strings).fill(palette[0]!.id), start, rows: rows.length, knots };
}

/** Cells of {@link asPattern} as they are wanted. */
export function asWanted(cells: readonly TiedCell[]): readonly WantedCell[] {
  return cells.map(({ row, k, knot }) => ({ row, k, wanted: (knot as number) - 1 }));
}

/** A block of a wish as text: palette ids, `-` for open, one line a row; every other line indented. */
export function wishBlockText({ indent, rows }: KnotBlock, { palette }: Wish): string {
  return rows
    .map((cells, i) => {
      const ids = cells.map((cell) => ((cell as number) === 0 ? '-' : palette[(cell as number) - 1]!.id));
      return `${(indent + i) & 1 ? '  ' : ''}${ids.join(' ')}`;
    })
    .join('\n');
}

/** Reads such a text; null where it names a colour that the palette has not, or nothing. */
export function readWishBlock(text: string, { palette }: Wish): KnotBlock | null {
  const lines = text.replace(/\r/g, '').split('\n');
  while (lines.at(-1)?.trim() === '') lines.pop();
  if (lines.length === 0) return null;
  const codes = new Map<string, number>(palette.map(({ id }, i) => [id, i + 1]));
  codes.set('-', 0);
  const rows = lines.map((line) =>
    (line.trim() === '' ? [] : line.trim().split(/\s+/)).map((id) => codes.get(id) ?? -1),
  );
  if (rows.flat().includes(-1)) return null;
  const indented = lines.findIndex((line) => /^\s/.test(line));
  return { indent: indented >= 0 && indented % 2 === 0 ? 1 : 0, rows: rows as KnotBlock['rows'] };
}

/** The wish of another palette in this one: the colour of the same id, else of the same hex; what has none is open. */
export function inPalette(wish: Wish, palette: Wish['palette']): Wish {
  const to = wish.palette.map(({ id, hex }) => {
    const same = palette.findIndex((colour) => colour.id === id);
    return same >= 0 ? same : palette.findIndex((colour) => colour.hex === hex);
  });
  return {
    ...wish,
    palette,
    rows: wish.rows.map((row) => row.map((cell) => (cell === OPEN ? OPEN : to[cell]!))),
  };
}

/** On so many rows more above it, in which nothing is wanted. */
export function belowRows(wish: Wish, newRows: number): Wish {
  if (newRows === 0) return wish;
  const { strings, rows } = wish;
  const start = ((wish.start + newRows) & 1) as 0 | 1;
  const open = fitWish({ ...wish, rows: [] }, { strings, start, rows: newRows });
  return { ...wish, start, rows: [...open.rows, ...rows] };
}

/** Cells of the wish that lie in a block; all where there is none. */
export function cellsWithin(wish: Wish, block: Block | null, cells: readonly Cell[]): readonly Cell[] {
  const stagger = staggerOfWish(wish);
  return cells.filter(
    (cell) =>
      cell.row >= 0 &&
      cell.k >= 0 &&
      cell.k < knotsIn(stagger, cell.row) &&
      (block === null || isInBlock(stagger, block, cell)),
  );
}

/** All cells of a wish. */
export function cellsOf({ rows }: Wish): readonly Cell[] {
  return rows.flatMap((cells, row) => cells.map((_, k) => ({ row, k })));
}

/** Whether all that is wanted in a block shows now. */
export function isShown(wish: Wish, now: Wish, block: Block | null): boolean {
  return cellsWithin(wish, block, cellsOf(wish)).every(({ row, k }) => {
    const wanted = wish.rows[row]![k]!;
    return wanted === OPEN || wanted === now.rows[row]![k];
  });
}
