import type { Command } from '../../engine/document/index.ts';
import type { ColourId } from '../../engine/index.ts';

/** What gives the strings other colours: one command for each colour that strings change to. */
export function recolourings(from: readonly ColourId[], to: readonly ColourId[]): readonly Command[] {
  const strings = new Map<ColourId, number[]>();
  for (const [place, colour] of to.entries())
    if (colour !== from[place]) strings.set(colour, [...(strings.get(colour) ?? []), place]);
  return [...strings].map(
    ([colour, places]) => ({ kind: 'recolour-strings', strings: places, colour }) as const,
  );
}
