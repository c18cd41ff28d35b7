/** Which colours of a palette are drawn with a texture, so that no two that are hard to tell apart look alike. */
import type { ColourId, PaletteColour } from '../pattern/index.ts';
import { checkPalette } from './palette-check.ts';

/** Textures there are, numbered from 1; 0 is a plain colour. */
export const TEXTURES = 6;

/**
 * Number of the texture of each palette colour, 0 for none.
 * In palette order each takes the lowest number that no earlier colour has from which it is hard to tell; where all are taken,
 * the one that the fewest of those have. A palette without hard pairs has none. Deterministic. O(colours²). Rule C7.
 */
export function texturesOf(palette: readonly PaletteColour[]): ReadonlyMap<ColourId, number> {
  const hard = new Map<ColourId, ColourId[]>();
  for (const { colours } of checkPalette(palette).pairs) {
    const [first, second] = colours;
    hard.set(first, [...(hard.get(first) ?? []), second]);
    hard.set(second, [...(hard.get(second) ?? []), first]);
  }
  const textures = new Map<ColourId, number>();
  for (const { id } of palette) {
    const taken = new Array<number>(TEXTURES + 1).fill(0);
    for (const other of hard.get(id) ?? []) {
      const texture = textures.get(other);
      if (texture !== undefined) taken[texture] = (taken[texture] as number) + 1;
    }
    textures.set(id, taken.indexOf(Math.min(...taken)));
  }
  return textures;
}
