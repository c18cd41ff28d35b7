export { walkMeetings } from './meetings.ts';
export { cycleOf, leastPeriod, type RepeatCycle, repeatCycle } from './repeat-cycle.ts';
export { type RowSpan, reweaveInto, Weave, weave } from './weave.ts';
