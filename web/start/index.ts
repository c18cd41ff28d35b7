/** Beginnings: what they tell the page that they stand on. */
export type { MakeBoardsEvent } from './begin-events.ts';
