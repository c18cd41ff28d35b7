export { canvasStyles } from './canvas.styles.ts';
export { controls } from './controls.ts';
export { closeFolded, folded, placeFolded, unfolded } from './folded.ts';
export { panelStyles } from './panel.styles.ts';
