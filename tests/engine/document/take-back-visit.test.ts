/** Taking back what somebody did in a visit: seen on a copy, then done as one step. */
import { describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import {
  changesOf,
  Design,
  type Edit,
  heldBy,
  rootsOf,
  takeBackVisit,
  wouldTakeBack,
} from '../../../engine/document/index.ts';
import { joinDesign, openDesign, rowsOf, runAll, syncAll } from '../../support/open-design.ts';

const tie = (row: number, k: number, knot: 0 | 1 | 2 | 3 | 4) =>
  ({ kind: 'set-knots', knots: [{ row, k, knot }] }) as const;

/** What is done to a design from here on, one edit a transaction. */
function edited(design: Design, does: () => void): readonly Edit[] {
  const edits: Edit[] = [];
  const roots = rootsOf(design.doc);
  const note = (transaction: Y.Transaction): void => {
    const changes = changesOf(transaction, roots);
    edits.push({ changes, held: heldBy(changes, roots) });
  };
  design.doc.on('afterTransaction', note);
  does();
  design.doc.off('afterTransaction', note);
  return edits;
}

/** An owner, and a guest who ties two knots and takes out a pair of rows. */
function visited(): {
  readonly owner: Design;
  readonly guest: Design;
  readonly edits: readonly Edit[];
  readonly before: readonly string[];
} {
  const owner = openDesign();
  const guest = joinDesign(owner, 'guest');
  const before = rowsOf(owner);
  const edits = edited(guest, () =>
    runAll(guest, tie(0, 0, 3), tie(0, 1, 4), { kind: 'delete-row-pairs', from: 1, count: 1 }),
  );
  syncAll(owner, guest);
  expect(rowsOf(owner)).not.toEqual(before);
  return { owner, guest, edits, before };
}

describe('taking a visit back', () => {
  it('[W921] is seen beforehand, and nothing is changed by it', () => {
    const { owner, guest, edits, before } = visited();
    runAll(guest, tie(0, 0, 2));
    syncAll(owner, guest);
    const state = Y.encodeStateAsUpdate(owner.doc);
    const wouldBe = wouldTakeBack(edits, owner.doc)!;
    expect(Y.encodeStateAsUpdate(owner.doc)).toEqual(state);
    expect(wouldBe.now.board).toEqual(owner.snapshot.board);
    expect(wouldBe.kept.map(({ root, before: was, after }) => [root, was, after])).toEqual([
      ['knots', expect.any(Number), 3],
    ]);
    const { kept } = takeBackVisit(edits, owner);
    expect(kept).toEqual(wouldBe.kept);
    expect(owner.snapshot.board).toEqual(wouldBe.then.board);
    expect(rowsOf(owner).slice(1)).toEqual(before.slice(1));
    expect(wouldTakeBack([], new Y.Doc())).toBeNull();
  });

  it('[W922] is one step of undo, apart from what its maker did before and does after', () => {
    const { owner, guest, edits, before } = visited();
    runAll(owner, tie(1, 0, 2));
    syncAll(owner, guest);
    const then = rowsOf(owner);
    expect(takeBackVisit(edits, owner)).toEqual({ kept: [], result: { ok: true } });
    const back = rowsOf(owner);
    expect([back[0], ...back.slice(2)]).toEqual([before[0], ...before.slice(2)]);
    expect(back[1]).not.toBe(before[1]);
    runAll(owner, tie(3, 0, 2));
    owner.undo();
    expect(rowsOf(owner)).toEqual(back);
    owner.undo();
    expect(rowsOf(owner)).toEqual(then);
    owner.redo();
    expect(rowsOf(owner)).toEqual(back);
    syncAll(owner, guest);
    expect(rowsOf(guest)).toEqual(back);
  });

  it('[W922] by two owners at once comes to the same, and what a third ties meanwhile stays', () => {
    const { owner, guest, edits, before } = visited();
    const second = joinDesign(owner, 'second');
    takeBackVisit(edits, owner);
    takeBackVisit(edits, second);
    runAll(guest, tie(1, 0, 2));
    syncAll(owner, second, guest);
    for (const design of [owner, second, guest]) {
      expect([rowsOf(design)[0], ...rowsOf(design).slice(2)]).toEqual([before[0], ...before.slice(2)]);
      expect(design.snapshot.board.pattern.rows).toBe(before.length);
      expect(design.snapshot.board).toEqual(owner.snapshot.board);
    }
    expect(rowsOf(owner)[1]).not.toBe(before[1]);
  });

  it('[W922] of a document that holds no board is refused, and says so', () => {
    const { edits } = visited();
    const empty = new Design(new Y.Doc(), { makerId: 'm', newId: () => 'x' });
    expect(takeBackVisit(edits, empty).result).toMatchObject({
      ok: false,
      error: { kind: 'empty-document' },
    });
    expect(empty.canUndo).toBe(false);
  });
});
