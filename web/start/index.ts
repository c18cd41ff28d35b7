/** Beginnings: what they tell the page that they stand on. */
export { sayTally } from './say-tally.ts';
export type { MakeBoardsEvent } from './begin-events.ts';
