export type { DressEvent } from './lb-palette-panel.ts';
export { mountDiagram } from './mount-diagram.ts';
export { ScreenAwake } from './screen-awake.ts';
