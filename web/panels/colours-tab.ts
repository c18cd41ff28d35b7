/** What the panel of colours is made of. */
export { LbColourCheck } from './lb-colour-check.ts';
export { LbPalettePanel } from './lb-palette-panel.ts';
