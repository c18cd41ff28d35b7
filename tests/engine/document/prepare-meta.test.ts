/** How a band begins, in a document: by several makers at once, and with every way back. */
import { expect, test } from 'vitest';
import type * as Y from 'yjs';
import {
  applyCommand,
  becomeCommand,
  bringBack,
  changesOf,
  type Command,
  compactDesign,
  compareDesigns,
  type Design,
  type Edit,
  heldBy,
  mergeDesigns,
  readDesign,
  readKeyed,
  rootsOf,
  takeBackVisit,
} from '../../../engine/document/index.ts';
import { formatBoard, type Piece, parseBoard } from '../../../engine/index.ts';
import { joinDesign, openDesign, runAll, syncAll } from '../../support/open-design.ts';
import { sampleBoard } from '../../support/sample-board.ts';

type Patch = Extract<Command, { readonly kind: 'set-piece' }>['patch'];
const set = (patch: Patch): Command => ({ kind: 'set-piece', patch });
const pieceOf = (design: Design): Piece => design.snapshot.board.piece;
const hung = () => openDesign({ ...sampleBoard(), piece: { ring: 'd-ring', barMm: 19, singles: 'free' } });
const HUNG: Piece = { ring: 'd-ring', barMm: 19, singles: 'free' };

test('[D370] how a band begins merges field by field, in whatever order it arrives, and what is said of the ring waits', () => {
  const patches: readonly Patch[] = [
    { begin: 'loop', loopMm: 12 },
    { headKnot: 'braid', barMm: 25 },
    { headMm: 30, loopMm: 18 },
  ];
  const orders = [
    [0, 1, 2],
    [0, 2, 1],
    [1, 0, 2],
    [1, 2, 0],
    [2, 0, 1],
    [2, 1, 0],
  ];
  for (const order of orders) {
    const base = hung();
    const makers = patches.map((_, i) => joinDesign(base, `m${i}`));
    for (const [i, maker] of makers.entries()) runAll(maker, set(patches[i]!));
    syncAll(...order.map((i) => makers[i]!));
    syncAll(base, ...makers);
    for (const maker of makers) expect(pieceOf(maker)).toEqual(pieceOf(base));
    const { loopMm, ...rest } = pieceOf(base);
    // Of one field one value counts.
    expect([12, 18]).toContain(loopMm);
    expect(rest).toEqual({ ...HUNG, begin: 'loop', headKnot: 'braid', barMm: 25, headMm: 30 });
    expect(readDesign(compactDesign(base.doc)!)).toEqual(readDesign(base.doc));
  }
});

test('[D370] taken back it hangs from its ring again; undo and redo are one step, and nobody else’s', () => {
  const mara = hung();
  const tove = joinDesign(mara, 't');
  runAll(mara, set({ begin: 'stick', headKnot: 'none' }));
  runAll(tove, set({ tailMm: 50 }));
  syncAll(mara, tove);
  mara.undo();
  expect(pieceOf(mara)).toEqual({ ...HUNG, tailMm: 50 });
  mara.redo();
  expect(pieceOf(mara)).toEqual({ ...HUNG, tailMm: 50, begin: 'stick', headKnot: 'none' });
  runAll(mara, set({ begin: null, headKnot: null }));
  syncAll(mara, tove);
  expect(pieceOf(tove)).toEqual({ ...HUNG, tailMm: 50 });
});

test('[D370] what cannot be is refused with its field, and what a peer wrote of it is left out', () => {
  const design = hung();
  for (const [patch, path] of [
    [{ begin: 'knot' }, 'patch.begin'],
    [{ headKnot: 'tassel' }, 'patch.headKnot'],
    [{ headMm: -1 }, 'patch.headMm'],
    [{ loopMm: 0 }, 'patch.loopMm'],
  ] as const)
    expect(design.run(set(patch as Patch))).toMatchObject({
      ok: false,
      error: { kind: 'out-of-range', path },
    });
  expect(pieceOf(design)).toEqual(HUNG);
  const meta = design.doc.getMap('meta');
  const board = String(meta.get('generation')).split('.')[0]!;
  meta.set(`${board}.piece.begin`, 'knot');
  const { board: read, repairs } = readDesign(design.doc);
  expect(read.piece).toEqual(HUNG);
  expect(repairs).toEqual([{ kind: 'piece-unreadable', path: 'meta.piece.begin', count: 1 }]);
});

test('[D371] a proposal says how the band begins, and what both changed is asked about', () => {
  const base = hung();
  const [ours, theirs] = [joinDesign(base, 'o'), joinDesign(base, 't')];
  runAll(ours, set({ begin: 'loose', barMm: null }));
  runAll(theirs, set({ begin: 'loop', loopMm: 12 }));
  const keyed = [base, ours, theirs].map(({ doc }) => readKeyed(doc)!);
  const { changes, conflicts } = mergeDesigns(keyed[0]!, keyed[1]!, keyed[2]!);
  const loop = { kind: 'piece', field: 'loopMm', before: null, after: 12 };
  expect(changes).toEqual([loop]);
  expect(conflicts).toEqual([
    { why: 'both-changed', changes: [{ kind: 'piece', field: 'begin', before: 'loose', after: 'loop' }] },
  ]);
  runAll(ours, applyCommand([...changes, ...conflicts[0]!.changes], keyed[2]!));
  expect(pieceOf(ours)).toEqual({ ring: 'd-ring', singles: 'free', begin: 'loop', loopMm: 12 });
});

test('[D371] an earlier version brings back how the band began, and a file of it is read the same', () => {
  const design = hung();
  const then = readKeyed(design.doc)!;
  runAll(design, set({ begin: 'loop', loopMm: 12, headMm: 30, headKnot: 'braid' }));
  const now = readKeyed(design.doc)!;
  expect(parseBoard(JSON.stringify(formatBoard(now.board)))).toEqual({ ok: true, value: now.board });
  expect(
    compareDesigns(then, now)
      .map((change) => (change as { field?: string }).field)
      .sort(),
  ).toEqual(['begin', 'headKnot', 'headMm', 'loopMm']);
  const back = bringBack(now, now, then);
  if (!back.ok) throw new Error(back.error.kind);
  runAll(design, becomeCommand(back.value));
  expect(pieceOf(design)).toEqual(HUNG);
});

test('[D371] what a guest said of it in a visit can be taken back, and what came after stays', () => {
  const owner = hung();
  const guest = joinDesign(owner, 'guest');
  const edits: Edit[] = [];
  const roots = rootsOf(guest.doc);
  guest.doc.on('afterTransaction', (transaction: Y.Transaction) => {
    const changes = changesOf(transaction, roots);
    edits.push({ changes, held: heldBy(changes, roots) });
  });
  runAll(guest, set({ begin: 'loop', loopMm: 12 }));
  const said = [...edits];
  syncAll(owner, guest);
  runAll(owner, set({ loopMm: 20 }));
  expect(takeBackVisit(said, owner).result).toEqual({ ok: true });
  syncAll(owner, guest);
  for (const design of [owner, guest]) expect(pieceOf(design)).toEqual({ ...HUNG, loopMm: 20 });
});
