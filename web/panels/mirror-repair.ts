/** The commands that mirror one half of a pattern onto the other. */
import type { Command } from '../../engine/document/index.ts';
import {
  type ColourId,
  type KnotCode,
  knotsInRow,
  type Pattern,
  repairMirror,
  rowParity,
  rowStride,
} from '../../engine/index.ts';

/**
 * Only what differs is written, so that what others change meanwhile elsewhere stays.
 * @throws RangeError under an odd number of strings
 */
export function mirrorRepair(pattern: Pattern, keep: 'left' | 'right'): readonly Command[] {
  const repaired = repairMirror(pattern, keep);
  const strings = pattern.colours.length;
  const stride = rowStride(strings);
  const knots: { row: number; k: number; knot: KnotCode }[] = [];
  for (let row = 0; row < pattern.rows; row++)
    for (let k = 0; k < knotsInRow(strings, rowParity(pattern.start, row)); k++) {
      const knot = repaired.knots[row * stride + k]!;
      if (knot !== pattern.knots[row * stride + k]) knots.push({ row, k, knot: knot as KnotCode });
    }
  return [
    ...(knots.length === 0 ? [] : [{ kind: 'set-knots', knots } as const]),
    ...recolourings(pattern.colours, repaired.colours),
  ];
}

/** One command for each colour that strings change to. */
export function recolourings(from: readonly ColourId[], to: readonly ColourId[]): readonly Command[] {
  const strings = new Map<ColourId, number[]>();
  for (const [place, colour] of to.entries())
    if (colour !== from[place]) strings.set(colour, [...(strings.get(colour) ?? []), place]);
  return [...strings].map(
    ([colour, places]) => ({ kind: 'recolour-strings', strings: places, colour }) as const,
  );
}
