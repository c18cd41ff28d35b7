/** Edits of an ended generation are brought over to the next one. */
import { describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import {
  type Command,
  compactDesign,
  loadBoard,
  readDesign,
  writeBoard,
} from '../../../../engine/document/index.ts';
import { knotAt } from '../../../../engine/pattern/pattern.ts';
import { blankBoard } from '../../../../server/boards/blank-board.ts';
import { bringOver } from '../../../../server/sync/renewal/bring-over.ts';
import { seededRandom } from '../../chaos.ts';
import { designOf, fileOf, newId, runAll } from '../../edited-designs.ts';

/** The document of an ended generation, a client's copy of it, and that of the next one. */
function generations(prepare: readonly Command[] = []): { base: Y.Doc; mine: Y.Doc; into: Y.Doc } {
  const base = new Y.Doc();
  writeBoard(base, blankBoard(10, 12, 'kites'), newId);
  const design = designOf(base);
  for (const command of prepare) expect(design.run(command).ok).toBe(true);
  design.dispose();
  const mine = new Y.Doc();
  Y.applyUpdate(mine, Y.encodeStateAsUpdate(base));
  const into = compactDesign(base);
  if (into === null) throw new Error('no board');
  return { base, mine, into };
}

const EDITS: Readonly<Record<string, readonly Command[]>> = {
  knots: [
    {
      kind: 'set-knots',
      knots: [
        { row: 3, k: 2, knot: 1 },
        { row: 0, k: 0, knot: 4 },
      ],
    },
  ],
  'a knot untied': [
    { kind: 'set-knots', knots: [{ row: 1, k: 1, knot: 3 }] },
    {
      kind: 'set-knots',
      knots: [
        { row: 1, k: 1, knot: 0 },
        { row: 2, k: 2, knot: 0 },
      ],
    },
  ],
  'rows inserted, with knots': [
    { kind: 'insert-row-pairs', at: 2, count: 2 },
    {
      kind: 'set-knots',
      knots: [
        { row: 4, k: 1, knot: 2 },
        { row: 7, k: 3, knot: 3 },
      ],
    },
  ],
  'rows deleted': [{ kind: 'delete-row-pairs', from: 1, count: 2 }],
  'strings inserted, with colours': [
    { kind: 'insert-string-pairs', at: 1, count: 1, colours: ['plum', 'sand'] },
    {
      kind: 'set-knots',
      knots: [
        { row: 0, k: 1, knot: 1 },
        { row: 1, k: 0, knot: 2 },
      ],
    },
  ],
  'strings deleted': [{ kind: 'delete-string-pairs', from: 0, count: 1 }],
  ends: [{ kind: 'set-ends', firstHidden: true, loneString: true }],
  'colours of strings': [{ kind: 'recolour-strings', strings: [0, 5], colour: 'plum' }],
  palette: [
    { kind: 'add-colour', id: 'moss', name: 'Moss', hex: '#446633' },
    { kind: 'edit-colour', id: 'sand', hex: '#ddbb88' },
    { kind: 'move-colour', id: 'moss', to: 0 },
    { kind: 'recolour-strings', strings: [2], colour: 'moss' },
    { kind: 'remove-colour', id: 'plum', replaceWith: 'moss' },
  ],
  'title, piece and gauge': [
    { kind: 'set-title', title: 'new name' },
    { kind: 'set-piece', patch: { repeats: 3, barMm: 19 } },
    { kind: 'set-gauge', patch: { cordMm: 1.1 } },
  ],
  'a colourway': [
    {
      kind: 'put-colourway',
      colourway: { id: 'w1', name: 'Ada', maker: { id: 'person', name: 'Ada' }, colours: [] },
    },
  ],
  'another board': [loadBoard(blankBoard(6, 4, 'else'))],
};

describe('edits of an ended generation', () => {
  it.each(Object.keys(EDITS))('[V100] %s: the renewed board is as the client had it', (name) => {
    const { base, mine, into } = generations([{ kind: 'set-knots', knots: [{ row: 2, k: 2, knot: 2 }] }]);
    runAll(mine, EDITS[name]!);
    expect(fileOf(mine)).not.toEqual(fileOf(into));
    expect(bringOver(base, mine, into, newId).refused).toEqual([]);
    expect(fileOf(into)).toEqual(fileOf(mine));
  });

  it('[V100] a copy without edits changes nothing', () => {
    const { base, mine, into } = generations(EDITS.palette);
    const before = Y.encodeStateVector(into);
    expect(bringOver(base, mine, into, newId)).toEqual({ commands: 0, refused: [] });
    expect(Y.encodeStateVector(into)).toEqual(before);
  });

  it('[V101] of one colourway what the client changed is taken and what others changed meanwhile stays', () => {
    const way = (name: string, sand: string, plum: string) => ({
      kind: 'put-colourway' as const,
      colourway: {
        id: 'w1',
        name,
        colours: [
          { id: 'sand', name: 'Sand', hex: sand },
          { id: 'plum', name: 'Plum', hex: plum },
        ],
      },
    });
    const { base, mine, into } = generations([way('Ada', '#ddbb88', '#6c3a6b')]);
    runAll(into, [way('For Ada', '#ddbb88', '#000001')]);
    runAll(mine, [way('Ada', '#112233', '#6c3a6b')]);
    expect(bringOver(base, mine, into, newId).refused).toEqual([]);
    expect(readDesign(into).board.colourways).toEqual([way('For Ada', '#112233', '#000001').colourway]);
  });

  it('[V101] what others did to the present document meanwhile stays', () => {
    const { base, mine, into } = generations();
    runAll(into, [
      { kind: 'insert-row-pairs', at: 0, count: 1 },
      { kind: 'set-knots', knots: [{ row: 0, k: 0, knot: 1 }] },
      { kind: 'set-title', title: 'theirs' },
    ]);
    runAll(mine, [{ kind: 'set-knots', knots: [{ row: 0, k: 0, knot: 2 }] }]);
    bringOver(base, mine, into, newId);
    const { board } = readDesign(into);
    expect(board.title).toBe('theirs');
    expect(board.pattern.rows).toBe(14);
    expect(knotAt(board.pattern, 0, 0)).toBe(1);
    // The client's row is the third now.
    expect(knotAt(board.pattern, 2, 0)).toBe(2);
  });

  it('[V101] [V216] all rows taken out, or another pattern laid, leaves what others did to the rest', () => {
    const { pattern } = blankBoard(6, 4, 'else');
    const ways: Readonly<Record<string, readonly Command[]>> = {
      'no rows left': [{ kind: 'delete-row-pairs', from: 0, count: 6 }],
      'another pattern': [{ kind: 'replace-pattern', pattern }],
    };
    for (const [way, commands] of Object.entries(ways)) {
      const { base, mine, into } = generations();
      runAll(into, [
        { kind: 'set-title', title: 'theirs' },
        { kind: 'add-colour', id: 'moss', name: 'Moss', hex: '#446633' },
      ]);
      runAll(mine, commands);
      expect(bringOver(base, mine, into, newId).refused, way).toEqual([]);
      const { board } = readDesign(into);
      expect([way, board.title, board.palette.at(-1)?.id]).toEqual([way, 'theirs', 'moss']);
      expect(board.pattern).toEqual(readDesign(mine).board.pattern);
    }
  });

  it('[V216] rows put in where there were none are put in, not a whole board', () => {
    const { base, mine, into } = generations([{ kind: 'delete-row-pairs', from: 0, count: 6 }]);
    runAll(into, [{ kind: 'set-title', title: 'theirs' }]);
    runAll(mine, [
      { kind: 'insert-row-pairs', at: 0, count: 2 },
      { kind: 'set-knots', knots: [{ row: 1, k: 0, knot: 2 }] },
    ]);
    expect(bringOver(base, mine, into, newId).refused).toEqual([]);
    const { board } = readDesign(into);
    expect([board.title, board.pattern]).toEqual(['theirs', readDesign(mine).board.pattern]);
  });

  it('[V216] edits of a board in whose place another was put stay off that one', () => {
    const { base, mine, into } = generations();
    runAll(into, [loadBoard(blankBoard(6, 4, 'else'))]);
    const before = fileOf(into);
    runAll(mine, [
      { kind: 'set-title', title: 'mine' },
      { kind: 'edit-colour', id: 'sand', hex: '#ddbb88' },
    ]);
    expect(bringOver(base, mine, into, newId).refused).toHaveLength(1);
    expect(fileOf(into)).toEqual(before);
  });

  it('[V217] many pairs and knots come over at once, in one edit', () => {
    const { base, mine, into } = generations();
    runAll(mine, [
      { kind: 'insert-row-pairs', at: 3, count: 4_000 },
      { kind: 'delete-row-pairs', from: 0, count: 3 },
      { kind: 'insert-string-pairs', at: 5, count: 60 },
    ]);
    // More than one command of a maker may tie.
    for (let from = 0; from < 8_000; from += 1_000)
      runAll(mine, [
        {
          kind: 'set-knots',
          knots: Array.from({ length: 1_000 * 16 }, (_, i) => ({
            row: from + (i >> 4),
            k: i & 15,
            knot: 2 as const,
          })),
        },
      ]);
    let updates = 0;
    into.on('update', () => {
      updates += 1;
    });
    expect(bringOver(base, mine, into, newId)).toEqual({ commands: 1, refused: [] });
    expect(updates).toBe(1);
    expect(fileOf(into)).toEqual(fileOf(mine));
  });

  it('[V217] [Y26] on a full board what the copy added stays off as a whole, and the rest comes over', () => {
    const { base, mine, into } = generations();
    runAll(mine, [
      { kind: 'set-knots', knots: [{ row: 0, k: 0, knot: 3 }] },
      { kind: 'add-colour', id: 'moss', name: 'Moss', hex: '#446633' },
      { kind: 'recolour-strings', strings: [0], colour: 'moss' },
      { kind: 'recolour-strings', strings: [2], colour: 'plum' },
      { kind: 'insert-string-pairs', at: 5, count: 60 },
    ]);
    runAll(into, [{ kind: 'insert-string-pairs', at: 5, count: 93 }]);
    const before = readDesign(into).board;
    expect(bringOver(base, mine, into, newId)).toEqual({
      commands: 1,
      refused: ['no room for strings-added, string-colour, colour-added'],
    });
    const { board } = readDesign(into);
    expect(board.palette).toEqual(before.palette);
    expect(board.pattern.colours).toEqual(before.pattern.colours.with(2, 'plum'));
    expect(knotAt(board.pattern, 0, 0)).toBe(3);
  });

  it('[V101] [V193] where others edited the same, or deleted it, the board stays and the copy is kept', () => {
    const { base, mine, into } = generations();
    runAll(into, [
      { kind: 'delete-row-pairs', from: 0, count: 1 },
      { kind: 'set-title', title: 'theirs' },
      { kind: 'set-knots', knots: [{ row: 0, k: 1, knot: 1 }] },
    ]);
    runAll(mine, [
      { kind: 'set-title', title: 'mine' },
      {
        kind: 'set-knots',
        knots: [
          { row: 0, k: 0, knot: 2 },
          { row: 2, k: 0, knot: 3 },
          { row: 2, k: 1, knot: 4 },
        ],
      },
    ]);
    const { refused } = bringOver(base, mine, into, newId);
    expect(refused).toEqual(['3 edits stand against others made meanwhile']);
    const { title, pattern } = readDesign(into).board;
    expect([title, pattern.rows]).toEqual(['theirs', 10]);
    expect([knotAt(pattern, 0, 0), knotAt(pattern, 0, 1)]).toEqual([3, 1]);
  });

  it('[V101] [V193] rows that the copy took out and others edited stay', () => {
    const { base, mine, into } = generations();
    runAll(into, [{ kind: 'set-knots', knots: [{ row: 0, k: 0, knot: 1 }] }]);
    runAll(mine, [{ kind: 'delete-row-pairs', from: 0, count: 2 }]);
    expect(bringOver(base, mine, into, newId).refused).toHaveLength(1);
    const { pattern } = readDesign(into).board;
    expect([pattern.rows, knotAt(pattern, 0, 0)]).toEqual([10, 1]);
  });

  it('[V216] another board or pattern stays off a board that others edited, and takes the place of any other', () => {
    const { pattern } = blankBoard(6, 4, 'else');
    const ways: readonly Command[] = [
      loadBoard(blankBoard(6, 4, 'else')),
      { kind: 'replace-pattern', pattern },
    ];
    for (const command of ways) {
      const { base, mine, into } = generations();
      runAll(mine, [command]);
      const quiet = compactDesign(base)!;
      expect(bringOver(base, mine, quiet, newId).refused).toEqual([]);
      expect(fileOf(quiet)).toEqual(fileOf(mine));
      runAll(into, [{ kind: 'set-knots', knots: [{ row: 0, k: 0, knot: 1 }] }]);
      const before = fileOf(into);
      expect(bringOver(base, mine, into, newId)).toMatchObject({
        commands: 0,
        refused: [expect.any(String)],
      });
      expect(fileOf(into)).toEqual(before);
    }
  });

  it('[V504] who opened another board while away takes that back after it came over', () => {
    const { base, mine, into } = generations([
      { kind: 'set-knots', knots: [{ row: 0, k: 0, knot: 1 }] },
      { kind: 'put-colourway', colourway: { id: 'ada', name: 'Ada', colours: [] } },
    ]);
    const before = readDesign(into);
    const design = designOf(mine);
    for (const command of [
      loadBoard(blankBoard(6, 4, 'else')),
      { kind: 'insert-row-pairs', at: 0, count: 1 } as const,
    ])
      expect(design.run(command)).toEqual({ ok: true });
    const opened = design.snapshot;
    expect(bringOver(base, mine, into, newId)).toEqual({ commands: 1, refused: [] });
    // Steps go by ids, also those that a page keeps.
    design.moveTo(into);
    expect(design.snapshot).toEqual(opened);
    expect([design.undo(), design.undo()]).toEqual([true, true]);
    expect(readDesign(into)).toEqual(before);
    expect([design.redo(), design.redo()]).toEqual([true, true]);
    expect(readDesign(into)).toEqual(opened);
  });

  it('[V102] random edits of pairs and knots are brought over whole', () => {
    for (let seed = 1; seed <= 60; seed += 1) {
      const random = seededRandom(seed);
      const below = (limit: number): number => Math.floor(random() * limit);
      const { base, mine, into } = generations();
      const design = designOf(mine);
      for (let step = 0; step < 25; step += 1) {
        const { pattern } = design.snapshot.board;
        const { rowPairIds, stringPairIds } = design.snapshot;
        const commands: Command[] = [
          { kind: 'insert-row-pairs', at: below(rowPairIds.length + 1), count: 1 + below(2) },
          { kind: 'delete-row-pairs', from: below(rowPairIds.length), count: 1 },
          { kind: 'insert-string-pairs', at: below(stringPairIds.length + 1), count: 1 },
          { kind: 'recolour-strings', strings: [below(pattern.colours.length)], colour: 'lagoon' },
        ];
        if (stringPairIds.length > 2)
          commands.push({ kind: 'delete-string-pairs', from: below(stringPairIds.length), count: 1 });
        if (pattern.rows > 0)
          for (let i = 0; i < 4; i += 1) {
            const row = below(pattern.rows);
            commands.push({
              kind: 'set-knots',
              knots: [
                { row, k: 0, knot: 2 },
                { row, k: 1, knot: 3 },
              ],
            });
          }
        design.run(commands[below(commands.length)]!);
      }
      design.dispose();
      expect(bringOver(base, mine, into, newId).refused, `seed ${seed}`).toEqual([]);
      expect(fileOf(into), `seed ${seed}`).toEqual(fileOf(mine));
    }
  });
});
