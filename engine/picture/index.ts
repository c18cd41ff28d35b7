/** Pure geometry of pictures: where knots lie, how they are drawn, how the finished band measures. */
export {
  type Block,
  type BoardPoint,
  blockOf,
  type Cell,
  cellOfPlace,
  cellsInBlock,
  cellsOnLine,
  cellToPoint,
  knotsIn,
  neighboursOf,
  placeOfCell,
  pointToCell,
  type Stagger,
  staggerOf,
} from './cells.ts';
export { glanceSvg } from './glance-svg.ts';
export { HITCH_STROKES } from './hitches.ts';
export { inkOn } from './ink.ts';
export { pictureSvg } from './picture-svg.ts';
export { type BandProportions, bandProportions, pieceRows } from './proportions.ts';
export { repeatRows } from './repeat-rows.ts';
export { type Curve, knotRibbons } from './ribbons.ts';
export { stringPath } from './string-path.ts';
export { TEXTURE_MARKS } from './texture-marks.ts';
