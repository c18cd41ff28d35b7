/** What is told of others' edits to one's own work, and putting it back: designs joined by hand. */
import { describe, expect, it } from 'vitest';
import type * as Y from 'yjs';
import {
  type Command,
  type Design,
  isBack,
  type Lost,
  OwnWork,
  presentValue,
  placeOfLost,
  putBack,
  watchEdits,
} from '../../../../engine/document/index.ts';
import { joinDesign, openDesign, rowsOf, runAll, stringsOf, syncAll } from '../../../support/open-design.ts';

/** A maker, and all that was lost of her work, with the clients that took it. */
function maker(design: Design) {
  const own = new OwnWork();
  const lost: { readonly client: number | null; readonly lost: Lost }[] = [];
  watchEdits(design.doc, {
    onOwn: (changes) => own.wrote(changes),
    onOthers: (edits) => {
      for (const { client, changes } of edits)
        for (const one of own.taken(changes)) lost.push({ client, lost: one });
    },
  });
  const shown = (): readonly string[] =>
    lost.map(
      ({ lost: { kind, isRemoved, isWhole } }) =>
        `${isRemoved ? 'removed' : 'changed'} ${kind}${isWhole ? ' with all' : ''}`,
    );
  return { design, own, lost, shown, all: () => lost.map((one) => one.lost) };
}

function two() {
  const mia = maker(openDesign());
  const tom = maker(joinDesign(mia.design, 'tom'));
  return { mia, tom, sync: () => syncAll(mia.design, tom.design) };
}

const tie = (row: number, k: number, knot: 0 | 1 | 2 | 3 | 4): Command => ({
  kind: 'set-knots',
  knots: [{ row, k, knot }],
});
const idOf = ({ doc }: Design): number => (doc as Y.Doc).clientID;
const WAY = { id: 'x', name: 'For Mia', colours: [{ id: 'r', name: 'brick', hex: '#993311' }] } as const;

