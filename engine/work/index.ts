export type { Covers, PiecePart } from './piece-pattern.ts';
export {
  type WorkMethod,
  type WorkOrder,
  type WorkOrderError,
  type WorkOrderFailure,
  type WorkOrderOptions,
  type WorkStep,
  workOrder,
} from './work-order.ts';
