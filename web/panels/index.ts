export type { ColourEvent, WearEvent } from './lb-palette-panel.ts';
export type { LbPanels } from './lb-panels.ts';
export { mountDiagram } from './mount-diagram.ts';
