/**
 * The one model of how a thread works up: what is expected of it before anything is measured, and what that says of one value once another
 * is known. Everything is in logarithms, in which the model is normal: width w of the band for a string, and three ratios, all independent.
 *
 * A row is h = (h/w) w high. A step goes one string sideways and one row down, s = √(w² + h²), since every string of a knot does. The
 * knotting string winds round the carrier in two turns of the wound thread d and makes the step, 12.7245 d + s; the carrier makes the
 * step alone, give or take what its ratio says.
 */
import type { Gauge } from '../pattern/index.ts';
import { DEFAULT_CORD_MM, HITCH_PER_CORD } from './cord.ts';
import { requirePositive } from './field-error.ts';
import { invert, type Matrix, multiply, transpose } from './small-matrix.ts';

/** The values of a gauge that can be measured; all in mm. */
export type GaugeField = 'cordMm' | 'rowMm' | 'knottingMm' | 'carrierMm';

export const GAUGE_FIELDS: readonly GaugeField[] = ['cordMm', 'rowMm', 'knottingMm', 'carrierMm'];

/**
 * Row height per width. Dillmont's figs. 595 and 596 give a knot one square of checked paper, so that diagonals lie near 45°; a row is 1.0
 * to 1.3 times as high as a string is wide (common practice, no source).
 */
export const ROW_PER_WIDTH = 1.15;

/**
 * Wound thread per width: the thread lies closer in a turn than strings lie side by side. Chosen so that the mean end takes 4.0 to 4.4 times the
 * band from 8 to 24 strings (Des Pawson, "Knot Craft", 2nd ed. 2009, p. 68: 4 to 5 times, about 9 times when doubled).
 */
export const THREAD_PER_WIDTH = 0.58;

/**
 * Standard deviations of the logarithms, nearly parts of the value. Own choice: with them 95 of 100 mean ends take 3.5 to 5.2 times the band,
 * within which the published rules lie (3.5 to 4, a makers' rule, to 5, Pawson).
 */
export const MODEL_SPREAD = {
  width: 0.09,
  rowPerWidth: 0.07,
  threadPerWidth: 0.11,
  carrierPerStep: 0.05,
} as const;

/** Spread of the width of a thread of which nothing is said. Own choice. */
const UNKNOWN_WIDTH_SPREAD = 0.25;

/** Rounds after which a width that fits what was measured is there, or is not. */
const MOST_ROUNDS = 60;

/** A gauge as the model sees it. */
export interface ModelledGauge {
  /** In mm, in the order of {@link GAUGE_FIELDS}. */
  readonly valuesMm: readonly number[];
  /** Standard deviations of the model's four independent parts. */
  readonly spreads: readonly number[];
  /** How the logarithms of the four values follow from the four parts, here: derivatives, a row for each value. */
  readonly slopes: Matrix;
}

/** The four values by the model's parts: logarithms of width, row per width, thread per width and carrier per step. */
function valuesOf(parts: readonly number[]): readonly number[] {
  const [width, row, thread, carrier] = parts.map(Math.exp) as [number, number, number, number];
  const step = width * Math.hypot(1, row);
  return [width, width * row, HITCH_PER_CORD * width * thread + step, step * carrier];
}

function slopesAt(parts: readonly number[]): Matrix {
  const row = Math.exp(parts[1] as number);
  const step = Math.hypot(1, row);
  // How much of a step, and of what the knotting string takes, is the row and the winding.
  const rowOfStep = row ** 2 / step ** 2;
  const wound = HITCH_PER_CORD * Math.exp(parts[2] as number);
  const stepOfKnot = step / (step + wound);
  return [
    [1, 0, 0, 0],
    [1, 1, 0, 0],
    [1, stepOfKnot * rowOfStep, 1 - stepOfKnot, 0],
    [1, rowOfStep, 0, 1],
  ];
}

