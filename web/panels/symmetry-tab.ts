/** What the panel of symmetry and repeats is made of. */
export { LbRepeatPanel } from './lb-repeat-panel.ts';
export { LbSymmetryPanel } from './lb-symmetry-panel.ts';
