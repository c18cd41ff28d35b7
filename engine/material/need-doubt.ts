/** How a length of string follows from the gauge, and so how sure it is. */
import { BAR_THICKNESS_MM } from './allowances.ts';
import type { GaugeDoubt, MeasuredDoubt } from './gauge-doubt.ts';
import { THREAD_PER_WIDTH } from './gauge-model.ts';
import { studentQuantile, studentTail } from './student.ts';
import { type Doubt, propagate } from './uncertainty.ts';

/** How a length follows from the gauge: derivative by each of its values, and the knots that a string has by itself. */
export interface Sensitivity {
  readonly cord: number;
  readonly row: number;
  readonly knotting: number;
  readonly carrier: number;
  /** Knots, as knotting string or carrier; those of different strings vary independently. */
  readonly knots: number;
}

/** What an end does, as far as its length goes. */
export interface EndCounts {
  readonly knotting: number;
  readonly carrier: number;
  readonly untied: number;
}

/**
 * Derivatives of what an end needs (rule L8): its counts, and by the width that of half a lark's head, whose thread is
 * {@link THREAD_PER_WIDTH} of it, and of its half of a spread middle. That this ratio is not sure either is a quarter of a millimetre and left out.
 * @param halfHitches halves of the lark's head that it takes: 1, for a single 2; over a stick 1, round nothing 0
 * @param spreadPlaces places between the two ends of its fold
 * @param headPerThread how much more it takes above the first row for each mm that the thread is thicker
 */
export function endSensitivity(
  use: EndCounts,
  widthMm: number,
  halfHitches: number,
  spreadPlaces: number,
  headPerThread = 0,
): Sensitivity {
  // Derivative of √((π(B + d))² + d²) by d.
  const threadMm = THREAD_PER_WIDTH * widthMm;
  const around = Math.PI * (BAR_THICKNESS_MM + threadMm);
  const mount = (Math.PI * around + threadMm) / Math.hypot(around, threadMm);
  return {
    cord: (halfHitches * mount + headPerThread) * THREAD_PER_WIDTH + spreadPlaces / 2,
    row: use.untied,
    knotting: use.knotting,
    carrier: use.carrier,
    knots: use.knotting + use.carrier,
  };
}

/** Of lengths cut from one gauge: errors that they share add up whole. */
export function sumOf(parts: readonly Sensitivity[]): Sensitivity {
  const sum = { cord: 0, row: 0, knotting: 0, carrier: 0, knots: 0 };
  for (const part of parts)
    for (const key of ['cord', 'row', 'knotting', 'carrier', 'knots'] as const) sum[key] += part[key];
  return sum;
}

/**
 * How sure the length is; null when it depends on a measured value whose error is not stated. Never less sure than with some of the
 * measurements left out: a poor one does no harm. How unevenly a hand ties is no error of measurement, and always counts. Rules L15, L17 and L42.
 */
export function doubtOf(gauge: GaugeDoubt, sensitivity: Sensitivity): Doubt | null {
  const { cord, row, knotting, carrier, knots } = sensitivity;
  const slopes = [cord, row, knotting, carrier];
  if (dependsOnUnknown(gauge, slopes)) return null;
  let surest: MeasuredDoubt = gauge;
  let least = propagate(slopes, gauge.sources).plusMinusMm;
  for (const part of gauge.without) {
    if (dependsOnUnknown(part, slopes)) continue;
    const found = propagate(slopes, part.sources, null, least);
    if (found === null || found.plusMinusMm >= least) continue;
    surest = part;
    least = found.plusMinusMm;
  }
  const own = { cause: 'takeUp', freedom: gauge.takeUpFreedom, variance: knots * gauge.knotVariance };
  return propagate(slopes, surest.sources, own);
}

function dependsOnUnknown({ unknown }: MeasuredDoubt, slopes: readonly number[]): boolean {
  return unknown.some(({ effect }) => effect.some((part, i) => part * (slopes[i] as number) !== 0));
}

/**
 * How much longer an end is cut so that in one case of `oneIn` it needs more than that and its spare (rule L20); 0 where the spare is enough.
 */
export function marginMm({ standardMm, freedom }: Doubt, oneIn: number, spareMm: number): number {
  if (standardMm === 0) return 0;
  return Math.max(0, studentQuantile(1 - 1 / oneIn, freedom) * standardMm - spareMm);
}

/** Probability that an end needs more than `roomMm` beyond what it was reckoned to need. */
export function chanceOfShort({ standardMm, freedom }: Doubt, roomMm: number): number {
  return standardMm === 0 ? 0 : studentTail(roomMm / standardMm, freedom);
}
