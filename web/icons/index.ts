export { type IconName, icon, knotIcon } from './board-icons.ts';
export { hitchWays } from './half-hitch.ts';
export { HITCH_SIZE, hitchDrawing, hitchMoves } from './hitch-drawing.ts';
export { pageIcon } from './page-icons.ts';
export { sayIcon } from './say-icon.ts';
export { showIcon } from './show-icon.ts';
