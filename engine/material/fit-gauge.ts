/** The gauge of a maker's hand and cord, from swatches. */
import type { Gauge } from '../pattern/index.ts';
import { gaugeDoubt } from './gauge-doubt.ts';
import { GAUGE_FIELDS, type GaugeField } from './gauge-model.ts';
import { type GaugePatchValues, gaugePatch, takeUpErrors } from './gauge-patch.ts';
import { fitLeastSquares, type LinearFit } from './least-squares.ts';
import { checkSwatch, type Swatch, type SwatchError } from './swatch.ts';
import { type GaugeValue, workingGauge } from './working-gauge.ts';

/**
 * What a ruler alone leaves open, in mm: half a millimetre at each measurement. Own choice, no source.
 */
const READING_ERROR_MM = 0.5;

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
  /** The measured values only. */
  readonly gauge: Gauge;
  /**
   * What to store on the board: the measured values with how sure they are; null where a field that belongs to them has nothing to say. The two
   * take-ups come from one fit and are replaced together.
   */
  readonly patch: GaugePatchValues;
}

/** The gauge that fits the swatches best, or which field of which swatch is wrong. */
export type FitGaugeResult =
  | { readonly ok: true; readonly value: FittedGauge }
  | { readonly ok: false; readonly error: SwatchError };

/**
 * Width, row height and take-up from any number of swatches, by least squares (rules L3, L4):
 *
 * - width = strings x cordMm and height = (rows + 1) x rowMm, a knot being two rows high: each a line through the origin;
 * - string used - untied rows x rowMm = knotting x knottingMm + carrier x carrierMm. Where the measurements do not tell the two
 *   apart (one string, or all alike), carrierMm is estimated by the model and knottingMm fitted alone; with carriers only, the
 *   other way round.
 *
 * What no swatch measures is estimated by the model of `workingGauge` and marked `estimate: true`; what is taken off a measured string comes
 * from `known` before it is estimated.
 * @param known gauge of the board the swatches are for
 * Failures: see {@link SwatchError}; `contradictory` when the best fit is not above 0.
 * O(swatches).
 */
export function fitGauge(swatches: readonly Swatch[], known: Gauge = {}): FitGaugeResult {
  for (const [index, swatch] of swatches.entries()) {
    const error = checkSwatch(swatch, `swatches[${index}]`);
    if (error !== null) return { ok: false, error };
  }
  const fitted = new Map<GaugeField, FittedValue>();
  const cord = fitLine(fitted, 'cordMm', swatches, (s) => pair(s.strings, s.widthMm));
  const row = fitLine(fitted, 'rowMm', swatches, (s) =>
    pair(s.rows === undefined ? undefined : s.rows + 1, s.heightMm),
  );
  const settled = workingGauge({ ...onlyLines(known), ...measuredOnly(fitted) });
  const takeUp = fitTakeUp(fitted, swatches, settled.rowMm.valueMm, settled.carrierMm.valueMm);

  for (const [field, value] of fitted) {
    if (value.valueMm > 0) continue;
    const message = `the swatches contradict each other: together they give ${field} ${value.valueMm.toFixed(3)} mm, which must be above 0`;
    return { ok: false, error: { kind: 'contradictory', path: 'swatches', message } };
  }
  const gauge = measuredOnly(fitted);
  const whole = workingGauge({ ...threadOf(known), ...gauge });
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
      patch: gaugePatch(gauge, lineErrors(cord), lineErrors(row), (lines) =>
        errorsOf(takeUp, { ...known, ...lines }),
      ),
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
): LinearFit | null {
  const points = swatches.map(read).filter((point) => point !== null);
  const fit = fitLeastSquares(
    points.map(([x]) => [x]),
    points.map(([, y]) => y),
  );
  if (fit !== null) fitted.set(field, fittedValue(fit, 0, points.length));
  return fit;
}

/** A measured string: how often it was knotting string and carrier, and what the knots took of it. */
interface TakenUp {
  readonly knotting: number;
  readonly carrier: number;
  readonly untied: number;
  readonly usedMm: number;
}

/** How the take-ups were fitted, and to what. */
interface TakeUpFit {
  readonly strings: readonly TakenUp[];
  readonly fit: LinearFit;
  /** In the order of the fit's coefficients. */
  readonly fields: readonly ('knottingMm' | 'carrierMm')[];
}

