/** The elements of the first tab, so that they come as one file. */
export { LbBandPicture } from '../board/lb-band-picture.ts';
export { LbCautions } from './lb-cautions.ts';
export { LbColourCheck } from './lb-colour-check.ts';
export { LbMountSteps } from './lb-mount-steps.ts';
export { LbMountingPanel } from './lb-mounting-panel.ts';
export { LbPalettePanel } from './lb-palette-panel.ts';
export { LbRepeatPanel } from './lb-repeat-panel.ts';
export { LbWaysOut } from './lb-ways-out.ts';