/** What the model expects of a thread before anything is measured. */
function expected({ thread = 'floss', threadMm }: Gauge): {
  readonly centre: readonly number[];
  readonly spreads: readonly number[];
} {
  const isTold = thread === 'floss' || threadMm !== undefined;
  const widthMm =
    thread === 'floss' || threadMm === undefined ? DEFAULT_CORD_MM : threadMm / THREAD_PER_WIDTH;
  return {
    centre: [Math.log(widthMm), Math.log(ROW_PER_WIDTH), Math.log(THREAD_PER_WIDTH), 0],
    spreads: [
      isTold ? MODEL_SPREAD.width : UNKNOWN_WIDTH_SPREAD,
      MODEL_SPREAD.rowPerWidth,
      MODEL_SPREAD.threadPerWidth,
      MODEL_SPREAD.carrierPerStep,
    ],
  };
}

/**
 * How far the parts move for each unit by which the logarithms of the measured values differ from what is expected: the conditional
 * expectation of the joint normal distribution. A column for each measured value.
 */
export function gainOf(slopes: Matrix, spreads: readonly number[], measured: readonly GaugeField[]): Matrix {
  const rows = measured.map((field) => slopes[GAUGE_FIELDS.indexOf(field)] as readonly number[]);
  const weighted = transpose(rows).map((row, i) => row.map((value) => value * (spreads[i] as number) ** 2));
  return multiply(weighted, invert(multiply(rows, weighted)));
}

/** What says nothing of a string's length, so that it never contradicts the rest. */
const LINES: readonly GaugeField[] = ['cordMm', 'rowMm'];

/**
 * The values of a gauge: those measured as they are, the others as the model expects them beside those, whatever was measured (rules L2, L40
 * and L41). A take-up of the knotting string that leaves nothing for the winding contradicts the model and says nothing of the rest.
 * @throws FieldRangeError when a given value is not above 0, with the path `gauge.<field>`
 * O(1).
 */
export function modelGauge(gauge: Gauge): ModelledGauge {
  for (const field of [...GAUGE_FIELDS, 'threadMm'] as const)
    if (gauge[field] !== undefined) requirePositive(`gauge.${field}`, gauge[field]);
  const { centre, spreads } = expected(gauge);
  const measured = GAUGE_FIELDS.filter((field) => gauge[field] !== undefined);
  const parts =
    likeliest(gauge, centre, spreads, measured) ??
    likeliest(
      gauge,
      centre,
      spreads,
      measured.filter((field) => field !== 'knottingMm'),
    ) ??
    likeliest(
      gauge,
      centre,
      spreads,
      measured.filter((field) => LINES.includes(field)),
    ) ??
    centre;
  const modelled = valuesOf(parts);
  return {
    valuesMm: modelled.map((value, i) => gauge[GAUGE_FIELDS[i] as GaugeField] ?? value),
    spreads,
    slopes: slopesAt(parts),
  };
}

/** The likeliest parts that give the measured values exactly; null when none do. */
function likeliest(
  gauge: Gauge,
  centre: readonly number[],
  spreads: readonly number[],
  measured: readonly GaugeField[],
): readonly number[] | null {
  if (measured.length === 0) return centre;
  const targets = measured.map((field) => Math.log(gauge[field] as number));
  let parts = centre;
  for (let round = 0; round < MOST_ROUNDS; round++) {
    const values = valuesOf(parts);
    const off = measured.map(
      (field, i) => (targets[i] as number) - Math.log(values[GAUGE_FIELDS.indexOf(field)] as number),
    );
    const slopes = slopesAt(parts);
    const back = multiply(
      measured.map((field) => slopes[GAUGE_FIELDS.indexOf(field)] as readonly number[]),
      parts.map((part, i) => [part - (centre[i] as number)]),
    );
    const gain = gainOf(slopes, spreads, measured);
    const move = multiply(
      gain,
      off.map((value, i) => [value + ((back[i] as readonly number[])[0] as number)]),
    );
    const next = centre.map((part, i) => part + ((move[i] as readonly number[])[0] as number));
    if (!next.every(Number.isFinite)) return null;
    const change = Math.max(...next.map((part, i) => Math.abs(part - (parts[i] as number))));
    parts = next;
    if (change < 1e-13 && Math.max(...off.map(Math.abs)) < 1e-12) return parts;
  }
  return null;
}
