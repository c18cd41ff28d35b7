export {
  type Allowances,
  allowancesOf,
  BAR_THICKNESS_MM,
  mountLength,
  SINGLE_TUCK_MM,
  SPARE_MM,
  spreadLength,
  TAIL_MM,
} from './allowances.ts';
export {
  cordDiameterFromTex,
  DEFAULT_CORD_MM,
  HITCH_PER_CORD,
  helixLength,
  hitchLength,
  texFromCottonCount,
  texFromSkein,
  turnLength,
} from './cord.ts';
export { type CostParts, DEFAULT_KNOTS_PER_MINUTE } from './cost.ts';
export {
  type ColourTotal,
  CUT_STEP_MM,
  type CutList,
  type CutWarning,
  cutListOf,
  type EndUse,
  type FoldCut,
  type LengthDoubt,
  MOST_SHORT_ONE_IN,
  type MountedStrings,
  needOf,
  type SingleCut,
} from './cut-list.ts';
export { type FieldDemand, FieldRangeError } from './field-error.ts';
export {
  type BarFit,
  type FitBarInput,
  fitBar,
  fitBoard,
  HARDWARE_SIZES,
  type HardwareSize,
  LOOSE_BELOW,
  RING_SHARE,
  RING_SIZES,
  type RingSize,
  TIGHT_FROM,
} from './fit-bar.ts';
export {
  type FitGaugeResult,
  type FittedGauge,
  type FittedValue,
  fitGauge,
  READING_ERROR_MM,
} from './fit-gauge.ts';
export {
  type GaugeDoubt,
  gaugeDoubt,
  HAND_FREEDOM,
  HAND_SHARE,
  type Measured,
  PRIOR_SHARE,
} from './gauge-doubt.ts';
export type { GaugePatchValues } from './gauge-patch.ts';
export { fitLeastSquares, type LinearFit } from './least-squares.ts';
export {
  chanceOfShort,
  doubtOf,
  type EndCounts,
  endSensitivity,
  marginMm,
  type Sensitivity,
  sumOf,
} from './need-doubt.ts';
export { MAX_REPEATS, type PieceSize, pieceSize } from './piece-rows.ts';
export { type CutListOptions, cutList } from './planned-cut-list.ts';
export { cordsAround, cordsInside } from './round-ring.ts';
export { type ShoppingList, shoppingList, type ThreadShare, type ThreadToBuy } from './shopping-list.ts';
export { countSkeins, type SkeinCount } from './skeins.ts';
export { studentQuantile, studentTail } from './student.ts';
export type { Swatch, SwatchError } from './swatch.ts';
export { type PieceRows, type TakeUp, takeUp } from './take-up.ts';
export {
  COVERAGE,
  type Doubt,
  type ErrorSource,
  effectiveFreedom,
  type OwnVariance,
  propagate,
  sourcesOf,
} from './uncertainty.ts';
export {
  cmToMm,
  doubtSkeinLength,
  formatInch,
  fromMm,
  inchToMm,
  type LengthUnit,
  mmToCm,
  mmToInch,
  mmToYard,
  type Rounding,
  roundUpMm,
  SKEIN_LABEL_YARDS,
  SKEIN_MM,
  toMm,
  yardToMm,
} from './units.ts';
export {
  GAUGE_FIELDS,
  type GaugeField,
  type GaugeValue,
  ROW_PER_CORD,
  type WorkingGauge,
  workingGauge,
} from './working-gauge.ts';
