/** Cords side by side round a ring, seen in cross-section as equal circles inside a circle. */
import { requirePositive } from './field-error.ts';

/**
 * How many cords lie side by side inside a round opening, such as a ring's inner edge; 0 when not even one goes through, 1 when
 * no two do.
 * @throws FieldRangeError when one is not above 0
 * n cords of radius r fit inside radius R while sin(π/n) >= r/(R-r). Rule L6. Source: the condition for a closed chain of equal
 * circles inside a circle (Steiner chain).
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
