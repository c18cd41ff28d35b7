/** Taking back all that somebody did in a visit: seen beforehand on a copy, then done as one step of undo. */
import * as Y from 'yjs';
import type { Command, CommandResult } from './command.ts';
import { type KeyedDesign, readKeyed } from './compare/index.ts';
import type { BareDesign as Design } from './design.ts';
import { type Edit, type KeyChange, takeBack } from './journal/index.ts';
import { writeSet } from './write-set.ts';
import { applyWrites } from './writes.ts';

/** What a design becomes when edits are taken back. */
export interface WouldBe {
  readonly now: KeyedDesign;
  readonly then: KeyedDesign;
  /** What somebody has changed since, and stays; each key once. */
  readonly kept: readonly KeyChange[];
}

/**
 * What is shown before it is done; changes nothing. Null where the document holds no board, before or after.
 * @param edits of one visit, oldest first
 */
export function wouldTakeBack(edits: readonly Edit[], doc: Y.Doc): WouldBe | null {
  const copy = new Y.Doc();
  Y.applyUpdate(copy, Y.encodeStateAsUpdate(doc));
  const now = readKeyed(copy);
  const kept = edits.toReversed().flatMap((edit) => {
    const back = takeBack(edit, copy);
    copy.transact(() => applyWrites(back.writes));
    return back.kept;
  });
  const then = readKeyed(copy);
  copy.destroy();
  return now === null || then === null ? null : { now, then, kept: eachOnce(kept) };
}

/** Does it, as one step of undo. @returns what stays; where the design does not take it, why, and nothing more is done */
export function takeBackVisit(
  edits: readonly Edit[],
  design: Design,
): { readonly kept: readonly KeyChange[]; readonly result: CommandResult } {
  const kept: KeyChange[] = [];
  let result: CommandResult = { ok: true };
  design.stopUndoCapture();
  const close = design.openStep();
  try {
    for (const edit of edits.toReversed()) {
      kept.push(...takeBack(edit, design.doc).kept);
      result = design.run(takeBackCommand(edit));
      if (!result.ok) break;
    }
  } finally {
    close();
    design.stopUndoCapture();
  }
  return { kept: eachOnce(kept), result };
}

/** The command that takes an edit back, wherever it still stands as it was left. */
export function takeBackCommand(edit: Edit): Command {
  return {
    kind: 'take-back',
    edit,
    prepare: ({ roots }, { changes, held }) => {
      const { doc } = roots.meta;
      if (doc === null) throw new TypeError('the roots are of no document');
      return writeSet(takeBack({ changes, held }, doc).writes);
    },
  };
}

function eachOnce(changes: readonly KeyChange[]): readonly KeyChange[] {
  return [...new Map(changes.map((change) => [`${change.root} ${change.key}`, change])).values()];
}
