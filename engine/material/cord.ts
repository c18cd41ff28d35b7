/** Cords: how thick, and how much of one a turn round another takes. */
import { requireNotNegative } from './field-error.ts';

/**
 * Width that one string of six-strand floss takes, on a bar and in the band, in mm. Common practice, no source: 14 ends fit a bar of 19 mm
 * (3/4 in), 1.357 mm each. A spun yarn of the same weight is much thinner (0.59 mm by F. T. Peirce, "The geometry of cloth structure", J. Text.
 * Inst. 28 (1937) T45), and so is the floss where it is wound tightly: see `engine/material/gauge-model.ts`.
 */
export const DEFAULT_CORD_MM = 1.35;

/**
 * Length of `turns` turns of a helix in mm: turns x √((2π radius)² + pitch²), radius to the centre line.
 * @throws FieldRangeError when one is negative
 * Rule L1.
 */
export function helixLength(turns: number, radiusMm: number, pitchMm: number): number {
  requireNotNegative('turns', turns);
  requireNotNegative('radiusMm', radiusMm);
  requireNotNegative('pitchMm', pitchMm);
  return turns * Math.hypot(2 * Math.PI * radiusMm, pitchMm);
}

/**
 * One turn of a cord round an equal one, in mm: a helix whose radius and pitch are the cord's diameter, 6.3623 d.
 * Rule L1. No loop that is linked once with an equal cord can be shorter than 2π d (J. Cantarella, R. Kusner, J. M. Sullivan,
 * "On the minimum ropelength of knots and links", Invent. Math. 150 (2002) 257-286).
 */
export function turnLength(cordMm: number): number {
  return helixLength(1, cordMm, cordMm);
}

/** The two turns of a double half hitch in cord diameters: 12.7245. Rule L1. */
export const HITCH_PER_CORD = 2 * Math.hypot(2 * Math.PI, 1);

/** The two turns of a double half hitch, in mm: 12.7245 d. Rule L1. */
export function hitchLength(cordMm: number): number {
  return 2 * turnLength(cordMm);
}
