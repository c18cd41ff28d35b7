/** What closes a bundle of strings below a band or above it: how long it is, and how much string it takes. */
import type { EndKnot } from '../pattern/index.ts';

/**
 * An overhand knot in a bundle, in thicknesses of the bundle: string that it takes, by the tight closed one (E. Denne, Y. Diao, J. M. Sullivan,
 * "Quadrisecants give new lower bounds for the ropelength of a knot", Geom. Topol. 10 (2006) 1-26), and how high it is (own choice).
 */
export const OVERHAND_TAKES = 16.372;
const OVERHAND_HIGH = 3;
/** A braid is so much shorter than its strings. Own choice. */
const BRAID_SHARE = 0.8;

/** Thickness of a bundle of so many strings, whose sections add up. */
export function bundleThickness(strings: number, threadMm: number): number {
  return threadMm * Math.sqrt(strings);
}

/** Length of a knot, tassel or braid with what hangs out of it, made of so much of each string. Rule L61. */
export function closedLength(knot: EndKnot, stringMm: number, bundleMm: number): number {
  switch (knot) {
    case 'overhand':
      return Math.max(0, stringMm - OVERHAND_TAKES * bundleMm) + OVERHAND_HIGH * bundleMm;
    case 'braid':
      return stringMm * BRAID_SHARE;
    case 'tassel':
    case 'none':
      return stringMm;
  }
}
