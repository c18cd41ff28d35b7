/** The board file as it stands on disk: plain JSON, open, ours. `engine/files/board-schema.ts` is its JSON Schema. */
import type { Board, Colourway, Gauge, PaletteColour, Piece, Supplies } from '../pattern/index.ts';
import { rowsAsText } from '../pattern/index.ts';
import { GAUGE_OF_1, GAUGE_SINCE_3, PIECE_SINCE_2, PIECE_SINCE_3, PIECE_SINCE_4 } from './limits.ts';

/** A board file as the value of its JSON. */
export interface BoardFile {
  readonly format: 'larkboard';
  /** The lowest that has a word for all that is said. */
  readonly version: 1 | 2 | 3 | 4;
  readonly title: string;
  readonly palette: readonly PaletteColour[];
  /** Palette id of each string at the top, left to right. */
  readonly strings: readonly string[];
  /** One text a row, one token a knot. */
  readonly rows: readonly string[];
  /** Place at which the first row's first knot begins. */
  readonly start: 0 | 1;
  readonly piece: Piece;
  readonly gauge: Gauge;
  readonly colourways: readonly Colourway[];
  readonly supplies?: Supplies;
}

/**
 * The board as a file's JSON value; `parseBoard` gives the same board back.
 * The lowest version that holds the board, so that older programs read all they can. O(knots). Rules P5 and P9 in engine/RULES.md.
 */
export function formatBoard(board: Board): BoardFile {
  return {
    format: 'larkboard',
    version: lowestVersion(board),
    title: board.title,
    palette: board.palette.map(({ id, name, hex }) => ({ id, name, hex })),
    strings: [...board.pattern.colours],
    rows: rowsAsText(board.pattern),
    start: board.pattern.start,
    piece: { ...board.piece },
    gauge: { ...board.gauge },
    colourways: board.colourways.map(({ id, name, maker, pieces, colours }) => ({
      id,
      name,
      ...(maker === undefined ? {} : { maker: { id: maker.id, name: maker.name } }),
      ...(pieces === undefined ? {} : { pieces }),
      colours: colours.map((colour) => ({ id: colour.id, name: colour.name, hex: colour.hex })),
    })),
    ...(board.supplies === undefined
      ? {}
      : {
          supplies: {
            threads: board.supplies.threads.map((thread) => ({ ...thread })),
            parts: board.supplies.parts.map((part) => ({ ...part })),
          },
        }),
  };
}

function lowestVersion(board: Board): BoardFile['version'] {
  if (PIECE_SINCE_4.some((field) => Object.hasOwn(board.piece, field))) return 4;
  return isOfVersion3(board) ? 3 : isOfVersion2(board) ? 2 : 1;
}

function isOfVersion3({ piece, gauge, colourways, supplies }: Board): boolean {
  return (
    supplies !== undefined ||
    PIECE_SINCE_3.some((field) => Object.hasOwn(piece, field)) ||
    GAUGE_SINCE_3.some((field) => Object.hasOwn(gauge, field)) ||
    colourways.some(({ pieces }) => pieces !== undefined)
  );
}

function isOfVersion2({ piece, gauge, colourways }: Board): boolean {
  return (
    PIECE_SINCE_2.some((field) => Object.hasOwn(piece, field)) ||
    Object.keys(gauge).some((field) => !GAUGE_OF_1.includes(field)) ||
    colourways.some(({ maker }) => maker !== undefined)
  );
}