function fitTakeUp(
  fitted: Map<GaugeField, FittedValue>,
  swatches: readonly Swatch[],
  rowMm: number,
  carrierMm: number,
): TakeUpFit | null {
  const strings = swatches.map((swatch) => takenUp(swatch, rowMm)).filter((string) => string !== null);
  const done = (fit: LinearFit, ...fields: readonly ('knottingMm' | 'carrierMm')[]): TakeUpFit => {
    for (const [i, field] of fields.entries()) fitted.set(field, fittedValue(fit, i, strings.length));
    return { strings, fit, fields };
  };
  const used = strings.map(({ usedMm }) => usedMm);
  const both = fitLeastSquares(counts(strings, 'knottingMm', 'carrierMm'), used);
  if (both !== null) return done(both, 'knottingMm', 'carrierMm');
  const knotting = fitLeastSquares(
    counts(strings, 'knottingMm'),
    strings.map(({ usedMm, carrier: carried }) => usedMm - carried * carrierMm),
  );
  if (knotting !== null) return done(knotting, 'knottingMm');
  const carrier = fitLeastSquares(counts(strings, 'carrierMm'), used);
  return carrier === null ? null : done(carrier, 'carrierMm');
}

function counts(
  strings: readonly TakenUp[],
  ...fields: readonly ('knottingMm' | 'carrierMm')[]
): readonly (readonly number[])[] {
  return strings.map((string) =>
    fields.map((field) => (field === 'knottingMm' ? string.knotting : string.carrier)),
  );
}

/** Variance of one measurement: its scatter, where that is told and not finer than the ruler, else the ruler's. */
function measurementVariance({ residualDeviation }: LinearFit): number {
  return Math.max(residualDeviation ?? 0, READING_ERROR_MM) ** 2;
}

function lineErrors(fit: LinearFit | null): { readonly errorMm: number; readonly freedom: number } | null {
  if (fit === null) return null;
  const factor = (fit.covarianceFactors[0] as readonly number[])[0] as number;
  return { errorMm: Math.sqrt(measurementVariance(fit) * factor), freedom: fit.degreesOfFreedom };
}

/** Errors of the take-ups: of the strings' own lengths, and of the row height and the carrier's estimate that were taken off them. */
function errorsOf(takeUp: TakeUpFit | null, lines: Gauge): ReturnType<typeof takeUpErrors> | null {
  if (takeUp === null) return null;
  const { strings, fit, fields } = takeUp;
  const isCarrierTaken = fields.length === 1 && fields[0] === 'knottingMm';
  const slope = (taken: (string: TakenUp) => number): readonly number[] =>
    fitLeastSquares(
      counts(strings, ...fields),
      strings.map((string) => -taken(string)),
    )?.coefficients ?? [];
  const knots = strings.reduce((sum, { knotting, carrier }) => sum + knotting + carrier, 0) / strings.length;
  return takeUpErrors({
    fields,
    covariance: fit.covarianceFactors.map((row) => row.map((factor) => factor * measurementVariance(fit))),
    freedom: fit.degreesOfFreedom,
    scatterMm: fit.residualDeviation === null ? null : fit.residualDeviation / Math.sqrt(knots),
    perRow: slope(({ untied }) => untied),
    perCarrier: isCarrierTaken ? slope(({ carrier }) => carrier) : fields.map(() => 0),
    lines: gaugeDoubt(onlyLines(lines)),
    isRowMeasured: lines.rowMm !== undefined,
  });
}

/** Which thread it is. */
function threadOf({ thread, threadMm }: Gauge): Gauge {
  return {
    ...(thread === undefined ? {} : { thread }),
    ...(threadMm === undefined ? {} : { threadMm }),
  };
}

/** Thread, width and height of a gauge, with how sure they are; a missing error of the width counts as measured once. */
function onlyLines(gauge: Gauge): Gauge {
  const { cordMm, cordErrorMm, cordFreedom, rowMm, rowErrorMm, rowFreedom } = gauge;
  return {
    ...threadOf(gauge),
    ...(cordMm === undefined ? {} : { cordMm, cordErrorMm: cordErrorMm ?? 0 }),
    ...(cordMm === undefined || (cordFreedom === undefined && cordErrorMm !== undefined)
      ? {}
      : { cordFreedom: cordErrorMm === undefined ? 0 : (cordFreedom as number) }),
    ...(rowMm === undefined ? {} : { rowMm }),
    ...(rowErrorMm === undefined ? {} : { rowErrorMm }),
    ...(rowFreedom === undefined ? {} : { rowFreedom }),
  };
}

function takenUp(swatch: Swatch, rowMm: number): TakenUp | null {
  const { cutMm, leftMm, knotting, carrier, rows } = swatch;
  if (cutMm === undefined || leftMm === undefined || knotting === undefined || carrier === undefined)
    return null;
  const untied = rows === undefined ? 0 : rows - knotting - carrier;
  return { knotting, carrier, untied, usedMm: cutMm - leftMm - untied * rowMm };
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
