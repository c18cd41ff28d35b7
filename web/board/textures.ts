import type { ColourId } from '../../engine/index.ts';

/** Number of the texture of each palette colour, 0 for none. */
export type Textures = ReadonlyMap<ColourId, number>;

/** That of each of these colours; null where no textures are wanted. */
export function texturesBy(
  colours: readonly ColourId[],
  textures: Textures | null,
): readonly number[] | null {
  return textures && colours.map((id) => textures.get(id) ?? 0);
}
