/** Cords side by side round a ring, seen in cross-section as equal circles round or inside a circle. */
import { requirePositive } from './field-error.ts';

/**
 * How many cords lie side by side round the outside of a round bar.
 * @param barDiameterMm outer diameter of what they lie round, above 0
 * @param cordMm        cord diameter, above 0
 * @throws FieldRangeError when one is not above 0
 * n cords of radius r fit round radius R while sin(π/n) >= r/(R+r). Rule L6. Source: the condition for a closed chain of equal
 * circles round a circle (Steiner chain).
 */
export function cordsAround(barDiameterMm: number, cordMm: number): number {
  requirePositive('barDiameterMm', barDiameterMm);
  requirePositive('cordMm', cordMm);
  return chainOf(cordMm / 2, barDiameterMm / 2 + cordMm / 2);
}

/**
 * How many cords lie side by side inside a round opening, such as a ring's inner edge; 0 when not even one goes through, 1 when
 * no two do.
 * @throws FieldRangeError when one is not above 0
 * As {@link cordsAround} with R - r for R + r. Rule L6.
 */
export function cordsInside(innerDiameterMm: number, cordMm: number): number {
  requirePositive('innerDiameterMm', innerDiameterMm);
  requirePositive('cordMm', cordMm);
  if (cordMm > innerDiameterMm) return 0;
  return Math.max(1, chainOf(cordMm / 2, innerDiameterMm / 2 - cordMm / 2));
}

// Circles that touch exactly, six round one of their own size, must not be lost to the last bit of a division.
const FLOAT_SLACK = 1e-9;

/** Circles of radius r whose centres lie on a circle of radius `centre`: the most that fit without overlap. */
function chainOf(r: number, centre: number): number {
  if (r > centre) return 1;
  return Math.floor(Math.PI / Math.asin(r / centre) + FLOAT_SLACK);
}
