export { BackgroundJob } from './background-job.ts';
export { firstHalfOf, keepFirstHalf, showMountedFrom } from './first-half.ts';
export type {
  Consequences,
  ConsequencesJob,
  MendAnswer,
  MendJob,
  OutOfRange,
  RecolourJob,
  StartJob,
  SymmetriesJob,
  WaysOutJob,
  WishAnswer,
  WishJob,
  WorkOrderAnswer,
  WorkOrderJob,
} from './jobs.ts';
export { planPending } from './plan-pending.ts';
export { PlanReader } from './plan-reader.ts';
export { type PlanState, type PlanWatch, planIn, planShelf, type StateOf } from './plan-shelf.ts';
export type { StartAsk, Started } from './run-start.ts';
export { runWorkOrder } from './run-work-order.ts';
export { type StepTable, stepAt } from './step-table.ts';
