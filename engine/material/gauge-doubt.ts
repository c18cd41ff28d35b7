/** How sure a gauge is: the independent causes of error, and what each does to its four values. */
import type { Gauge } from '../pattern/index.ts';
import { FieldRangeError, requireNotNegative, requireWhole } from './field-error.ts';
import { GAUGE_FIELDS, type GaugeField, type ModelledGauge, modelGauge } from './gauge-model.ts';
import { errorsUnder, type PassedOn } from './pass-on.ts';
import type { ErrorSource } from './uncertainty.ts';

/**
 * How unevenly a hand ties, as a part of the value: taken where a thing was measured once, so that its scatter is not known. Own choice, no
 * source. It is thought sure to about a quarter of itself, which GUM G.4.2 counts as {@link HAND_FREEDOM} degrees of freedom.
 */
export const HAND_SHARE = 0.05;
const HAND_FREEDOM = 8;

/** What was fitted together, and so shares its degrees of freedom. */
export type Measured = 'cord' | 'row' | 'takeUp';

/** How sure a gauge is by what, or by a part of what, was measured. */
export interface MeasuredDoubt {
  /** In the order of {@link GAUGE_FIELDS}. */
  readonly sources: readonly ErrorSource[];
  /** Measured values whose error is not stated, by the path of the missing field; they count as exact in `sources`. */
  readonly unknown: readonly { readonly path: string; readonly effect: readonly number[] }[];
}

/** How sure the values of a gauge are. */
export interface GaugeDoubt extends MeasuredDoubt {
  /** Measured once, so that {@link HAND_SHARE} stands in for the scatter. */
  readonly assumed: readonly Measured[];
  /** Variance that each knot of a string adds by itself, in mm². */
  readonly knotVariance: number;
  readonly takeUpFreedom: number | null;
  /** What would be known with some of the measurements left out, of all of them but none; rule L42. */
  readonly without: readonly MeasuredDoubt[];
}

const ERROR_OF = {
  cordMm: 'cordErrorMm',
  rowMm: 'rowErrorMm',
  knottingMm: 'knottingErrorMm',
  carrierMm: 'carrierErrorMm',
} as const;
const CORRELATIONS = [
  'knottingCarrierCorrelation',
  'rowKnottingCorrelation',
  'rowCarrierCorrelation',
] as const;
const FREEDOMS = ['cordFreedom', 'rowFreedom', 'takeUpFreedom'] as const;

/**
 * The causes of error of a gauge (rules L17, L18): for what was measured its stated errors with their correlations, for the rest those of the
 * model beside what was measured, passed on to every value that follows from another. Errors beside values that are not set are not read, and
 * correlations that cannot stand together count as none.
 * @throws FieldRangeError when a given value is out of range, with the path `gauge.<field>`
 * O(1).
 */
export function gaugeDoubt(gauge: Gauge): GaugeDoubt {
  requireInRange(gauge);
  const model = modelGauge(gauge);
  const measured = GAUGE_FIELDS.filter((field) => gauge[field] !== undefined);
  const has = (field: GaugeField): boolean => measured.includes(field);
  const assumed: Measured[] = [];
  if (has('cordMm') && gauge.cordFreedom === 0) assumed.push('cord');
  if (has('rowMm') && gauge.rowFreedom === 0) assumed.push('row');
  if ((has('knottingMm') || has('carrierMm')) && gauge.takeUpFreedom === 0) assumed.push('takeUp');
  return {
    ...measuredDoubt(gauge, model, measured),
    assumed,
    knotVariance: has('knottingMm') || has('carrierMm') ? (gauge.knotScatterMm ?? 0) ** 2 : 0,
    takeUpFreedom: measuredOnce(gauge.takeUpFreedom).freedom,
    without: subsetsOf(measured)
      .filter(({ length }) => length < measured.length)
      .map((part) => measuredDoubt(gauge, model, part)),
  };
}

function subsetsOf(fields: readonly GaugeField[]): readonly (readonly GaugeField[])[] {
  return Array.from({ length: 1 << fields.length }, (_, bits) =>
    fields.filter((_, i) => ((bits >> i) & 1) === 1),
  );
}

