export { allowancesOf, SINGLE_TUCK_MM, SPARE_MM, TAIL_MM } from './allowances.ts';
export {
  type CutList,
  cutListOf,
  type FoldCut,
  type LengthDoubt,
  needOf,
  type SingleCut,
} from './cut-list.ts';
export { FieldRangeError } from './field-error.ts';
export { type BarFit, fitBar, fitBoard } from './fit-bar.ts';
export { type FittedGauge, type FittedValue, fitGauge } from './fit-gauge.ts';
export { gaugeDoubt } from './gauge-doubt.ts';
export { type GaugeField, THREAD_PER_WIDTH } from './gauge-model.ts';
export { headOf, LOOP_MM, usualHeadMm } from './head.ts';
export type { GaugePatchValues } from './gauge-patch.ts';
export { doubtOf } from './need-doubt.ts';
export { DEFAULT_KNOTS_PER_MINUTE, minutesOf } from './minutes.ts';
export type { PartToBuy } from './parts.ts';
export { type PieceSize, type PieceStops, pieceSize, pieceStops } from './piece-rows.ts';
export { cutList } from './planned-cut-list.ts';
export type { Price, Priced } from './price.ts';
export type { ThreadName } from './same-thread.ts';
export {
  lotOf,
  piecesIn,
  type ShoppingList,
  shoppingList,
  type ThreadToBuy,
} from './shopping-list.ts';
export type { Swatch, SwatchError } from './swatch.ts';
export type { Doubt } from './uncertainty.ts';
export { formatInch, fromMm, inchToMm, mmToInch, SKEIN_MM, toMm } from './units.ts';
export { rowPerWidth, workingGauge } from './working-gauge.ts';
