export { endKnotOf, headKnotOf, isHung } from './begin.ts';
export type {
  BeginKind,
  Board,
  Colourway,
  ColourwayMaker,
  EndKind,
  EndKnot,
  Gauge,
  PaletteColour,
  PartKind,
  PartSupply,
  Piece,
  RingKind,
  Supplies,
  ThreadSupply,
} from './board.ts';
export { type DressedColour, dressBoard, isOfAnother, paletteIn, threadsIn } from './colourway.ts';
export { type Demand, demandMessage, demandOfText, showName, showValue } from './demand.ts';
export {
  assertPattern,
  BACKWARD,
  BACKWARD_FORWARD,
  type ColourId,
  FORWARD,
  FORWARD_BACKWARD,
  type Half,
  isCrossing,
  isLeftShown,
  KNOT_TOKENS,
  type KnotCode,
  type KnotToken,
  knotsInRow,
  MAX_ROWS,
  MAX_STRINGS,
  MIN_STRINGS,
  NONE,
  type Pattern,
  rowParity,
  rowStride,
  shapeFault,
  sizeFault,
} from './pattern.ts';
export { PLAIN_TEXT_PATTERN, plainText } from './plain-text.ts';
export { codeOfToken, patternFromText, rowsAsText, tokensOf } from './text.ts';
export {
  closeRepeat,
  cropPattern,
  MIRRORED_KNOT,
  mirrorPattern,
  REVERSED_KNOT,
  reversePattern,
  shiftStart,
  tilePattern,
} from './transforms.ts';