/** How sure the values are if only these fields count as measured; the values stay as they are. */
function measuredDoubt(gauge: Gauge, model: ModelledGauge, measured: readonly GaugeField[]): MeasuredDoubt {
  const has = (field: GaugeField): boolean => measured.includes(field);
  const value = (field: GaugeField): number => model.valuesMm[GAUGE_FIELDS.indexOf(field)] as number;
  const cord = measuredOnce(gauge.cordFreedom);
  const row = measuredOnce(gauge.rowFreedom);
  const takeUp = measuredOnce(gauge.takeUpFreedom);
  const lines = errorsUnder(
    model,
    measured.filter((field) => field === 'cordMm' || field === 'rowMm'),
  );
  const all = errorsUnder(model, measured);
  const sources: ErrorSource[] = [];
  const add = (cause: string, freedom: number | null, effect: readonly number[]): void => {
    if (effect.some((part) => part !== 0)) sources.push({ cause, freedom, effect });
  };

  /** Everything that is wrong before a string was measured, and how much of it is in each measured line. */
  const before: Before[] = MODEL_CAUSES.map((cause, part) => ({
    cause,
    freedom: null,
    part,
    given: {},
  }));
  if (has('cordMm'))
    before.push({
      ...{ cause: 'cord', freedom: cord.freedom, part: null },
      given: { cordMm: cord.standard(gauge.cordErrorMm, value('cordMm')) },
    });
  if (has('rowMm'))
    before.push({
      ...{ cause: 'row', freedom: row.freedom, part: null },
      given: { rowMm: row.standard(gauge.rowErrorMm, value('rowMm')) },
    });
  const joint = jointTakeUp(
    gauge,
    has,
    before.map((one) => effectOf(lines, one)),
  );
  for (const one of before) {
    const effect = effectOf(lines, one);
    const given = { ...one.given };
    for (const [i, field] of (['knottingMm', 'carrierMm'] as const).entries())
      if (has(field))
        given[field] =
          (joint.perRow[i] as number) * (effect[1] as number) +
          (joint.perCarrier[i] as number) * (effect[3] as number);
    add(one.cause, one.freedom, effectOf(all, { ...one, given }));
  }
  for (const [knottingMm, carrierMm] of joint.rest)
    add('takeUp', takeUp.freedom, all.measurement({ knottingMm, carrierMm }));
  if (takeUp.isOnce)
    for (const field of ['knottingMm', 'carrierMm'] as const)
      if (has(field)) add('takeUp', takeUp.freedom, all.measurement({ [field]: HAND_SHARE * value(field) }));

  return {
    sources,
    unknown: measured
      .filter((field) => gauge[ERROR_OF[field]] === undefined)
      .map((field) => ({ path: `gauge.${ERROR_OF[field]}`, effect: all.measurement({ [field]: 1 }) })),
  };
}

/** The model's independent parts, in the order of {@link ModelledGauge}. */
const MODEL_CAUSES = ['cordModel', 'rowModel', 'threadModel', 'carrierModel'] as const;

interface Before {
  readonly cause: string;
  readonly freedom: number | null;
  /** Part of the model that it is one standard deviation of; null for a measurement's error. */
  readonly part: number | null;
  readonly given: Partial<Record<GaugeField, number>>;
}

function effectOf(passedOn: PassedOn, { part, given }: Before): readonly number[] {
  const measurement = passedOn.measurement(given);
  if (part === null) return measurement;
  return passedOn.model(part).map((value, i) => value + (measurement[i] as number));
}

function requireInRange(gauge: Gauge): void {
  for (const field of [...Object.values(ERROR_OF), 'knotScatterMm'] as const)
    requireNotNegative(`gauge.${field}`, gauge[field] ?? 0);
  for (const field of FREEDOMS) requireWhole(`gauge.${field}`, gauge[field] ?? 0, 0, Number.MAX_SAFE_INTEGER);
  for (const field of CORRELATIONS) {
    const value = gauge[field] ?? 0;
    if (!(value >= -1 && value <= 1))
      throw new FieldRangeError(`gauge.${field}`, { be: 'between', least: -1, most: 1 }, value);
  }
}

