/** What sets one beginning apart from another, measured on their boards. */
import { type FriezeSymmetries, symmetry } from '../symmetry/index.ts';
import { type Board, knotsInRow, rowParity, rowStride } from '../pattern/index.ts';
import { weave } from '../weave/index.ts';

/** What is measured of a board. */
interface Measured {
  /** Rows of one repeat. */
  readonly rows: number;
  readonly colours: number;
  /** Untied pairs of one repeat. */
  readonly open: number;
  /** Of two knots that touch, the share that show different colours. */
  readonly busy: number;
  readonly band: FriezeSymmetries;
}

/** One thing that is different, with what was measured of the first and of the second. */
export type StartDifference =
  | { readonly what: 'longer' | 'shorter'; readonly from: number; readonly to: number }
  | { readonly what: 'more-colours' | 'fewer-colours'; readonly from: number; readonly to: number }
  | { readonly what: 'more-open' | 'less-open'; readonly from: number; readonly to: number }
  | { readonly what: 'finer' | 'bolder'; readonly from: number; readonly to: number }
  | { readonly what: 'mirrored' | 'upside-down-alike' };

/** Least change of busy neighbours that is called finer or bolder. Own choice. */
const FINER = 0.05;

function measured(board: Board): Measured {
  const { pattern } = board;
  const strings = pattern.colours.length;
  const stride = rowStride(strings);
  const { shownFlat } = weave(pattern);
  const colourAt = (row: number, place: number): string | null => {
    const k = (place - rowParity(pattern.start, row)) / 2;
    if (k < 0 || k >= knotsInRow(strings, rowParity(pattern.start, row))) return null;
    const string = shownFlat[row * stride + k]!;
    return string < 0 ? null : pattern.colours[string]!;
  };
  let [pairs, unlike, open] = [0, 0, 0];
  for (let row = 0; row < pattern.rows; row++)
    for (let place = rowParity(pattern.start, row); place + 1 < strings; place += 2) {
      const here = colourAt(row, place);
      if (here === null) open++;
      if (row + 1 === pattern.rows) continue;
      for (const side of [-1, 1]) {
        const below = colourAt(row + 1, place + side);
        if (here === null || below === null) continue;
        pairs++;
        if (here !== below) unlike++;
      }
    }
  return {
    rows: pattern.rows,
    colours: new Set(pattern.colours).size,
    open,
    busy: pairs === 0 ? 0 : unlike / pairs,
    band: symmetry(pattern).band,
  };
}

/** What is different, the plainest first; empty where nothing that is measured is. Rule J32. */
export function startDifferences(first: Board, second: Board): readonly StartDifference[] {
  const [a, b] = [measured(first), measured(second)];
  const found: StartDifference[] = [];
  if (a.colours !== b.colours)
    found.push({
      what: b.colours > a.colours ? 'more-colours' : 'fewer-colours',
      from: a.colours,
      to: b.colours,
    });
  if (a.rows !== b.rows)
    found.push({ what: b.rows > a.rows ? 'longer' : 'shorter', from: a.rows, to: b.rows });
  if (a.open !== b.open)
    found.push({ what: b.open > a.open ? 'more-open' : 'less-open', from: a.open, to: b.open });
  if (Math.abs(a.busy - b.busy) >= FINER)
    found.push({ what: b.busy > a.busy ? 'finer' : 'bolder', from: a.busy, to: b.busy });
  if (b.band.leftRight && !a.band.leftRight) found.push({ what: 'mirrored' });
  if (b.band.upsideDown && !a.band.upsideDown) found.push({ what: 'upside-down-alike' });
  return found;
}
