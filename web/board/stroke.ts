import type { Cell } from '../../engine/index.ts';

/** A press, drag and release of the pointer or of the keys; one step to undo. */
export interface Stroke {
  readonly from: Cell;
  last: Cell;
  readonly close: () => void;
  readonly isMove: boolean;
  hasTied: boolean;
  /** Knots of this stroke, by row and k, so that a wavering hand ties each once. */
  readonly done: Set<string>;
}
