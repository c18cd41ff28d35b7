import { describe, expect, it } from 'vitest';
import { hangingAfter, stepKey, workOrder } from '../../../engine/index.ts';
import { workAt } from '../../../web/table/table-work.ts';
import { LOPSIDED, readBoard } from '../../support/own-board.ts';

describe('where a keychain under way is', () => {
  it('[N43] what is tied comes first, in an order in which it can be, and the strings hang as it leaves them', () => {
    const board = readBoard(LOPSIDED);
    const { steps } = workOrder(board, { method: 'segments' });
    // Tied row by row up to the middle, then another order is chosen.
    const done = workOrder(board, { method: 'rows' }).steps.slice(0, 5);
    const tied = new Set(done.map(stepKey));
    const work = workAt(board, steps, tied);
    expect(work.at).toBe(5);
    expect(new Set(work.steps.slice(0, 5).map(stepKey))).toEqual(tied);
    expect(new Set(work.steps.map(stepKey))).toEqual(new Set(steps.map(stepKey)));
    expect(work.hanging).toEqual(hangingAfter(6, done));
    const open = new Map<number, number>();
    for (const { knotting, carrier, row } of work.steps)
      for (const string of [knotting, carrier]) {
        expect(row).toBeGreaterThan(open.get(string) ?? -1);
        open.set(string, row);
      }
  });
});
