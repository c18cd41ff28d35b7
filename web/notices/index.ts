export type { ShowLostEvent } from './show-lost-event.ts';
