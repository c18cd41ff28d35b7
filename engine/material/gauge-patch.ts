/**
 * A fitted gauge with its errors, as the fields that a board keeps. Each error is a field of its own: kept as one value, of two people who
 * measure the width and the string at once one would lose all. Boards without them read as unknown, never as exact.
 */
import type { Gauge } from '../pattern/index.ts';
import type { GaugeDoubt } from './gauge-doubt.ts';
import { propagate } from './uncertainty.ts';

/** Fields of a gauge to set; null takes one back. */
export type GaugePatchValues = { readonly [K in keyof Gauge]?: number | null };

type Mutable = { -readonly [K in keyof GaugePatchValues]: GaugePatchValues[K] };

interface LineErrors {
  readonly errorMm: number;
  readonly freedom: number;
}

/**
 * All fields that belong to what was measured (rule L19): whoever sets a value sets or takes back its error, its freedom and its
 * correlations too, so that no error is ever read beside a value it was not found with.
 */
export function gaugePatch(
  gauge: Gauge,
  cord: LineErrors | null,
  row: LineErrors | null,
  takeUp: (lines: Gauge) => TakeUpFields | null,
): GaugePatchValues {
  const patch: Mutable = {};
  const lines: Mutable = {};
  if (cord !== null) {
    patch.cordMm = gauge.cordMm as number;
    patch.cordErrorMm = cord.errorMm;
    patch.cordFreedom = cord.freedom;
  }
  if (row !== null) {
    patch.rowMm = gauge.rowMm as number;
    patch.rowErrorMm = row.errorMm;
    patch.rowFreedom = row.freedom;
    patch.rowKnottingCorrelation = null;
    patch.rowCarrierCorrelation = null;
  }
  Object.assign(lines, patch);
  delete lines.rowKnottingCorrelation;
  delete lines.rowCarrierCorrelation;
  const errors = takeUp(lines as Gauge);
  if (errors !== null) {
    patch.knottingMm = gauge.knottingMm ?? null;
    patch.carrierMm = gauge.carrierMm ?? null;
    Object.assign(patch, errors);
  }
  return patch;
}

/** What a fit of take-ups rests on; lists in the order of `fields`. */
export interface TakeUpBasis {
  readonly fields: readonly ('knottingMm' | 'carrierMm')[];
  /** Of the fit alone, in mm². */
  readonly covariance: readonly (readonly number[])[];
  readonly freedom: number;
  /** Standard deviation from knot to knot, in mm; null where nothing tells it. */
  readonly scatterMm: number | null;
  /** What each is off for each mm that the row height taken off was off, and for each mm that the carrier's estimate was. */
  readonly perRow: readonly number[];
  readonly perCarrier: readonly number[];
  /** How sure width and height are. */
  readonly lines: GaugeDoubt;
  /** Stated error of the row height; null when it is an estimate. */
  readonly rowErrorMm: number | null;
}

type TakeUpFields = Required<
  Pick<
    { [K in keyof Gauge]: number | null },
    | 'knottingErrorMm'
    | 'carrierErrorMm'
    | 'takeUpFreedom'
    | 'knotScatterMm'
    | 'knottingCarrierCorrelation'
    | 'rowKnottingCorrelation'
    | 'rowCarrierCorrelation'
  >
>;

/** Errors of the take-ups with those of the row height and of the carrier's estimate passed on to them. */
export function takeUpErrors(basis: TakeUpBasis): TakeUpFields {
  const { fields, covariance, perRow, perCarrier, rowErrorMm } = basis;
  const row = rowErrorMm ?? propagate([0, 1, 0, 0], basis.lines.sources).standardMm;
  const carrier = carrierEstimateError(basis.lines);
  const at = (list: readonly number[], field: 'knottingMm' | 'carrierMm'): number =>
    fields.includes(field) ? (list[fields.indexOf(field)] as number) : 0;
  const shared = (one: 'knottingMm' | 'carrierMm', two: 'knottingMm' | 'carrierMm'): number =>
    (fields.includes(one) && fields.includes(two)
      ? ((covariance[fields.indexOf(one)] as readonly number[])[fields.indexOf(two)] as number)
      : 0) +
    at(perRow, one) * at(perRow, two) * row ** 2 +
    at(perCarrier, one) * at(perCarrier, two) * carrier ** 2;
  const knotting = Math.sqrt(shared('knottingMm', 'knottingMm'));
  const both = Math.sqrt(shared('carrierMm', 'carrierMm'));
  const isBoth = fields.length === 2;
  const isMeasured = rowErrorMm !== null;
  return {
    knottingErrorMm: fields.includes('knottingMm') ? knotting : null,
    carrierErrorMm: fields.includes('carrierMm') ? both : null,
    takeUpFreedom: basis.freedom,
    knotScatterMm: basis.scatterMm,
    knottingCarrierCorrelation: correlation(
      isBoth ? shared('knottingMm', 'carrierMm') : at(perCarrier, 'knottingMm') * carrier,
      knotting * (isBoth ? both : 1),
    ),
    rowKnottingCorrelation: isMeasured ? correlation(at(perRow, 'knottingMm') * row, knotting) : null,
    rowCarrierCorrelation: isMeasured ? correlation(at(perRow, 'carrierMm') * row, both) : null,
  };
}

/** What the carrier's estimate is off beyond the row height. */
function carrierEstimateError({ sources }: GaugeDoubt): number {
  const source = sources.find(({ cause }) => cause === 'carrierModel');
  return source === undefined ? 0 : (source.effect[3] as number);
}

/** Covariance over the standard deviations, kept inside what rounding would leave; null for none. */
function correlation(covariance: number, deviations: number): number | null {
  if (deviations === 0 || covariance === 0) return null;
  return Math.max(-1, Math.min(1, covariance / deviations));
}
