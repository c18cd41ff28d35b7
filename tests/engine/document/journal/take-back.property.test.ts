/** Random work of several makers, as changes: they say all that happened, and an edit taken back leaves what others did since. */
import { expect, test } from 'vitest';
import * as Y from 'yjs';
import { compactDesign, type DesignSnapshot, readDesign } from '../../../../engine/document/index.ts';
import {
  changesOf,
  encodeEdit,
  foldEdits,
  heldBy,
  type Edit,
  readEdit,
  takeBack,
} from '../../../../engine/document/journal/index.ts';
import { doAgain } from '../../../../engine/document/journal/take-back.ts';
import { rootsOf } from '../../../../engine/document/schema.ts';
import { applyWrites } from '../../../../engine/document/writes.ts';
import { Run } from '../../../convergence/makers.ts';
import { cases, firstSeed, seedFailed } from '../../../support/depth.ts';
import { numberedDoc } from '../../../support/open-design.ts';

const RUNS = cases(60, 500);
const seeds = Array.from({ length: RUNS }, (_, i) => firstSeed + i);

/** Of a client that wrote none of it. */
function copyOf(doc: Y.Doc, clientId = 900_000): Y.Doc {
  const copy = numberedDoc(clientId);
  Y.applyUpdate(copy, Y.encodeStateAsUpdate(doc));
  return copy;
}

/** What a document shows, under its ids. What was mended is not compared: a list of changes has no faults to mend. */
function shownIn(doc: Y.Doc): Omit<DesignSnapshot, 'repairs'> {
  const { board, rowPairIds, stringPairIds } = readDesign(doc);
  return { board, rowPairIds, stringPairIds };
}

function editOf(transaction: Y.Transaction): Edit {
  const roots = rootsOf(transaction.doc);
  const changes = changesOf(transaction, roots);
  return { changes, held: heldBy(changes, roots) };
}

/** Through bytes and back, as a store keeps it. */
function stored(edit: Edit): Edit {
  const read = readEdit(encodeEdit(edit));
  if (!read.ok) throw new Error(`not read: ${read.error.kind}`);
  return read.edit;
}

function does(doc: Y.Doc, { writes }: ReturnType<typeof takeBack>): void {
  doc.transact(() => applyWrites(writes));
}

function eachSeed(run: (seed: number) => void): void {
  for (const seed of seeds)
    try {
      run(seed);
    } catch (cause) {
      throw new Error(seedFailed(seed), { cause });
    }
}

test('[D300] [D301] what transactions changed, done again one by one elsewhere, gives what the document shows', () => {
  eachSeed((seed) => {
    const run = new Run(seed, { makers: 3, steps: 60 });
    const mirrors = run.makers.map(({ design: { doc } }) => {
      const mirror = copyOf(doc);
      doc.on('afterTransaction', (transaction: Y.Transaction) => {
        if (transaction.changed.size > 0) does(mirror, doAgain(stored(editOf(transaction)), mirror));
      });
      return mirror;
    });
    for (let step = 0; step < 60; step++) {
      run.step(step);
      run.makers.forEach(({ design }, m) => {
        expect(shownIn(mirrors[m]!)).toEqual(shownIn(design.doc));
      });
    }
  });
});

test('[D304] edits that follow each other, folded into one and taken back, give what was there before the first', () => {
  eachSeed((seed) => {
    const run = new Run(seed, { makers: 1, steps: 60 });
    const { doc } = run.makers[0]!.design;
    const edits: { readonly before: unknown; readonly edit: Edit }[] = [];
    let before: unknown = shownIn(doc);
    doc.on('afterTransaction', (transaction: Y.Transaction) => {
      if (transaction.changed.size > 0) edits.push({ before, edit: editOf(transaction) });
      before = shownIn(doc);
    });
    run.work();
    for (let count = 2; count <= 6; count++) {
      const copy = copyOf(doc);
      const [last] = edits.slice(-count);
      const { writes, kept } = takeBack(stored(foldEdits(edits.slice(-count).map(({ edit }) => edit))), copy);
      copy.transact(() => applyWrites(writes));
      expect([shownIn(copy), kept]).toEqual([last!.before, []]);
    }
  });
});

