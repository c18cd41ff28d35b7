/** A work order as one block of numbers, so that it passes from the worker to the page without being copied. */
import type { WorkOrder, WorkStep } from '../../engine/index.ts';

const KINDS: readonly WorkStep['kind'][] = ['f', 'b', 'fb', 'bf'];
const PARTS: readonly WorkStep['part'][] = ['lead-in', 'band', 'end'];
/** row, k, place, kind, knotting, carrier, isPickUp, run, part, repeat, partRow. */
const WIDTH = 11;

export interface StepTable {
  /** {@link WIDTH} numbers for each step. */
  readonly numbers: Int32Array<ArrayBuffer>;
  readonly count: number;
  readonly pickUps: number;
  readonly lowerBound: number;
  readonly exact: boolean;
}

/** O(steps). */
export function packSteps({ steps, pickUps, lowerBound, exact }: WorkOrder): StepTable {
  const numbers = new Int32Array(steps.length * WIDTH);
  let at = 0;
  for (const step of steps) {
    numbers[at++] = step.row;
    numbers[at++] = step.k;
    numbers[at++] = step.place;
    numbers[at++] = KINDS.indexOf(step.kind);
    numbers[at++] = step.knotting;
    numbers[at++] = step.carrier;
    numbers[at++] = step.isPickUp ? 1 : 0;
    numbers[at++] = step.run;
    numbers[at++] = PARTS.indexOf(step.part);
    numbers[at++] = step.repeat;
    numbers[at++] = step.partRow;
  }
  return { numbers, count: steps.length, pickUps, lowerBound, exact };
}

/**
 * Step `index` as it was packed.
 * @throws RangeError when there is none
 */
export function stepAt({ numbers, count }: StepTable, index: number): WorkStep {
  if (!(Number.isInteger(index) && index >= 0 && index < count))
    throw new RangeError(`step ${index} is outside 0 to ${count - 1}`);
  const at = index * WIDTH;
  return {
    row: numbers[at]!,
    k: numbers[at + 1]!,
    place: numbers[at + 2]!,
    kind: KINDS[numbers[at + 3]!]!,
    knotting: numbers[at + 4]!,
    carrier: numbers[at + 5]!,
    isPickUp: numbers[at + 6] === 1,
    run: numbers[at + 7]!,
    part: PARTS[numbers[at + 8]!]!,
    repeat: numbers[at + 9]!,
    partRow: numbers[at + 10]!,
  };
}
