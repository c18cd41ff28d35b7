export type { ChooseEvent } from './choose-event.ts';
export { loadCompare } from './compare-elements.ts';
export { type Question, questionsOf } from './differences.ts';
export type { LbCompare } from './lb-compare.ts';