test('[D305] [D306] [D308] [D309] an edit taken back at once gives what was there before, whatever it was, also after a renewal', () => {
  eachSeed((seed) => {
    const run = new Run(seed, { makers: 1, steps: 60 });
    const { doc } = run.makers[0]!.design;
    let last: Edit | null = null;
    doc.on('afterTransaction', (transaction: Y.Transaction) => {
      // Of a load this is what names it; what it loads is not taken back.
      if (transaction.changed.size > 0) last = editOf(transaction);
    });
    for (let step = 0; step < 60; step++) {
      const before = readDesign(doc);
      last = null;
      run.step(step);
      if (last === null) continue;
      const copy = copyOf(doc);
      const { writes, kept } = takeBack(stored(last), copy);
      expect(kept).toEqual([]);
      copy.transact(() => applyWrites(writes));
      expect(readDesign(copy)).toEqual(before);
      const renewed = compactDesign(doc)!;
      does(renewed, takeBack(stored(last), renewed));
      expect(readDesign(renewed)).toEqual(before);
    }
  });
});

test('[D307] [D314] [D369] taken back later, everybody writes the same, and a renewed document shows the same', () => {
  let different = 0;
  eachSeed((seed) => {
    const run = new Run(seed, { makers: 3, steps: 60 });
    const own: Edit[] = [];
    const { doc } = run.makers[0]!.design;
    doc.on('afterTransaction', (transaction: Y.Transaction) => {
      if (transaction.local && transaction.changed.size > 0) own.push(editOf(transaction));
    });
    run.work();
    const at = run.random.below(own.length);
    const step = stored(foldEdits(own.slice(at, at + 1 + run.random.below(4))));
    const replicas = run.makers.map(({ design }) => copyOf(design.doc));
    for (const replica of replicas) does(replica, takeBack(step, replica));
    const [first, ...others] = replicas;
    const shown = readDesign(first!);
    for (const other of others) expect(readDesign(other)).toEqual(shown);
    for (const other of others) Y.applyUpdate(first!, Y.encodeStateAsUpdate(other));
    const renewed = compactDesign(doc)!;
    // A string of a colour that somebody removed at the same time has what replaces it, written down by a renewal.
    const isFollowed = step.changes.some(
      ({ root, key }) =>
        root === 'colours' &&
        doc.getMap(root).get(key) !== renewed.getMap(root).get(key) &&
        renewed.getMap(root).has(key),
    );
    does(renewed, takeBack(step, renewed));
    if (JSON.stringify(shownIn(doc)) !== JSON.stringify(shownIn(first!))) different++;
    // What others did unseen, in a pattern that is not named or rows that are out, is gone with a renewal.
    if (step.changes.some(({ key, after }) => key === 'generation' || after === null)) return;
    if (isFollowed) return;
    // What is read otherwise than it was written is written down as it reads (D369).
    const isMended = readDesign(doc).repairs.some(
      ({ kind }) => kind === 'lead-in-too-long' || kind === 'piece-twofold',
    );
    const shownAll = (of: Y.Doc): unknown => {
      const { board, ...ids } = shownIn(of);
      const { leadInRows, repeats, ...piece } = board.piece;
      return isMended ? { board: { ...board, piece }, ...ids } : { board, ...ids };
    };
    expect(shownAll(renewed)).toEqual(shownAll(first!));
  });
  if (RUNS > 1) expect(different).toBeGreaterThan(RUNS / 3);
});

test('[D315] an edit comes back from its bytes; other bytes, and those of a later version, are refused', () => {
  const edit: Edit = {
    changes: [{ root: 'palette', key: 'b.red:hex', before: '#ff0000', after: '#00ff00' }],
    held: { lists: [], values: [], bases: [] },
  };
  const bytes = encodeEdit(edit);
  expect(readEdit(bytes)).toEqual({ ok: true, edit });
  for (const other of [new Uint8Array(0), bytes.slice(0, -1), Uint8Array.of(1, 2, 3)])
    expect(readEdit(other)).toMatchObject({ ok: false });
  const alien = encodeEdit({ ...edit, changes: [{ ...edit.changes[0]!, key: 'x'.repeat(100_000) }] });
  expect(readEdit(alien)).toMatchObject({ ok: false });
});
