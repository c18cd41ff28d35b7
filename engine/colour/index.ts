export { contrastRatio } from './contrast.ts';
export { ciede2000 } from './difference.ts';
export { distinctColour } from './distinct-colour.ts';
export { hexToLab, type Lab, labToHex, linearToLab } from './lab.ts';
export {
  checkPalette,
  differences,
  HARD_DIFFERENCE,
  type HardPair,
  labInEachSight,
  type SightLabs,
} from './palette-check.ts';
export { SIGHTS, type Sight, simulateSight } from './sight.ts';
export { hexToRgb, type Rgb, rgbToHex } from './srgb.ts';
export { texturesOf } from './textures.ts';
export { type VanishingPair, vanishingNeighbours } from './vanishing.ts';
