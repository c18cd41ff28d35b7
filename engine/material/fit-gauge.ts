/** The gauge of a maker's hand and cord, from swatches. */
import type { Gauge } from '../pattern/index.ts';
import { fitLeastSquares, type LinearFit } from './least-squares.ts';
import { checkSwatch, type Swatch, type SwatchError } from './swatch.ts';
import { GAUGE_FIELDS, type GaugeField, type GaugeValue, workingGauge } from './working-gauge.ts';

/**
 * What a ruler alone leaves open, in mm: half a millimetre at each measurement. Own choice, no source.
 */
export const READING_ERROR_MM = 0.5;

/** A value of the gauge in mm, and how sure it is. */
export interface FittedValue extends GaugeValue {
  /** Standard error from the scatter of the swatches; null for an estimate, and where there are no more measurements than unknowns. */
  readonly standardErrorMm: number | null;
  /** Standard error that reading a ruler to {@link READING_ERROR_MM} would give alone; null for an estimate. */
  readonly readingErrorMm: number | null;
  /** Measurements it rests on; 0 for an estimate. */
  readonly measurements: number;
}

/** A gauge with the doubt that is left about each of its values. */
export interface FittedGauge extends Readonly<Record<GaugeField, FittedValue>> {
  /** The measured values only, to be stored on the board. */
  readonly gauge: Gauge;
}

/** The gauge that fits the swatches best, or which field of which swatch is wrong. */
export type FitGaugeResult =
  | { readonly ok: true; readonly value: FittedGauge }
  | { readonly ok: false; readonly error: SwatchError };

/**
 * Cord diameter, row height and take-up from any number of swatches, by least squares (rules L3, L4):
 *
 * - width = strings x cordMm and height = rows x rowMm, each a line through the origin;
 * - string used - untied rows x rowMm = knotting x knottingMm + carrier x carrierMm. Where the measurements do not tell the two
 *   apart (one string, or all alike), carrierMm is estimated as the row height and knottingMm fitted alone; with carriers
 *   only, the other way round.
 *
 * What no swatch measures is estimated by the model of `workingGauge` and marked `estimate: true`.
 * Failures: see {@link SwatchError}; `contradictory` when the best fit is not above 0.
 * O(swatches).
 */
export function fitGauge(swatches: readonly Swatch[]): FitGaugeResult {
  for (const [index, swatch] of swatches.entries()) {
    const error = checkSwatch(swatch, `swatches[${index}]`);
    if (error !== null) return { ok: false, error };
  }
  const fitted = new Map<GaugeField, FittedValue>();
  fitLine(fitted, 'cordMm', swatches, (s) => pair(s.strings, s.widthMm));
  fitLine(fitted, 'rowMm', swatches, (s) => pair(s.rows, s.heightMm));
  const rowMm = workingGauge(measuredOnly(fitted)).rowMm.valueMm;
  fitTakeUp(fitted, swatches, rowMm);

  for (const [field, value] of fitted) {
    if (value.valueMm > 0) continue;
    const message = `the swatches contradict each other: together they give ${field} ${value.valueMm.toFixed(3)} mm, which must be above 0`;
    return { ok: false, error: { kind: 'contradictory', path: 'swatches', message } };
  }
  const gauge = measuredOnly(fitted);
  const whole = workingGauge(gauge);
  const value = (field: GaugeField): FittedValue =>
    fitted.get(field) ?? { ...whole[field], standardErrorMm: null, readingErrorMm: null, measurements: 0 };
  return {
    ok: true,
    value: {
      cordMm: value('cordMm'),
      rowMm: value('rowMm'),
      knottingMm: value('knottingMm'),
      carrierMm: value('carrierMm'),
      gauge,
    },
  };
}

function pair(x: number | undefined, y: number | undefined): readonly [number, number] | null {
  return x === undefined || y === undefined ? null : [x, y];
}

function fitLine(
  fitted: Map<GaugeField, FittedValue>,
  field: GaugeField,
  swatches: readonly Swatch[],
  read: (swatch: Swatch) => readonly [number, number] | null,
): void {
  const points = swatches.map(read).filter((point) => point !== null);
  const fit = fitLeastSquares(
    points.map(([x]) => [x]),
    points.map(([, y]) => y),
  );
  if (fit !== null) fitted.set(field, fittedValue(fit, 0, points.length));
}

/** A measured string: how often it was knotting string and carrier, and what the knots took of it. */
interface TakenUp {
  readonly knotting: number;
  readonly carrier: number;
  readonly usedMm: number;
}

function fitTakeUp(fitted: Map<GaugeField, FittedValue>, swatches: readonly Swatch[], rowMm: number): void {
  const strings = swatches.map((swatch) => takenUp(swatch, rowMm)).filter((string) => string !== null);
  const both = fitLeastSquares(
    strings.map(({ knotting, carrier }) => [knotting, carrier]),
    strings.map(({ usedMm }) => usedMm),
  );
  if (both !== null) {
    fitted.set('knottingMm', fittedValue(both, 0, strings.length));
    fitted.set('carrierMm', fittedValue(both, 1, strings.length));
    return;
  }
  const knotting = fitLeastSquares(
    strings.map((string) => [string.knotting]),
    strings.map(({ usedMm, carrier }) => usedMm - carrier * rowMm),
  );
  if (knotting !== null) {
    fitted.set('knottingMm', fittedValue(knotting, 0, strings.length));
    return;
  }
  const carrier = fitLeastSquares(
    strings.map((string) => [string.carrier]),
    strings.map(({ usedMm }) => usedMm),
  );
  if (carrier !== null) fitted.set('carrierMm', fittedValue(carrier, 0, strings.length));
}

function takenUp(swatch: Swatch, rowMm: number): TakenUp | null {
  const { cutMm, leftMm, knotting, carrier, rows } = swatch;
  if (cutMm === undefined || leftMm === undefined || knotting === undefined || carrier === undefined)
    return null;
  const untied = rows === undefined ? 0 : rows - knotting - carrier;
  return { knotting, carrier, usedMm: cutMm - leftMm - untied * rowMm };
}

function fittedValue(fit: LinearFit, index: number, measurements: number): FittedValue {
  const factor = Math.sqrt(fit.varianceFactors[index] as number);
  return {
    valueMm: fit.coefficients[index] as number,
    estimate: false,
    standardErrorMm: fit.residualDeviation === null ? null : fit.residualDeviation * factor,
    readingErrorMm: READING_ERROR_MM * factor,
    measurements,
  };
}

function measuredOnly(fitted: ReadonlyMap<GaugeField, FittedValue>): Gauge {
  const gauge: { -readonly [K in keyof Gauge]: Gauge[K] } = {};
  for (const field of GAUGE_FIELDS) {
    const value = fitted.get(field);
    if (value !== undefined) gauge[field] = value.valueMm;
  }
  return gauge;
}