describe('own work', () => {
  it('[D333] a knot that others tie over is lost once, by who did; others’ own and those never tied are not', () => {
    const { mia, tom, sync } = two();
    runAll(mia.design, tie(0, 0, 2), tie(1, 0, 3));
    sync();
    runAll(tom.design, tie(0, 0, 4), tie(2, 1, 1));
    sync();
    expect(mia.shown()).toEqual(['changed knot']);
    expect(mia.lost[0]!.client).toBe(idOf(tom.design));
    runAll(tom.design, tie(0, 0, 1));
    sync();
    expect(mia.shown()).toHaveLength(1);
    expect(tom.shown()).toEqual([]);
    // Tied once more it is hers again.
    runAll(mia.design, tie(0, 0, 3));
    sync();
    expect(tom.shown()).toEqual(['changed knot']);
    runAll(tom.design, tie(0, 0, 2));
    sync();
    expect(mia.shown()).toHaveLength(2);
  });

  it('[D333] what she untied, undid or left as it was is no loss when others tie there', () => {
    const { mia, tom, sync } = two();
    runAll(mia.design, tie(0, 0, 2), tie(0, 0, 0), tie(1, 0, 3));
    mia.design.undo();
    sync();
    runAll(tom.design, tie(0, 0, 4), tie(1, 0, 2));
    sync();
    expect(mia.shown()).toEqual([]);
  });

  it('[D333] untying is removing; the same knot once more is nothing', () => {
    const { mia, tom, sync } = two();
    runAll(mia.design, tie(0, 0, 2));
    sync();
    runAll(tom.design, tie(0, 0, 2));
    sync();
    expect(mia.shown()).toEqual([]);
    runAll(tom.design, tie(0, 0, 0));
    sync();
    expect(mia.shown()).toEqual(['removed knot']);
  });

  it('[D333] of two who tied the same apart, the one whose knot does not stand hears of it when they meet', () => {
    const { mia, tom, sync } = two();
    runAll(mia.design, tie(0, 0, 2));
    runAll(tom.design, tie(0, 0, 4));
    sync();
    const [shown] = rowsOf(mia.design);
    expect(rowsOf(tom.design)[0]).toBe(shown);
    const losers = [mia, tom].filter(({ lost }) => lost.length > 0);
    expect(losers.map((one) => one.shown())).toEqual([['changed knot']]);
    const [loser] = losers;
    expect(loser!.lost[0]!.client).toBe(idOf((loser === mia ? tom : mia).design));
  });

  it('[D334] rows and strings that go take her knots and colours along, and the pairs she put in', () => {
    const { mia, tom, sync } = two();
    runAll(
      mia.design,
      { kind: 'insert-row-pairs', at: 1, count: 1 },
      tie(0, 0, 2),
      tie(2, 0, 2),
      tie(2, 1, 3),
    );
    sync();
    runAll(tom.design, { kind: 'delete-row-pairs', from: 1, count: 1 });
    sync();
    expect(mia.shown().toSorted()).toEqual(['removed knot', 'removed knot', 'removed row']);
    runAll(mia.design, { kind: 'recolour-strings', strings: [0], colour: 'g' });
    sync();
    runAll(tom.design, { kind: 'delete-string-pairs', from: 0, count: 1 });
    sync();
    expect(mia.shown().slice(3).toSorted()).toEqual(['removed colour', 'removed knot']);
  });

  it('[D332] [D334] a colour, a colourway, a title and notes are one thing each, whatever of them is changed', () => {
    const { mia, tom, sync } = two();
    runAll(
      mia.design,
      { kind: 'add-colour', id: 'z', name: 'plum', hex: '#552244' },
      { kind: 'put-colourway', colourway: WAY },
      { kind: 'set-title', title: 'Kites' },
      { kind: 'set-piece', patch: { notes: 'two of each', repeats: 4 } },
    );
    sync();
    runAll(
      tom.design,
      { kind: 'edit-colour', id: 'z', name: 'wine', hex: '#661122' },
      { kind: 'put-colourway', colourway: { ...WAY, name: 'For Tom', colours: [] } },
      { kind: 'set-title', title: 'Tails' },
      { kind: 'set-piece', patch: { notes: 'one of each', repeats: 2 } },
    );
    sync();
    const things = new Set(mia.all().map(({ thing }) => thing));
    expect([things.size, new Set(mia.shown())]).toEqual([
      4,
      new Set(['changed colour', 'changed colourway', 'changed text']),
    ]);
    runAll(mia.design, { kind: 'put-colourway', colourway: { ...WAY, name: 'For Mia again' } });
    sync();
    runAll(
      tom.design,
      { kind: 'remove-colourway', id: 'x' },
      { kind: 'remove-colour', id: 'z', replaceWith: 'r' },
    );
    sync();
    expect(new Set(mia.shown())).toContain('removed colourway');
  });

  it('[D334] a pattern that others put in place of hers takes all in it, and is not put back by itself', () => {
    const { mia, tom, sync } = two();
    runAll(mia.design, tie(0, 0, 2), tie(1, 0, 3), { kind: 'set-title', title: 'Kites' });
    sync();
    const { pattern } = tom.design.snapshot.board;
    runAll(tom.design, { kind: 'replace-pattern', pattern });
    sync();
    expect(mia.shown()).toEqual(['removed knot with all', 'removed knot with all']);
    expect(putBack(mia.all(), mia.design.doc)).toEqual({ command: null, kept: 2 });
    expect(placeOfLost(mia.design, mia.all())).toEqual({ kind: 'versions' });
  });

  it('[D335] where the edits in between are not known, what differs now is lost', () => {
    const { mia, tom, sync } = two();
    runAll(mia.design, tie(0, 0, 2), tie(1, 0, 3), { kind: 'insert-row-pairs', at: 0, count: 1 });
    sync();
    const kept = new OwnWork();
    watchEdits(mia.design.doc, { onOwn: (changes) => kept.wrote(changes), onOthers: () => {} });
    runAll(mia.design, tie(4, 0, 1), tie(5, 0, 4));
    sync();
    runAll(tom.design, tie(4, 0, 2), { kind: 'delete-row-pairs', from: 0, count: 1 });
    sync();
    const { doc } = mia.design;
    expect(kept.compare((root, key) => presentValue(doc, root, key)).map(({ kind }) => kind)).toEqual([
      'knot',
    ]);
    // It is told once.
    expect(kept.compare((root, key) => presentValue(doc, root, key))).toEqual([]);
  });

  it('[D331] two who wrote in one update are told apart; what one alone took away is theirs', () => {
    const { mia, tom, sync } = two();
    const ina = joinDesign(mia.design, 'ina');
    runAll(mia.design, tie(0, 0, 2), tie(1, 0, 2), tie(2, 0, 4));
    sync();
    syncAll(mia.design, tom.design, ina);
    runAll(tom.design, tie(0, 0, 3));
    runAll(ina, tie(1, 0, 3));
    syncAll(tom.design, ina);
    sync();
    expect(mia.lost.map(({ client }) => client).toSorted()).toEqual([idOf(tom.design), idOf(ina)].toSorted());
    runAll(ina, { kind: 'delete-row-pairs', from: 1, count: 1 });
    syncAll(ina, mia.design);
    // Nothing was written, so nobody can be named.
    expect(mia.lost.at(-1)).toMatchObject({ client: null, lost: { isRemoved: true } });
  });
});

