export type { ChooseEvent } from './choose-event.ts';
export { type Question, questionsOf } from './differences.ts';
export type { LbCompare } from './lb-compare.ts';
