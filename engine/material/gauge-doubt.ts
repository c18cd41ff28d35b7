/** How sure a gauge is: the independent causes of error, and what each does to its four values. */
import type { Gauge } from '../pattern/index.ts';
import { HITCH_PER_CORD, hitchLength } from './cord.ts';
import { FieldRangeError, requireNotNegative, requireWhole } from './field-error.ts';
import type { ErrorSource } from './uncertainty.ts';
import { GAUGE_FIELDS, type GaugeField, ROW_PER_CORD, workingGauge } from './working-gauge.ts';

/**
 * Standard uncertainties of the model that stands in where nothing was measured, as parts of the value; without limit of freedom. Own choice:
 * a rectangular distribution (GUM 4.3.7, half its width over √3) of ±25 % for a cord nobody measured and of ±20 % for each ratio of the model.
 * With them an end that knots as often as it carries takes 4.7 ± 1.2 times the finished length (19 cases of 20, the cord known); the
 * published rules lie inside: 4 to 5 times (Des Pawson, "Knot Craft", 2nd ed. 2009, p. 68), and 3.5 to 4 (makers' rule, no handbook found).
 */
export const PRIOR_SHARE = { cord: 0.25 / Math.sqrt(3), ratio: 0.2 / Math.sqrt(3) } as const;

/**
 * How unevenly a hand ties, as a part of the value: taken where a thing was measured once, so that its scatter is not known. Own choice, no
 * source. It is thought sure to about a quarter of itself, which GUM G.4.2 counts as {@link HAND_FREEDOM} degrees of freedom.
 */
export const HAND_SHARE = 0.05;
const HAND_FREEDOM = 8;

/** What was fitted together, and so shares its degrees of freedom. */
export type Measured = 'cord' | 'row' | 'takeUp';

