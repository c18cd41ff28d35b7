export { contrastRatio } from './contrast.ts';
export { distinctColour } from './distinct-colour.ts';
export { hexToLab, labToHex } from './lab.ts';
export {
  checkPalette,
  differences,
  HARD_DIFFERENCE,
  type HardPair,
  labInEachSight,
  type SightLabs,
} from './palette-check.ts';
export { SIGHTS, type Sight, simulateSight } from './sight.ts';
export { hexToRgb, rgbToHex } from './srgb.ts';
export { texturesOf } from './textures.ts';
export { type VanishingPair, vanishingNeighbours } from './vanishing.ts';
