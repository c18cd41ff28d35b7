export type { Board, Colourway, EndKind, EndKnot, Gauge, PaletteColour, Piece, RingKind } from './board.ts';
export {
  BACKWARD,
  BACKWARD_FORWARD,
  type ColourId,
  FORWARD,
  FORWARD_BACKWARD,
  isCrossing,
  isLeftShown,
  KNOT_TOKENS,
  type KnotCode,
  type KnotToken,
  knotAt,
  knotsInRow,
  MAX_ROWS,
  MAX_STRINGS,
  MIN_STRINGS,
  NONE,
  type Pattern,
  rowParity,
  rowStride,
} from './pattern.ts';
export { codeOfToken, patternFromText, rowsAsText, tokensOf } from './text.ts';
