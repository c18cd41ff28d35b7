/** How a length of string follows from the gauge, and so how sure it is. */
import { BAR_THICKNESS_MM } from './allowances.ts';
import type { GaugeDoubt } from './gauge-doubt.ts';
import { studentQuantile, studentTail } from './student.ts';
import { type Doubt, propagate } from './uncertainty.ts';

/** How a length follows from the gauge: derivative by each of its four values, and the knots that a string has by itself. */
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
 * Derivatives of what an end needs (rule L8): its counts, and by the cord that of half a lark's head and of its half of a spread middle.
 * @param halfHitches halves of the lark's head that it takes: 1, for a single 2
 * @param spreadPlaces places between the two ends of its fold
 */
export function endSensitivity(
  use: EndCounts,
  cordMm: number,
  halfHitches: number,
  spreadPlaces: number,
): Sensitivity {
  // Derivative of √((π(B + d))² + d²) by d.
  const around = Math.PI * (BAR_THICKNESS_MM + cordMm);
  const mount = (Math.PI * around + cordMm) / Math.hypot(around, cordMm);
  return {
    cord: halfHitches * mount + spreadPlaces / 2,
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

/** How sure the length is; null when it depends on a measured value whose error is not stated. Rules L15 and L17. */
export function doubtOf(
  gauge: GaugeDoubt,
  { cord, row, knotting, carrier, knots }: Sensitivity,
): Doubt | null {
  const sensitivity = [cord, row, knotting, carrier];
  const depends = (effect: readonly number[]): boolean =>
    effect.some((part, i) => part * (sensitivity[i] as number) !== 0);
  if (gauge.unknown.some(({ effect }) => depends(effect))) return null;
  return propagate(sensitivity, gauge.sources, {
    cause: 'takeUp',
    freedom: gauge.takeUpFreedom,
    variance: knots * gauge.knotVariance,
  });
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
