/** Searches for mountings: colours are numbers here, and nothing of plans or patterns is known. */
export { countOdd, numberColours } from './colour-numbers.ts';
export { type Effort, pairWithFewestCrossings } from './fewest-crossings.ts';
export { isNeatlyMountable } from './neat-order.ts';
export { pairNested } from './nested-pairing.ts';
export { pairAtOnce } from './open-folds.ts';
export { pairToRecolour, type Recoloured } from './pair-to-recolour.ts';
export { type LeadInOrders, shortestLeadIn } from './shortest-lead-in.ts';
export type { Tell } from './tell.ts';