/** How sure the four values of a gauge are. */
export interface GaugeDoubt {
  /** In the order of {@link GAUGE_FIELDS}. */
  readonly sources: readonly ErrorSource[];
  /** Measured values whose error is not stated, by the path of the missing field; they count as exact in `sources`. */
  readonly unknown: readonly { readonly path: string; readonly effect: readonly number[] }[];
  /** Measured once, so that {@link HAND_SHARE} stands in for the scatter. */
  readonly assumed: readonly Measured[];
  /** Variance that each knot of a string adds by itself, in mm². */
  readonly knotVariance: number;
  readonly takeUpFreedom: number | null;
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

type Four = Readonly<Record<GaugeField, number>>;
const NOTHING: Four = { cordMm: 0, rowMm: 0, knottingMm: 0, carrierMm: 0 };

/**
 * The causes of error of a gauge (rules L17, L18): for what was measured its stated errors with their correlations, for the rest those of the
 * model, passed on to every value that is estimated from another. Errors beside values that are not set are not read, and
 * correlations that cannot stand together count as none.
 * @throws FieldRangeError when a given value is out of range, with the path `gauge.<field>`
 * O(1).
 */
export function gaugeDoubt(gauge: Gauge): GaugeDoubt {
  requireInRange(gauge);
  const working = workingGauge(gauge);
  const has = (field: GaugeField): boolean => !working[field].estimate;
  const value = (field: GaugeField): number => working[field].valueMm;
  const assumed: Measured[] = [];
  const cord = measuredOnce(gauge.cordFreedom);
  const row = measuredOnce(gauge.rowFreedom);
  const takeUp = measuredOnce(gauge.takeUpFreedom);
  if (has('cordMm') && cord.isOnce) assumed.push('cord');
  if (has('rowMm') && row.isOnce) assumed.push('row');
  if ((has('knottingMm') || has('carrierMm')) && takeUp.isOnce) assumed.push('takeUp');

  const sources: ErrorSource[] = [];
  const spread = (given: Partial<Four>, ratios: Partial<Four> = {}): readonly number[] =>
    passOn(has, value, { ...NOTHING, ...given }, { ...NOTHING, ...ratios });
  const add = (cause: string, freedom: number | null, effect: readonly number[]): void => {
    if (effect.some((part) => part !== 0)) sources.push({ cause, freedom, effect });
  };

  if (has('cordMm'))
    add('cord', cord.freedom, spread({ cordMm: cord.standard(gauge.cordErrorMm, value('cordMm')) }));
  else if (!has('rowMm')) add('cordModel', null, spread({}, { cordMm: PRIOR_SHARE.cord }));
  const ratio = PRIOR_SHARE.ratio;
  if (!has('cordMm') || !has('rowMm')) add('rowModel', null, spread({}, { rowMm: ratio }));
  if (!has('knottingMm')) add('hitchModel', null, spread({}, { knottingMm: ratio }));

  const joint = jointTakeUp(gauge, has, value('carrierMm') * ratio);
  const rowStandard = row.standard(gauge.rowErrorMm, value('rowMm'));
  if (has('rowMm')) {
    const [knottingMm, carrierMm] = joint.perRow.map((slope) => slope * rowStandard) as [number, number];
    add('row', row.freedom, spread({ rowMm: rowStandard, knottingMm, carrierMm }));
  }
  if (!has('carrierMm'))
    add('carrierModel', null, spread({ knottingMm: joint.perCarrierModel }, { carrierMm: ratio }));
  for (const [knottingMm, carrierMm] of joint.rest)
    add('takeUp', takeUp.freedom, spread({ knottingMm, carrierMm }));
  if (takeUp.isOnce)
    for (const field of ['knottingMm', 'carrierMm'] as const)
      if (has(field)) add('takeUp', takeUp.freedom, spread({ [field]: HAND_SHARE * value(field) }));

  return {
    sources,
    unknown: GAUGE_FIELDS.filter((field) => has(field) && gauge[ERROR_OF[field]] === undefined).map(
      (field) => ({
        path: `gauge.${ERROR_OF[field]}`,
        effect: spread({ [field]: 1 }),
      }),
    ),
    assumed,
    knotVariance: has('knottingMm') || has('carrierMm') ? (gauge.knotScatterMm ?? 0) ** 2 : 0,
    takeUpFreedom: takeUp.freedom,
  };
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

/**
 * Errors of the four values that follow from errors of the measured ones and of the model's ratios, by the derivatives of
 * `workingGauge`. `ratios` are parts of the value that the model gives.
 */
function passOn(
  has: (field: GaugeField) => boolean,
  value: (field: GaugeField) => number,
  given: Four,
  ratios: Four,
): readonly number[] {
  const cordMm = has('cordMm')
    ? given.cordMm
    : has('rowMm')
      ? given.rowMm / ROW_PER_CORD - value('cordMm') * ratios.rowMm
      : value('cordMm') * ratios.cordMm;
  const rowMm = has('rowMm') ? given.rowMm : ROW_PER_CORD * cordMm + value('rowMm') * ratios.rowMm;
  const knottingMm = has('knottingMm')
    ? given.knottingMm
    : HITCH_PER_CORD * cordMm + rowMm + hitchLength(value('cordMm')) * ratios.knottingMm;
  const carrierMm = has('carrierMm') ? given.carrierMm : rowMm + value('carrierMm') * ratios.carrierMm;
  return [cordMm, rowMm, knottingMm, carrierMm];
}

/** The errors of both take-ups, parted by what causes them. */
interface JointTakeUp {
  /** What each, knotting and carrier, is off for each mm that the row height is off. */
  readonly perRow: readonly [number, number];
  /** What the knotting is off for one standard deviation of the carrier's estimate. */
  readonly perCarrierModel: number;
  /** Independent of all other, knotting and carrier. */
  readonly rest: readonly (readonly [number, number])[];
}

function jointTakeUp(gauge: Gauge, has: (field: GaugeField) => boolean, carrierModelMm: number): JointTakeUp {
  const knotting = has('knottingMm') ? (gauge.knottingErrorMm ?? 0) : 0;
  const carrier = has('carrierMm') ? (gauge.carrierErrorMm ?? 0) : 0;
  const row = has('rowMm') ? (gauge.rowErrorMm ?? 0) : 0;
  const rowKnotting = row === 0 ? 0 : (gauge.rowKnottingCorrelation ?? 0);
  const rowCarrier = row === 0 ? 0 : (gauge.rowCarrierCorrelation ?? 0);
  const together = gauge.knottingCarrierCorrelation ?? 0;
  const isModel = !has('carrierMm') && carrierModelMm > 0;
  const knottingRest = knotting ** 2 * (1 - rowKnotting ** 2 - (isModel ? together ** 2 : 0));
  const carrierRest = carrier ** 2 * (1 - rowCarrier ** 2);
  const shared = isModel ? 0 : knotting * carrier * (together - rowKnotting * rowCarrier);
  const rest = factor(knottingRest, shared, carrierRest);
  if (rest === null) {
    const alone = [knotting ** 2, carrier ** 2] as const;
    return { perRow: [0, 0], perCarrierModel: 0, rest: factor(alone[0], 0, alone[1]) ?? [] };
  }
  return {
    perRow: row === 0 ? [0, 0] : [(rowKnotting * knotting) / row, (rowCarrier * carrier) / row],
    perCarrierModel: isModel ? together * knotting : 0,
    rest,
  };
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
