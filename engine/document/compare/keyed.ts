/**
 * A design with the ids of everything in it, hidden halves included, as plain data: what two designs are compared by.
 *
 * Layout of `knots`: byte `i * stringPairIds.length + j` holds the knots of row pair `i` at string pair `j`, inside in
 * the low half, seam in the high half.
 */
import * as Y from 'yjs';
import {
  type Board,
  type ColourId,
  type KnotCode,
  knotsInRow,
  type Pattern,
  rowParity,
  rowStride,
} from '../../pattern/index.ts';
import { DesignReader } from '../read-design.ts';
import { KnotReader } from '../read-knots.ts';
import type { Shape } from '../read-lists.ts';
import { type Generation, type Half, type Roots, scoped } from '../schema.ts';
import { packKnots } from '../write-board.ts';

/** Which halves at the edges are hidden. */
export interface Ends {
  readonly firstHidden: boolean;
  readonly lastHidden: boolean;
  readonly loneString: boolean;
}

/** A design at one moment with all ids. Immutable; made by {@link readKeyed}. */
export interface KeyedDesign {
  /** Id of the pattern: where it differs, every row, string and knot is another. */
  readonly patternId: string;
  /** What is shown. */
  readonly board: Board;
  readonly rowPairIds: readonly string[];
  readonly stringPairIds: readonly string[];
  readonly ends: Ends;
  /** Colour of each string, two for each pair. */
  readonly ofPairs: readonly ColourId[];
  /** Laid out as described at the top of this file. */
  readonly knots: Uint8Array;
  /** What replaced each colour that was removed. */
  readonly instead: Readonly<Record<ColourId, ColourId>>;
}

/** What a keyed design is gathered from. */
export interface KeyedSource {
  readonly roots: Roots;
  readonly generation: Generation;
  readonly shape: Shape;
  readonly colours: { readonly ofPairs: readonly ColourId[] };
  readonly board: Board;
}

/**
 * Reads a design with its ids.
 * @returns null when the document holds no board or is of a newer version
 * O(document). Rule D130.
 */
export function readKeyed(doc: Y.Doc): KeyedDesign | null {
  const reader = new DesignReader(doc);
  if (reader.state.kind !== 'ready') return null;
  const { roots, generation, shape, colours, snapshot } = reader;
  return keyedFrom({ roots, generation, shape, colours, board: snapshot.board });
}

/**
 * The same from a document's encoded state, as records keep it.
 * @returns null when the document holds no board or is of a newer version
 * @throws Error when the bytes are no update
 */
export function readKeyedUpdate(bytes: Uint8Array): KeyedDesign | null {
  const doc = new Y.Doc();
  Y.applyUpdate(doc, bytes);
  const keyed = readKeyed(doc);
  doc.destroy();
  return keyed;
}

/** The keyed design of a document that was read already. O(document). */
export function keyedFrom({ roots, generation, shape, colours, board }: KeyedSource): KeyedDesign {
  const { rowPairIds, stringPairIds, firstHidden, lastHidden, loneString } = shape;
  const instead: Record<string, string> = {};
  const before = scoped(generation.board, '');
  roots.palette.forEach((value, key) => {
    if (key.startsWith(before) && key.endsWith(':instead') && typeof value === 'string')
      instead[key.slice(before.length, -':instead'.length)] = value;
  });
  return {
    patternId: generation.pattern,
    board,
    rowPairIds,
    stringPairIds,
    ends: { firstHidden, lastHidden, loneString },
    ofPairs: colours.ofPairs,
    knots: readWhole(roots.knots, generation.pattern, shape),
    instead,
  };
}

/** All knots under the pairs of a shape, hidden ones too, packed. O(keys + knots). */
export function readWhole(map: Y.Map<unknown>, pattern: string, shape: Shape): Uint8Array {
  const rowPairs = shape.rowPairIds.length;
  const stringPairs = shape.stringPairIds.length;
  // One string more than there are: the seam behind the last pair may hold knots of a pair that stood there.
  const whole: Shape = { ...shape, start: 0, rows: rowPairs * 2, strings: stringPairs * 2 + 1 };
  const { cells } = new KnotReader(map, pattern, whole);
  const colours: string[] = new Array(whole.strings).fill('');
  return packKnots({ colours, start: 0, rows: whole.rows, knots: cells }, rowPairs, stringPairs);
}

/** The pattern as shown: what hidden ends leave of the pairs. */
export function shownPattern(keyed: Omit<KeyedDesign, 'board'>): Pattern {
  const { ends, rowPairIds, stringPairIds, ofPairs, knots } = keyed;
  const start = ends.firstHidden ? 1 : 0;
  const rows = Math.max(0, rowPairIds.length * 2 - start - (ends.lastHidden ? 1 : 0));
  const strings = stringPairIds.length * 2 - (ends.loneString ? 1 : 0);
  const stride = rowStride(strings);
  const shown = new Uint8Array(rows * stride);
  for (let row = 0; row < rows; row++) {
    const parity = rowParity(start, row);
    const from = ((row + start) >> 1) * stringPairIds.length;
    for (let k = 0; k < knotsInRow(strings, parity); k++)
      shown[row * stride + k] = halfOf(knots[from + k]!, parity === 0 ? 'inside' : 'seam');
  }
  return { colours: ofPairs.slice(0, strings), start, rows, knots: shown };
}

/** One of the two knots in a byte of {@link KeyedDesign.knots}. */
export function halfOf(byte: number, half: Half): KnotCode {
  return (half === 'inside' ? byte & 15 : byte >> 4) as KnotCode;
}

/** Whether the knot of row pair `i` at string pair `j` is shown. */
export function isShown(keyed: KeyedDesign, i: number, j: number, half: Half): boolean {
  const { rows, start, colours } = keyed.board.pattern;
  const parity = half === 'inside' ? 0 : 1;
  const row = i * 2 + parity - start;
  return row >= 0 && row < rows && j < knotsInRow(colours.length, parity);
}
