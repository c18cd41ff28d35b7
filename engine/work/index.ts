export { describeStep, type StepView } from './describe-step.ts';
export { type TiedKnots, tiedKnots } from './knots.ts';
export { piecePattern } from './piece-pattern.ts';
export { ENGLISH_STEP_WORDS, type StepWords } from './step-words.ts';
export {
  type WorkMethod,
  type WorkOrder,
  type WorkOrderError,
  type WorkOrderFailure,
  type WorkOrderOptions,
  type WorkStep,
  workOrder,
} from './work-order.ts';
