/** What the panel of symmetry and repeats is made of. */
export { LbBandPicture } from '../board/lb-band-picture.ts';
export { LbRepeatPanel } from './lb-repeat-panel.ts';
export { LbSymmetryPanel } from './lb-symmetry-panel.ts';
