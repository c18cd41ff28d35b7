/**
 * Brings edits made on an ended generation of a design into the present one. The two documents share no history, so the
 * edits are not merged by Yjs but found by comparing: what a copy changed since its generation ended is put on the present
 * document, under the same ids, where nobody changed the same meanwhile. The fixed rule where a person would be asked: what
 * stands stays, and the copy is kept beside the board. Why merging and not repeating edits as commands: `tests/server/three-designs.ts`.
 */
import type * as Y from 'yjs';
import {
  becomeCommand,
  bringBack,
  Design,
  type IdSource,
  type KeyedDesign,
  mergeDesigns,
  putWholeBoard,
  readKeyed,
} from '../../../engine/document/index.ts';
import { formatBoard } from '../../../engine/index.ts';

export interface BringOverResult {
  /** Commands run; with none nothing was written. */
  readonly commands: number;
  /** Why some of the copy is not on the board, such as an edit of the same knot. Where there is one the copy is kept. */
  readonly refused: readonly string[];
}

/**
 * @param base the last state of the ended generation
 * @param mine the same with the client's edits
 * @param into the present document; the only one changed, in one transaction
 * O(documents + knots). Rules V100 to V102, V193, V216, V217 in server/RULES.md.
 */
export function bringOver(base: Y.Doc, mine: Y.Doc, into: Y.Doc, newId: IdSource): BringOverResult {
  const [was, copy, now] = [base, mine, into].map(readKeyed) as [Read, Read, Read];
  if (was === null || copy === null || now === null)
    return nothing('a document holds no board, or one of a newer version');
  if (isAlike(was, copy)) return { commands: 0, refused: [] };
  let from = was;
  if (boardOf(mine) !== boardOf(base)) {
    if (!isAlike(was, now)) return nothing('another board was opened, and this one edited');
    // Under its own ids, by which whoever opened it takes that back.
    if (putWholeBoard(mine, into)) return { commands: 1, refused: [] };
    from = now;
  } else if (boardOf(into) !== boardOf(base) && now.patternId !== was.patternId)
    return nothing('another board was put in the place of the one that was edited');
  let merged = bringBack(from, now, copy);
  // A board that is full has no room for what was added, and all of it or none is a fixed rule too.
  if (!merged.ok && merged.error.kind === 'limit') merged = bringBack(from, now, copy, false);
  if (!merged.ok) return nothing(merged.error.message);
  const design = new Design(into, { makerId: 'bring-over', newId, isUndoable: false });
  let isWritten = false;
  const note = (): void => {
    isWritten = true;
  };
  into.on('update', note);
  try {
    const result = design.run(becomeCommand(merged.value));
    if (!result.ok) return nothing(result.error.message);
  } finally {
    into.off('update', note);
    design.dispose();
  }
  const refused: string[] = [];
  if (merged.stayed > 0) refused.push(`${merged.stayed} edits stand against others made meanwhile`);
  // What there is no room for, and what the rest does not allow: a lead-in longer than the rows that are left.
  if (merged.stayed === 0) {
    const { changes, conflicts } = mergeDesigns(from, merged.value, copy, false);
    const left = [...changes, ...conflicts.flatMap(({ changes: all }) => all)].map(({ kind }) => kind);
    if (left.length > 0) refused.push(`no room for ${[...new Set(left)].join(', ')}`);
  }
  return { commands: isWritten ? 1 : 0, refused };
}

type Read = KeyedDesign | null;

function nothing(why: string): BringOverResult {
  return { commands: 0, refused: [why] };
}

/** Whether two designs show the same, under the same ids. */
function isAlike(a: KeyedDesign, b: KeyedDesign): boolean {
  const shown = ({ board, patternId, rowPairIds, stringPairIds, ends }: KeyedDesign): string =>
    JSON.stringify([patternId, rowPairIds, stringPairIds, ends, formatBoard(board)]);
  return shown(a) === shown(b);
}

/** The id of the board that a document shows; another one was opened where it differs. */
function boardOf(doc: Y.Doc): string {
  return String(doc.getMap('meta').get('generation')).split('.')[0]!;
}