describe('putting back', () => {
  it('[D336] is one step of undo and one edit: what still stands as they left it is as it was, the rest stays', () => {
    const { mia, tom, sync } = two();
    runAll(mia.design, tie(0, 0, 2), tie(1, 0, 3), tie(2, 0, 4));
    sync();
    const was = rowsOf(mia.design);
    runAll(tom.design, tie(0, 0, 1), tie(1, 0, 1), tie(2, 0, 1));
    sync();
    const ina = joinDesign(mia.design, 'ina');
    runAll(ina, tie(2, 0, 2));
    syncAll(ina, mia.design);
    const before = rowsOf(mia.design);
    const { command, kept } = putBack(mia.all(), mia.design.doc);
    expect(kept).toBe(1);
    runAll(mia.design, command!);
    expect(rowsOf(mia.design).slice(0, 2)).toEqual(was.slice(0, 2));
    expect(rowsOf(mia.design)[2]).toBe(before[2]);
    mia.design.undo();
    expect(rowsOf(mia.design)).toEqual(before);
    mia.design.redo();
    expect(rowsOf(mia.design).slice(0, 2)).toEqual(was.slice(0, 2));
  });

  it('[D336] brings back rows with their knots, strings, colours, colourways and titles', () => {
    const { mia, tom, sync } = two();
    runAll(
      mia.design,
      tie(2, 0, 4),
      { kind: 'recolour-strings', strings: [2], colour: 'g' },
      { kind: 'put-colourway', colourway: WAY },
      { kind: 'set-title', title: 'Kites' },
    );
    sync();
    const was = mia.design.snapshot.board;
    const [rows, strings] = [rowsOf(mia.design), stringsOf(mia.design)];
    runAll(
      tom.design,
      { kind: 'delete-row-pairs', from: 1, count: 1 },
      { kind: 'delete-string-pairs', from: 1, count: 1 },
      { kind: 'remove-colourway', id: 'x' },
      { kind: 'set-title', title: 'Tails' },
    );
    sync();
    expect(rowsOf(mia.design)).not.toEqual(rows);
    const { command, kept } = putBack(mia.all(), mia.design.doc);
    runAll(mia.design, command!);
    expect([kept, rowsOf(mia.design), stringsOf(mia.design)]).toEqual([0, rows, strings]);
    expect(mia.design.snapshot.board.colourways).toEqual(was.colourways);
    expect(mia.design.snapshot.board.title).toBe('Kites');
    for (const { change } of mia.all()) expect(isBack(mia.design.doc, change)).toBe(true);
  });

  it('[D336] of nothing that can be put back there is no command', () => {
    const { mia, tom, sync } = two();
    runAll(mia.design, tie(0, 0, 2));
    sync();
    runAll(tom.design, tie(0, 0, 1));
    sync();
    const ina = joinDesign(mia.design, 'ina');
    runAll(ina, tie(0, 0, 3));
    syncAll(ina, mia.design);
    expect(putBack(mia.all(), mia.design.doc)).toEqual({ command: null, kept: 1 });
  });
});

describe('where it is', () => {
  it('[D337] knots and strings on the board, a row where it stood, the rest where it is changed', () => {
    const { mia, tom, sync } = two();
    const placeAfter = (mine: readonly Command[], theirs: readonly Command[]) => {
      const count = mia.lost.length;
      runAll(mia.design, ...mine);
      sync();
      runAll(tom.design, ...theirs);
      sync();
      return placeOfLost(mia.design, mia.all().slice(count));
    };
    expect(placeAfter([tie(1, 1, 4)], [tie(1, 1, 1)])).toEqual({ kind: 'knots', knots: [{ row: 1, k: 1 }] });
    expect(placeAfter([tie(2, 1, 1)], [{ kind: 'delete-row-pairs', from: 1, count: 1 }])).toEqual({
      kind: 'row',
      row: expect.any(Number),
    });
    const recolour = (colour: string): Command => ({ kind: 'recolour-strings', strings: [1], colour });
    expect(placeAfter([recolour('b')], [recolour('r')])).toEqual({ kind: 'strings', strings: [1] });
    const name = (called: string): Command => ({ kind: 'edit-colour', id: 'g', name: called });
    expect(placeAfter([name('moss')], [name('fern')])).toEqual({ kind: 'colours' });
    const notes = (text: string): Command => ({ kind: 'set-piece', patch: { notes: text } });
    expect(placeAfter([notes('a')], [notes('b')])).toEqual({ kind: 'notes' });
    const title = (text: string): Command => ({ kind: 'set-title', title: text });
    expect(placeAfter([title('a')], [title('b')])).toEqual({ kind: 'title' });
    const way = (called: string): Command => ({ kind: 'put-colourway', colourway: { ...WAY, name: called } });
    expect(placeAfter([way('a')], [way('b')])).toEqual({ kind: 'colourway', id: 'x' });
    expect(placeAfter([way('c')], [{ kind: 'remove-colourway', id: 'x' }])).toBeNull();
  });
});
