import {
  type Change,
  type Command,
  compactDesign,
  compareDesigns,
  Design,
  type KeyedDesign,
  readKeyed,
} from '../../engine/document/index.ts';
import type { Board } from '../../engine/index.ts';
import { openDesign, runAll } from './open-design.ts';
import { countingIds, sampleBoard } from './sample-board.ts';

/** Two states of a design, and what differs. */
export interface ComparedPair {
  readonly before: KeyedDesign;
  readonly after: KeyedDesign;
  readonly changes: readonly Change[];
}

/** The same board under the same ids, without its past, on which somebody else works apart. */
export function branchOf({ doc }: Design, makerId = 't'): Design {
  return new Design(compactDesign(doc)!, { makerId, newId: countingIds(makerId), captureMs: 0 });
}

/** A sample board before and after these commands. */
export const pairOf = (...commands: readonly Command[]): ComparedPair =>
  pairFrom(sampleBoard(6, 8), ...commands);

/** This board before and after them. */
export function pairFrom(board: Board, ...commands: readonly Command[]): ComparedPair {
  const design = openDesign(board);
  const before = readKeyed(design.doc)!;
  runAll(design, ...commands);
  const after = readKeyed(design.doc)!;
  return { before, after, changes: compareDesigns(before, after) };
}
