export { walkMeetings } from './meetings.ts';
export { leastPeriod, repeatCycle } from './repeat-cycle.ts';
export { type RowSpan, reweaveInto, Weave, weave } from './weave.ts';
