/** What may stand in a command: text that shows as it is written, numbers that mean something, lists and objects of their own. */
import { expect, test } from 'vitest';
import { type Command, loadBoard } from '../../../engine/document/index.ts';
import type { Board } from '../../../engine/index.ts';
import { openDesign } from '../../support/open-design.ts';
import { sampleBoard } from '../../support/sample-board.ts';

test('[D25] [D39] [P31] text that is not plain is refused with its place, and nothing is written', () => {
  const design = openDesign();
  const colourway = { id: 'k', name: 'mine', colours: [{ id: 'r', name: 'x', hex: '#112233' }] };
  const before = design.snapshot;
  for (const bad of ['a\u0000b', 'a\u202eb', 'a\u2067b', 'a\u009bb', 'a\ud800', '\udc00b', 'a\uffffb']) {
    const commands: [Command, string][] = [
      [{ kind: 'set-title', title: bad }, 'title'],
      [{ kind: 'set-piece', patch: { notes: bad } }, 'patch.notes'],
      [{ kind: 'add-colour', name: bad, hex: '#112233' }, 'name'],
      [{ kind: 'edit-colour', id: 'r', name: bad }, 'name'],
      [{ kind: 'put-colourway', colourway: { ...colourway, name: bad } }, 'colourway.name'],
      [
        { kind: 'put-colourway', colourway: { ...colourway, maker: { id: 'p', name: bad } } },
        'colourway.maker.name',
      ],
      [
        {
          kind: 'put-colourway',
          colourway: { ...colourway, colours: [{ ...colourway.colours[0]!, name: bad }] },
        },
        'colourway.colours[0].name',
      ],
      [loadBoard({ ...sampleBoard(), title: bad }), 'board.title'],
    ];
    for (const [command, path] of commands)
      expect(design.run(command)).toMatchObject({
        ok: false,
        error: { kind: 'out-of-range', path, demand: { be: 'plain' } },
      });
    for (const command of [
      { kind: 'add-colour', id: bad, name: '', hex: '#112233' },
      { kind: 'put-colourway', colourway: { ...colourway, id: bad } },
    ] as const)
      expect(design.run(command)).toMatchObject({
        ok: false,
        error: { kind: 'out-of-range', demand: { be: 'id' } },
      });
  }
  expect(design.run({ kind: 'set-piece', patch: { notes: ' '.repeat(2_000) } })).toMatchObject({
    error: { path: 'patch.notes', demand: { be: 'spaces' } },
  });
  for (const [command, path] of [
    [{ kind: 'set-piece', patch: { knotsPerMinute: 5e-324 } }, 'patch.knotsPerMinute'],
    [{ kind: 'set-gauge', patch: { cordMm: 1e-9 } }, 'patch.cordMm'],
  ] as const)
    expect(design.run(command)).toMatchObject({
      error: { kind: 'out-of-range', path, demand: { be: 'above' } },
    });
  expect(design.snapshot).toBe(before);
});

test('[D39] [P32] whatever stands in a command, it is done or refused with its place, never thrown', () => {
  const design = openDesign();
  const before = design.snapshot;
  const holes = Array(2);
  const noMethods = Object.setPrototypeOf([], null);
  const { pattern, ...board } = sampleBoard();
  const colourway = { id: 'k', name: '', colours: [] };
  const load = (odd: unknown): Command => loadBoard(odd as Board);
  const odd: [unknown, string][] = [
    [null, ''],
    ['set-title', ''],
    [{ kind: 'set-knots' }, 'knots'],
    [{ kind: 'set-knots', knots: noMethods }, 'knots'],
    [{ kind: 'set-knots', knots: holes }, 'knots[0]'],
    [{ kind: 'set-knots', knots: [null] }, 'knots[0]'],
    [{ kind: 'recolour-strings', strings: holes, colour: 'r' }, 'strings[0]'],
    [{ kind: 'recolour-strings', strings: null, colour: 'r' }, 'strings'],
    [{ kind: 'insert-string-pairs', at: 0, count: 1, colours: holes }, 'colours[0]'],
    [{ kind: 'insert-string-pairs', at: 0, count: 1, colours: noMethods }, 'colours'],
    [{ kind: 'set-piece', patch: null }, 'patch'],
    [{ kind: 'set-piece', patch: Object.create({ repeats: 3 }) }, 'patch'],
    [{ kind: 'set-gauge', patch: [1] }, 'patch'],
    [{ kind: 'put-colourway', colourway: null }, 'colourway'],
    [{ kind: 'put-colourway', colourway: { ...colourway, colours: holes } }, 'colourway.colours[0]'],
    [{ kind: 'put-colourway', colourway: { ...colourway, colours: {} } }, 'colourway.colours'],
    [{ kind: 'put-colourway', colourway: { ...colourway, maker: null } }, 'colourway.maker'],
    [{ kind: 'replace-pattern', pattern: null }, 'pattern'],
    [{ kind: 'replace-pattern', pattern: { ...pattern, colours: noMethods } }, 'pattern.colours'],
    [{ kind: 'replace-pattern', pattern: { ...pattern, knots: null } }, 'pattern.knots'],
    [load(null), 'board'],
    [load({ ...board, pattern: null }), 'board.pattern'],
    [load({ ...board, pattern, palette: holes }), 'board.palette[0]'],
    [load({ ...board, pattern, palette: null }), 'board.palette'],
    [load({ ...board, pattern, piece: new Map() }), 'board.piece'],
    [load({ ...board, pattern, gauge: null }), 'board.gauge'],
    [load({ ...board, pattern, colourways: [null] }), 'board.colourways[0]'],
    [
      load({ ...board, pattern, colourways: [{ ...colourway, colours: holes }] }),
      'board.colourways[0].colours[0]',
    ],
    [load({ ...board, pattern, colourways: [{ ...colourway, maker: null }] }), 'board.colourways[0].maker'],
  ];
  for (const [command, path] of odd)
    expect([path, design.run(command as Command)]).toMatchObject([path, { ok: false, error: { path } }]);
  expect(design.snapshot).toBe(before);
});
