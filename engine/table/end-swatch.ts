/** A finished keychain as a swatch: what is left of an end tells what its knots took. */
import type { Swatch } from '../material/index.ts';
import type { WorkStep } from '../work/index.ts';

/** How often each string, by its place at the top, ties a knot and is carrier. O(steps). */
function usesOf(strings: number, steps: readonly WorkStep[]): { knotting: Int32Array; carrier: Int32Array } {
  const [knotting, carrier] = [new Int32Array(strings), new Int32Array(strings)];
  for (const step of steps) {
    knotting[step.knotting]!++;
    carrier[step.carrier]!++;
  }
  return { knotting, carrier };
}

/**
 * The one or two strings, by their places at the top, of which what hangs below the last row tells most: the one that ties the greatest share
 * of its knots, and the one that ties the least, which tell what a knot takes of either. None where nothing is tied.
 * O(steps). Rule H36.
 */
export function endsToMeasure(strings: number, steps: readonly WorkStep[]): readonly number[] {
  const { knotting, carrier } = usesOf(strings, steps);
  const share = (string: number): number => knotting[string]! / (knotting[string]! + carrier[string]!);
  const tied = Array.from({ length: strings }, (_, string) => string).filter(
    (string) => knotting[string]! + carrier[string]! > 0,
  );
  // Of equal shares the string with more knots, then the left one.
  const knots = (string: number): number => knotting[string]! + carrier[string]!;
  const by = [...tied].sort((a, b) => share(b) - share(a) || knots(b) - knots(a) || a - b);
  const least = [...tied].sort((a, b) => share(a) - share(b) || knots(b) - knots(a) || a - b);
  return [...new Set([by[0], least[0]].filter((string) => string !== undefined))];
}

/**
 * What was measured on one end of a finished piece, as a swatch.
 * @param rows   rows of the piece
 * @param hungMm length of the end before the first knot, from where it hangs
 * @param leftMm what hangs of it below the last row
 * O(steps). Rule H36.
 */
export function endSwatch(
  strings: number,
  steps: readonly WorkStep[],
  rows: number,
  { string, hungMm, leftMm }: { readonly string: number; readonly hungMm: number; readonly leftMm: number },
): Swatch {
  const { knotting, carrier } = usesOf(strings, steps);
  return { rows, cutMm: hungMm, leftMm, knotting: knotting[string]!, carrier: carrier[string]! };
}
