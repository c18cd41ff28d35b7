/**
 * A fitted gauge with its errors, as the fields that a board keeps. Each error is a field of its own: kept as one value, of two people who
 * measure the width and the string at once one would lose all. Boards without them read as unknown, never as exact.
 */
import type { Gauge } from '../pattern/index.ts';
import type { GaugeDoubt } from './gauge-doubt.ts';

/** Fields of a gauge to set; null takes one back. Which thread it is is said and not measured. */
export type GaugePatchValues = { readonly [K in Exclude<keyof Gauge, 'thread'>]?: number | null };

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
  /** How sure width and height are, and so what is estimated from them. */
  readonly lines: GaugeDoubt;
  readonly isRowMeasured: boolean;
}

type TakeUpFields = Required<
  Pick<
    { [K in keyof GaugePatchValues]: number | null },
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
  const { fields, covariance, perRow, perCarrier, lines } = basis;
  /** What each cause of the lines' errors does to the row height, the carrier's estimate and the two take-ups. */
  const passedOn = lines.sources.map(({ effect }) => {
    const [, row, , estimate] = effect as [number, number, number, number];
    const off = (field: TakeUpField): number => {
      const at = fields.indexOf(field);
      return at === -1 ? 0 : (perRow[at] as number) * row + (perCarrier[at] as number) * estimate;
    };
    return { row, estimate, knottingMm: off('knottingMm'), carrierMm: off('carrierMm') };
  });
  const together = (one: keyof PassedOnError, two: keyof PassedOnError): number =>
    passedOn.reduce((sum, error) => sum + error[one] * error[two], 0);
  const shared = (one: TakeUpField, two: TakeUpField): number =>
    (fields.includes(one) && fields.includes(two)
      ? ((covariance[fields.indexOf(one)] as readonly number[])[fields.indexOf(two)] as number)
      : 0) + together(one, two);
  const knotting = Math.sqrt(shared('knottingMm', 'knottingMm'));
  const carrier = Math.sqrt(shared('carrierMm', 'carrierMm'));
  const row = Math.sqrt(together('row', 'row'));
  const { isRowMeasured } = basis;
  return {
    knottingErrorMm: fields.includes('knottingMm') ? knotting : null,
    carrierErrorMm: fields.includes('carrierMm') ? carrier : null,
    takeUpFreedom: basis.freedom,
    knotScatterMm: basis.scatterMm,
    knottingCarrierCorrelation:
      fields.length === 2
        ? correlation(shared('knottingMm', 'carrierMm'), knotting * carrier)
        : correlation(
            together('knottingMm', 'estimate'),
            knotting * Math.sqrt(together('estimate', 'estimate')),
          ),
    rowKnottingCorrelation: isRowMeasured ? correlation(together('knottingMm', 'row'), knotting * row) : null,
    rowCarrierCorrelation: isRowMeasured ? correlation(together('carrierMm', 'row'), carrier * row) : null,
  };
}

type TakeUpField = 'knottingMm' | 'carrierMm';

/** What one cause does, in mm. */
interface PassedOnError extends Readonly<Record<TakeUpField, number>> {
  readonly row: number;
  readonly estimate: number;
}

/** Covariance over the standard deviations, kept inside what rounding would leave; null for none. */
function correlation(covariance: number, deviations: number): number | null {
  if (deviations === 0 || covariance === 0) return null;
  return Math.max(-1, Math.min(1, covariance / deviations));
}