interface Reading {
  readonly isOnce: boolean;
  readonly freedom: number | null;
  /** Standard uncertainty of a value whose stated error is this. */
  readonly standard: (errorMm: number | undefined, valueMm: number) => number;
}

function measuredOnce(freedom: number | undefined): Reading {
  const isOnce = freedom === 0;
  return {
    isOnce,
    freedom: isOnce ? HAND_FREEDOM : (freedom ?? null),
    standard: (errorMm = 0, valueMm) => (isOnce ? Math.hypot(errorMm, HAND_SHARE * valueMm) : errorMm),
  };
}

/** The errors of both take-ups, parted by what causes them; of knotting and carrier. */
interface JointTakeUp {
  /** What each is off for each mm that the measured row height is off. */
  readonly perRow: readonly [number, number];
  /** What each is off for each mm that the estimate of the carrier was off when the string was measured. */
  readonly perCarrier: readonly [number, number];
  /** Independent of all other. */
  readonly rest: readonly (readonly [number, number])[];
}

/** @param before what each cause did to the values before a string was measured */
function jointTakeUp(
  gauge: Gauge,
  has: (field: GaugeField) => boolean,
  before: readonly (readonly number[])[],
): JointTakeUp {
  const knotting = has('knottingMm') ? (gauge.knottingErrorMm ?? 0) : 0;
  const carrier = has('carrierMm') ? (gauge.carrierErrorMm ?? 0) : 0;
  const shared = (i: number, j: number): number =>
    before.reduce((sum, effect) => sum + (effect[i] as number) * (effect[j] as number), 0);
  const row = has('rowMm') ? shared(1, 1) : 0;
  const rowKnotting = (gauge.rowKnottingCorrelation ?? 0) * knotting * Math.sqrt(row);
  const rowCarrier = (gauge.rowCarrierCorrelation ?? 0) * carrier * Math.sqrt(row);
  const together = gauge.knottingCarrierCorrelation ?? 0;
  const estimate = has('carrierMm') ? 0 : shared(3, 3);
  const withEstimate = together * knotting * Math.sqrt(estimate);
  const [rowSlope, estimateSlope] = slopesOn(
    [row, row === 0 ? 0 : shared(1, 3), estimate],
    [rowKnotting, withEstimate],
  );
  const carrierSlope = row === 0 ? 0 : rowCarrier / row;
  const rest = factor(
    knotting ** 2 - rowSlope * rowKnotting - estimateSlope * withEstimate,
    has('carrierMm') ? together * knotting * carrier - rowSlope * rowCarrier : 0,
    carrier ** 2 - carrierSlope * rowCarrier,
  );
  if (rest === null)
    return { perRow: [0, 0], perCarrier: [0, 0], rest: factor(knotting ** 2, 0, carrier ** 2) ?? [] };
  return { perRow: [rowSlope, carrierSlope], perCarrier: [estimateSlope, 0], rest };
}

/** What a value is off for each unit of two others, by their variances and covariance and by those of the value with them. */
function slopesOn(
  [first, both, second]: readonly [number, number, number],
  [withFirst, withSecond]: readonly [number, number],
): readonly [number, number] {
  if (first === 0 && second === 0) return [0, 0];
  if (first === 0) return [0, withSecond / second];
  if (second === 0) return [withFirst / first, 0];
  const determinant = first * second - both ** 2;
  // A carrier that follows from the row height altogether says no more than that does.
  if (determinant <= 1e-12 * first * second) return [withFirst / first, 0];
  return [
    (withFirst * second - withSecond * both) / determinant,
    (withSecond * first - withFirst * both) / determinant,
  ];
}

/** Independent errors of two values with these variances and this covariance; null when there are none. */
function factor(
  first: number,
  shared: number,
  second: number,
): readonly (readonly [number, number])[] | null {
  const slack = 1e-9;
  if (first < 0 || second < 0 || shared ** 2 > first * second * (1 + slack)) return null;
  const a = Math.sqrt(first);
  const b = a === 0 ? 0 : shared / a;
  return [
    [a, b],
    [0, Math.sqrt(Math.max(0, second - b * b))],
  ];
}
