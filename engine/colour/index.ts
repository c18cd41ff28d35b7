export { contrastRatio, relativeLuminance } from './contrast.ts';
export { ciede2000, colourDifference } from './difference.ts';
export { hexToLab, type Lab, labToHex } from './lab.ts';
export {
  ALIKE_DIFFERENCE,
  checkPalette,
  differences,
  HARD_DIFFERENCE,
  type HardPair,
  labInEachSight,
  PAGE_CONTRAST,
  type PageContrast,
  type PaletteCheck,
  type PaletteCheckOptions,
  type SightDifferences,
  type SightLabs,
} from './palette-check.ts';
export { SIGHT_MATRICES, SIGHTS, type Sight, simulateSight } from './sight.ts';
export { encodedToLinear, hexToRgb, linearToEncoded, type Rgb, rgbToHex } from './srgb.ts';
export { TEXTURES, texturesOf } from './textures.ts';
export {
  type VanishingOptions,
  type VanishingPair,
  type VanishingPlace,
  vanishingNeighbours,
} from './vanishing.ts';
