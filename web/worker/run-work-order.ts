/** Makes a work order, in the worker or, for a small board, in the page. */
import { FieldRangeError, workOrder } from '../../engine/index.ts';
import type { WorkOrderAnswer, WorkOrderJob } from './jobs.ts';
import { packSteps } from './step-table.ts';

export function runWorkOrder(
  { board, method, covers, rowsFirst, firstHalf }: WorkOrderJob,
  onProgress: (share: number) => void = () => {},
): WorkOrderAnswer {
  try {
    const order = workOrder(board, { method, covers, rowsFirst, firstHalf, onProgress });
    return order.ok ? { ok: true, value: packSteps(order) } : order;
  } catch (error) {
    if (!(error instanceof FieldRangeError)) throw error;
    const { kind, path, demand, value } = error;
    return { ok: false, error: { kind, path, demand, value } };
  }
}
