export { cycleOf, type RepeatCycle, repeatCycle } from './repeat-cycle.ts';
export { Weave, weave } from './weave.ts';
