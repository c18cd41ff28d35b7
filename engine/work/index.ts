export { describeStep, type StepView } from './describe-step.ts';
export { ENGLISH_STEP_WORDS, type StepWords } from './step-words.ts';
export {
  type WorkMethod,
  type WorkOrder,
  type WorkOrderError,
  type WorkStep,
  workOrder,
} from './work-order.ts';
