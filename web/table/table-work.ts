/** Where a keychain under way is: its steps with those that are tied first, and how its strings hang. */
import {
  type Board,
  hangingAfter,
  stepKey,
  stepsLeft,
  type TiedKeys,
  type WorkStep,
} from '../../engine/index.ts';

export interface TableWork {
  /** As it is made. */
  readonly board: Board;
  /** In an order in which they can be tied, those that are tied first. */
  readonly steps: readonly WorkStep[];
  /** How many are tied. */
  readonly at: number;
  /** Strings by their places at the top, left to right as they hang. */
  readonly hanging: Int16Array;
}

/** O(steps). */
export function workAt(board: Board, steps: readonly WorkStep[], tied: TiedKeys): TableWork {
  const done = steps.filter((step) => tied.has(stepKey(step)));
  return {
    board,
    steps: [...done, ...stepsLeft(steps, tied)],
    at: done.length,
    hanging: hangingAfter(board.pattern.colours.length, done),
  };
}
