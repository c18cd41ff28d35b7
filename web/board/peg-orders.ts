/** Colours of the strings in another order. Places count from 0, left to right; nothing else of a pattern changes. */
import type { ColourId, PaletteColour } from '../../engine/index.ts';

type Colours = readonly ColourId[];

/** The colour of one place put in at another; those between close up. */
export function movedOrder(colours: Colours, from: number, to: number): Colours {
  const moved = [...colours];
  moved.splice(to, 0, ...moved.splice(from, 1));
  return moved;
}

/** As {@link movedOrder}, on both sides of the middle at once. @throws RangeError unless both places are on one side of it */
export function movedBeside(colours: Colours, from: number, to: number): Colours {
  const last = colours.length - 1;
  if (2 * from < last !== 2 * to < last)
    throw new RangeError(`places ${from} and ${to} lie beside the middle`);
  return movedOrder(movedOrder(colours, from, to), last - from, last - to);
}

/** Colours that are alike together, in the order of the palette. */
export function sortedOrder(colours: Colours, palette: readonly PaletteColour[]): Colours {
  const at = new Map(palette.map(({ id }, i) => [id, i]));
  return [...colours].sort((a, b) => (at.get(a) ?? 0) - (at.get(b) ?? 0));
}

/** The first so many again and again. */
export function repeatedOrder(colours: Colours, count: number): Colours {
  return colours.map((_, place) => colours[place % count] as ColourId);
}

/** One half as the mirror image of the other; in an odd number the middle stays. */
export function mirroredOrder(colours: Colours, keeps: 'left' | 'right'): Colours {
  const last = colours.length - 1;
  return colours.map((own, place) => {
    const isKept = keeps === 'left' ? 2 * place <= last : 2 * place >= last;
    return isKept ? own : (colours[last - place] as ColourId);
  });
}
