/** A design that goes on in the next generation of its document, with what is in hand. */
import { describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import {
  carryOver,
  type Command,
  compactDesign,
  Design,
  designText,
  loadBoard,
  readDesign,
  writeBoard,
} from '../../../engine/document/index.ts';
import { formatBoard } from '../../../engine/index.ts';
import { randomCommand } from '../../convergence/random-command.ts';
import { cases, firstSeed, seedFailed } from '../../support/depth.ts';
import { countingIds, sampleBoard } from '../../support/sample-board.ts';
import { seededRandom } from '../../support/seeded-random.ts';

const newId = countingIds('c');
const designOf = (doc: Y.Doc): Design => new Design(doc, { makerId: 'wren', newId, captureMs: 0 });
const shown = (doc: Y.Doc): unknown => {
  const { board, rowPairIds, stringPairIds } = readDesign(doc);
  return [formatBoard(board), rowPairIds, stringPairIds];
};

/** A document, a copy of it, and the next generation. */
function generations(): { readonly mine: Y.Doc; readonly next: Y.Doc } {
  const base = new Y.Doc();
  writeBoard(base, sampleBoard(), countingIds('w'));
  const mine = new Y.Doc();
  Y.applyUpdate(mine, Y.encodeStateAsUpdate(base));
  return { mine, next: compactDesign(base)! };
}

const IN_HAND: Readonly<Record<string, readonly Command[]>> = {
  nothing: [],
  'a knot': [{ kind: 'set-knots', knots: [{ row: 1, k: 0, knot: 3 }] }],
  'rows with a knot': [
    { kind: 'insert-row-pairs', at: 1, count: 2 },
    { kind: 'set-knots', knots: [{ row: 2, k: 0, knot: 2 }] },
  ],
  'rows and strings taken out': [
    { kind: 'delete-row-pairs', from: 0, count: 1 },
    { kind: 'delete-string-pairs', from: 0, count: 1 },
  ],
  'a title and a colour': [
    { kind: 'set-title', title: 'Kites' },
    { kind: 'add-colour', id: 'moss', name: 'Moss', hex: '#446633' },
    { kind: 'recolour-strings', strings: [0], colour: 'moss' },
  ],
  'another board': [loadBoard({ ...sampleBoard(), title: 'Another' })],
};

describe('what is in hand', () => {
  it.each(Object.keys(IN_HAND))('[W1040] %s: the next generation shows it, under the same ids', (name) => {
    const { mine, next } = generations();
    const design = designOf(mine);
    for (const command of IN_HAND[name]!) expect(design.run(command)).toEqual({ ok: true });
    expect(carryOver(mine, next, newId)).toBe(true);
    expect(shown(next)).toEqual(shown(mine));
  });

  it('[W1040] what was taken back is carried too, and where nothing is in hand nothing is written', () => {
    const { mine, next } = generations();
    const design = designOf(mine);
    design.run({ kind: 'set-knots', knots: [{ row: 0, k: 0, knot: 4 }] });
    design.undo();
    let writes = 0;
    next.on('update', () => {
      writes += 1;
    });
    expect(carryOver(mine, next, newId)).toBe(true);
    expect([shown(next), writes]).toEqual([shown(mine), 0]);
  });

  it('[W1040] a document without a board is not carried over, and nothing into one', () => {
    expect(carryOver(new Y.Doc(), generations().next, newId)).toBe(false);
    const empty = new Y.Doc();
    expect([carryOver(generations().mine, empty, newId), empty.store.clients.size]).toEqual([false, 0]);
  });

  it('[W1040] so it is for any sequence of edits, undo and redo among them', () => {
    for (let seed = firstSeed; seed < firstSeed + 30; seed += 1) {
      const random = seededRandom(seed);
      const { mine, next } = generations();
      const design = designOf(mine);
      for (let step = 0; step < 20; step += 1) {
        const { rowPairIds, stringPairIds, board } = design.snapshot;
        const deeds: (() => unknown)[] = [
          () => design.run({ kind: 'insert-row-pairs', at: random.below(rowPairIds.length + 1), count: 1 }),
          () => design.run({ kind: 'delete-row-pairs', from: random.below(rowPairIds.length), count: 1 }),
          () =>
            design.run({ kind: 'insert-string-pairs', at: random.below(stringPairIds.length + 1), count: 1 }),
          () => design.run({ kind: 'set-title', title: `t${step}` }),
          () => design.undo(),
          () => design.redo(),
        ];
        const knot = (): unknown =>
          design.run({
            kind: 'set-knots',
            knots: [{ row: random.below(board.pattern.rows), k: 0, knot: 2 }],
          });
        if (board.pattern.rows > 0) deeds.push(knot, knot, knot);
        random.pick(deeds)();
      }
      expect(carryOver(mine, next, newId), seedFailed(seed)).toBe(true);
      expect(shown(next), seedFailed(seed)).toEqual(shown(mine));
    }
  });
});

describe('a design goes on in another document', () => {
  it('[W1041] where both show the same nobody is told, and the snapshot stays the same object', () => {
    const { mine, next } = generations();
    const design = designOf(mine);
    let told = 0;
    design.subscribe(() => {
      told += 1;
    });
    const before = design.snapshot;
    design.moveTo(next);
    expect([design.snapshot === before, told, design.doc === next]).toEqual([true, 0, true]);
    expect(design.run({ kind: 'set-title', title: 'On the next' })).toEqual({ ok: true });
    expect([told, readDesign(next).board.title]).toEqual([1, 'On the next']);
    expect(readDesign(mine).board.title).toBe(before.board.title);
    expect([design.undo(), readDesign(next).board.title]).toEqual([true, before.board.title]);
  });

  it('[W1046] what was done in the former document is undone and done again in the next one', () => {
    const { mine, next } = generations();
    const design = designOf(mine);
    const states = [shown(mine)];
    for (const command of [...IN_HAND['a knot']!, ...IN_HAND['a title and a colour']!]) {
      design.run(command);
      states.push(shown(mine));
    }
    expect(carryOver(mine, next, newId)).toBe(true);
    design.moveTo(next);
    for (const state of states.slice(0, -1).reverse()) {
      expect(design.undo()).toBe(true);
      expect(shown(next)).toEqual(state);
    }
    expect(design.canUndo).toBe(false);
    while (design.redo());
    expect(shown(next)).toEqual(states.at(-1));
  });

  it('[D305] [W1046] so it is for any sequence of edits, removals among them, and renewals in between', () => {
    let [removals, renewals] = [0, 0];
    const seeds = cases(25, 500);
    for (let seed = firstSeed; seed < firstSeed + seeds; seed += 1) {
      const random = seededRandom(seed);
      const design = designOf(generations().mine);
      // Each state that was shown, once for as long as it was.
      const states: unknown[] = [];
      const note = (): void => {
        const state = JSON.stringify(shown(design.doc));
        if (state !== states.at(-1)) states.push(state);
      };
      const edit = (): void => {
        const rows = design.snapshot.rowPairIds.length;
        const command = randomCommand(random, design.snapshot);
        // Nobody gives a colour the id of another one.
        design.run(
          command.kind === 'add-colour'
            ? { kind: 'add-colour', name: command.name, hex: command.hex }
            : command,
        );
        if (design.snapshot.rowPairIds.length < rows) removals += 1;
      };
      const renew = (act: () => unknown): void => {
        const ended = new Y.Doc();
        Y.applyUpdate(ended, Y.encodeStateAsUpdate(design.doc));
        // What the server has not got yet is in hand.
        if (random.chance(0.5)) {
          act();
          note();
        }
        const next = compactDesign(ended)!;
        expect(carryOver(design.doc, next, newId), seedFailed(seed)).toBe(true);
        design.moveTo(next);
        renewals += 1;
      };
      const step = (act: () => unknown): void => {
        act();
        note();
        if (random.chance(0.2)) renew(act);
      };
      note();
      for (let count = 0; count < 16; count += 1) step(edit);
      const done = [...states].reverse();
      states.splice(0, states.length, done[0]);
      while (design.canUndo) step(() => design.undo());
      note();
      expect(states, seedFailed(seed)).toEqual(done);
      states.splice(0, states.length, states.at(-1));
      while (design.canRedo) step(() => design.redo());
      note();
      expect(states, seedFailed(seed)).toEqual(done.reverse());
    }
    // More than half of the runs each.
    expect(Math.min(removals, renewals)).toBeGreaterThanOrEqual(Math.floor(seeds * 0.6));
  });

  it('[D318] whose it is that stands in the way of an undo is told after a renewal as before, and after another', () => {
    const { mine } = generations();
    const design = designOf(mine);
    const tie = (row: number, knot: 3 | 4) => ({ kind: 'set-knots', knots: [{ row, k: 0, knot }] }) as const;
    design.run(tie(0, 3));
    design.run(tie(1, 3));
    /** Somebody else changes what stands there now. */
    const change = (row: number): number => {
      const other = new Y.Doc();
      Y.applyUpdate(other, Y.encodeStateAsUpdate(design.doc));
      designOf(other).run(tie(row, 4));
      Y.applyUpdate(design.doc, Y.encodeStateAsUpdate(other));
      return other.clientID;
    };
    const before = change(0);
    design.moveTo(compactDesign(design.doc)!);
    const between = change(1);
    design.moveTo(compactDesign(design.doc)!);
    const told: unknown[] = [];
    design.onUndoNews(({ isTaken, kept }) => told.push([isTaken, kept.map(({ client }) => client)]));
    expect([design.undo(), design.undo()]).toEqual([true, true]);
    expect(told).toEqual([
      [false, [between]],
      [false, [before]],
    ]);
  });

  it('[W1041] what others do there is read, what is done in the former document is not', () => {
    const { mine, next } = generations();
    const design = designOf(mine);
    design.moveTo(next);
    designOf(mine).run({ kind: 'set-title', title: 'former' });
    expect(design.snapshot.board.title).not.toBe('former');
    designOf(next).run({ kind: 'set-knots', knots: [{ row: 0, k: 0, knot: 4 }] });
    expect(design.snapshot).toEqual(readDesign(next));
  });

  it('[W1041] where the other shows more everybody is told, and what is the same stays the same object', () => {
    const { mine, next } = generations();
    designOf(next).run({ kind: 'set-title', title: 'More' });
    const design = designOf(mine);
    const told: unknown[] = [];
    design.subscribe((snapshot, change) => told.push([snapshot.board.title, change]));
    const { palette } = design.snapshot.board;
    design.moveTo(next);
    expect(told).toEqual([['More', { kind: 'structure', local: false }]]);
    expect(design.snapshot.board.palette).toBe(palette);
  });

  it('[W1041] its texts go on there as well, and those who write them are told what others wrote meanwhile', () => {
    const { mine, next } = generations();
    const design = designOf(mine);
    const another = new Y.Doc();
    /** What somebody else writes there. */
    const write = (doc: Y.Doc, title: string): void => {
      Y.applyUpdate(another, Y.encodeStateAsUpdate(doc));
      designOf(another).run({ kind: 'set-title', title });
      Y.applyUpdate(doc, Y.encodeStateAsUpdate(another));
    };
    const text = designText(design, { of: 'title' });
    const told: unknown[] = [];
    text.listen((now, joint, isOwn) => told.push([now, joint, isOwn]));
    write(next, 'Meanwhile');
    design.moveTo(next);
    expect(told).toEqual([['Meanwhile', 'Meanwhile', false]]);
    designOf(mine).run({ kind: 'set-title', title: 'In the former one' });
    write(next, 'Afterwards');
    expect(told.slice(1)).toEqual([['Afterwards', 'Afterwards', false]]);
    expect([text.write('On the next'), readDesign(next).board.title]).toEqual([null, 'On the next']);
    expect(told).toHaveLength(2);
  });

  it('[W1041] within a transaction it is refused', () => {
    const { mine, next } = generations();
    const design = designOf(mine);
    mine.transact(() => expect(() => design.moveTo(next)).toThrow(TypeError));
    next.transact(() => expect(() => design.moveTo(next)).toThrow(TypeError));
    expect(design.doc).toBe(mine);
  });
});
