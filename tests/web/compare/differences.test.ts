/** Two states of a board in words: what belongs together is one line, and what both sides changed is a question. */
import { beforeAll, describe, expect, it } from 'vitest';
import {
  type Command,
  type Design,
  mergeDesigns,
  readKeyed,
  setPart,
  setThread,
} from '../../../engine/document/index.ts';
import { differencesOf, questionsOf } from '../../../web/compare/differences.ts';
import { loadTexts } from '../../../web/text/index.ts';
import { branchOf, type ComparedPair, pairFrom, pairOf } from '../../support/compared-pair.ts';
import { openDesign, runAll } from '../../support/open-design.ts';
import { sampleBoard, samplePattern } from '../../support/sample-board.ts';

beforeAll(async () => {
  // Lengths are written in the language of the page.
  Object.assign(globalThis, {
    document: { documentElement: { lang: 'en' } },
    localStorage: { getItem: () => null },
  });
  await Promise.all([loadTexts('compare'), loadTexts('panels')]);
});

const saysOf = ({ before, after, changes }: ComparedPair): readonly string[] =>
  differencesOf(changes, { before, after }).map(({ text }) => text);

describe('words', () => {
  it('[A31] knots side by side are one entry, in the order of the rows', () => {
    const pair = pairOf({
      kind: 'set-knots',
      knots: [
        { row: 6, k: 2, knot: 1 },
        { row: 2, k: 0, knot: 0 },
        { row: 2, k: 1, knot: 0 },
        { row: 4, k: 1, knot: 2 },
        { row: 4, k: 2, knot: 2 },
      ],
    });
    expect(saysOf(pair)).toEqual([
      'Row 3, knots 1 to 2: other knots',
      'Row 5, knots 2 to 3: other knots',
      'Row 7, knot 3: forward-backward → forward',
    ]);
  });

  it('[A31] rows, strings, colours and the piece each in a sentence', () => {
    const pair = pairOf(
      { kind: 'insert-row-pairs', at: 4, count: 2 },
      { kind: 'delete-string-pairs', from: 2, count: 1 },
      { kind: 'add-colour', id: 's', name: 'sand', hex: '#ddcc99' },
      { kind: 'recolour-strings', strings: [0, 3], colour: 's' },
      { kind: 'edit-colour', id: 'b', hex: '#112233' },
      { kind: 'set-title', title: 'Tails' },
      { kind: 'set-piece', patch: { lengthMm: 90, end: 'straight', notes: 'ask Mara' } },
      { kind: 'set-gauge', patch: { cordMm: null } },
      { kind: 'set-ends', lastHidden: true },
    );
    expect(saysOf(pair)).toEqual([
      '3 rows added: 9 to 11',
      'The last row left out',
      '2 strings taken out: 5 to 6',
      'Strings 1, 4: red → sand',
      'Look of blue: #2244cc → #112233',
      'New colour: sand',
      'Title: Test input → Tails',
      'How much is made: 2 repeats → 90 mm',
      'Last rows: triangle → straight',
      'The notes',
      'Width of a string: 1.2 mm → unset',
    ]);
  });

  it('[A33] a run of knots that both changed is one question, with what each side says', () => {
    const ours = openDesign(sampleBoard(6, 8));
    const base = readKeyed(ours.doc)!;
    const theirs = branchOf(ours);
    const tie = (design: Design, knot: 3 | 4): void =>
      runAll(
        design,
        {
          kind: 'set-knots',
          knots: [0, 1].map((k) => ({ row: 0, k, knot })),
        },
        { kind: 'set-title', title: `Knot ${knot}` },
      );
    tie(ours, 4);
    tie(theirs, 3);
    const [before, after] = [readKeyed(ours.doc)!, readKeyed(theirs.doc)!];
    const questions = questionsOf(mergeDesigns(base, before, after).conflicts, { before, after });
    expect(questions.map(({ what, ours: our, theirs: their }) => [what, our, their])).toEqual([
      ['Row 1, knots 1 to 2', 'backward-forward', 'forward-backward'],
      ['Title', 'Knot 4', 'Knot 3'],
    ]);
    expect(questions[0]!.conflicts).toHaveLength(2);
    expect(questions[0]!.rows).toEqual([
      { from: 0, to: 0 },
      { from: 0, to: 0 },
    ]);
  });

  it('[A31] what a colour, a colourway and the ends became, each in a sentence', () => {
    const pair = pairOf(
      { kind: 'add-colour', id: 's', name: '', hex: '#ddcc99' },
      { kind: 'edit-colour', id: 'b', name: '' },
      { kind: 'move-colour', id: 'g', to: 0 },
      { kind: 'put-colourway', colourway: { id: 'n', name: '', colours: [] } },
      {
        kind: 'put-colourway',
        colourway: { id: 'w', name: 'moor', colours: [{ id: 'g', name: 'moss', hex: '#335522' }] },
      },
      { kind: 'set-ends', firstHidden: true, loneString: true },
      { kind: 'set-title', title: '' },
      { kind: 'set-piece', patch: { notes: 'ask Mara', spareMm: 1.25, knotsPerMinute: 3 } },
    );
    const says = saysOf(pair);
    for (const sentence of [
      'New colour: #ddcc99',
      'Name of blue: blue → –',
      'The colours in another order',
      'New colourway: –',
      'Colourway second: name, maker or order of its colours',
      'Colourway moor: how green looks',
      'The first row left out',
      'Title: Test input → –',
      'Spare for the fingers: unset → 1.25 mm',
      'Knots a minute: unset → 3',
    ])
      expect(says).toContain(sentence);
    const gone = pairOf(
      { kind: 'remove-colourway', id: 'w' },
      { kind: 'remove-colour', id: 'g', replaceWith: 'r' },
    );
    expect(saysOf(gone)).toEqual(
      expect.arrayContaining([
        'Colourway taken out: second',
        'Colour taken out: green',
        'Strings 2, 5: green → red',
      ]),
    );
    expect(saysOf(pairOf({ kind: 'replace-pattern', pattern: samplePattern(8, 8) }))[0]).toMatch(/made anew/);
  });

  it('[A31] a difference is looked for in the picture where it is: knots in both, what came in the later, what went in the earlier', () => {
    const pair = pairOf(
      { kind: 'set-knots', knots: [{ row: 0, k: 0, knot: 4 }] },
      { kind: 'insert-row-pairs', at: 1, count: 1 },
      { kind: 'delete-row-pairs', from: 3, count: 1 },
    );
    const places = differencesOf(pair.changes, pair).map(({ rows }) => rows);
    expect(places).toContainEqual([
      { from: 0, to: 0 },
      { from: 0, to: 0 },
    ]);
    expect(places).toContainEqual([null, { from: 2, to: 3 }]);
    expect(places).toContainEqual([{ from: 4, to: 5 }, null]);
  });

  it('[A31] what was left out at the edges and is there again, each where it belongs', () => {
    const pair = pairFrom(sampleBoard(5, 7, 1), {
      kind: 'set-ends',
      firstHidden: false,
      lastHidden: false,
      loneString: false,
    });
    expect(differencesOf(pair.changes, pair).map(({ group, text }) => [group, text])).toEqual(
      expect.arrayContaining([
        ['knots', 'One more row at the top'],
        ['strings', 'One more string at the right edge'],
      ]),
    );
  });

  it('[A31] what is chosen from a list, and how much is made, in the words of the panel', () => {
    const says = saysOf(
      pairOf({
        kind: 'set-piece',
        patch: { endKnot: 'tassel', ring: 'round', singles: 'free', repeats: null },
      }),
    );
    for (const sentence of [
      'Closed by: unset → tassel',
      'Hardware: unset → round ring',
      'Single cords: unset → instead of crossings',
      'How much is made: 2 repeats → 1 repeat',
    ])
      expect(says).toContain(sentence);
  });

  it('[A31] what had no name is called by its look, or by a dash', () => {
    const board = sampleBoard(6, 8);
    const palette = board.palette.map((colour) => ({ ...colour, name: '' }));
    const colourways = board.colourways.map((one) => ({ ...one, name: '' }));
    const says = saysOf(
      pairFrom(
        { ...board, title: '', palette, colourways },
        { kind: 'edit-colour', id: 'b', name: 'sky' },
        { kind: 'recolour-strings', strings: [0], colour: 'g' },
        { kind: 'set-title', title: 'Tails' },
        { kind: 'put-colourway', colourway: { id: 'w', name: '', colours: [] } },
        { kind: 'remove-colour', id: 'r', replaceWith: 'g' },
      ),
    );
    for (const sentence of [
      'Name of #2244cc: – → sky',
      'Title: – → Tails',
      'Colourway –: how #22aa44 looks',
      'Colour taken out: #cc2222',
    ])
      expect(says).toContain(sentence);
    expect(says).toContainEqual(expect.stringMatching(/^Strings .*: #cc2222 → #22aa44$/));
  });

  it('[A31] knots on strings and rows that came later, or that went, are told by where they are seen', () => {
    const came = pairOf(
      { kind: 'insert-string-pairs', at: 1, count: 1 },
      { kind: 'insert-row-pairs', at: 0, count: 1 },
      { kind: 'set-knots', knots: [{ row: 0, k: 1, knot: 3 }] },
      { kind: 'set-knots', knots: [{ row: 4, k: 1, knot: 2 }] },
    );
    const [gone] = [pairFrom(came.after.board, { kind: 'delete-string-pairs', from: 1, count: 1 })];
    const onBoard = (pair: ComparedPair) =>
      differencesOf(pair.changes, pair).filter(({ rows }) => rows.some((span) => span !== null));
    for (const { rows } of [...onBoard(came), ...onBoard(gone!)])
      for (const span of rows) if (span !== null) expect(span.from >= 0 && span.to >= span.from).toBe(true);
    expect(saysOf(came)).toEqual(expect.arrayContaining(['2 rows added: 1 to 2', '2 strings added: 3 to 4']));
    expect(saysOf(gone!)).toContain('2 strings taken out: 3 to 4');
  });
});

describe('threads and parts', () => {
  const RED = { hex: '#cc2222', name: 'red' };
  const BARE = { hex: '#446688', name: '' };

  it('[A31] each by its name, or what it is, with its value in the words of its field', () => {
    const says = saysOf(
      pairOf(
        setThread(RED, { number: '347', price: 1.2, skeinMm: 8000 }),
        setThread(BARE, { haveMm: 500 }),
        setThread(RED, { sameAs: '#446688.river' }),
        setThread({ hex: '#2244cc', name: 'blue' }, { sameAs: '#446688.' }),
        setPart('p', { kind: 'ring', count: 4 }),
        setPart('q', { name: 'lobster clasp', kind: 'clasp' }),
        { kind: 'set-gauge', patch: { thread: 'floss' } },
      ),
    );
    for (const sentence of [
      'red: number: unset → 347',
      'red: price of a skein: unset → 1.2',
      'red: length of a skein: unset → 8,000 mm',
      '#446688: at home: unset → 500 mm',
      'red: same as: unset → river',
      'blue: same as: unset → #446688',
      'ring: kind: unset → ring',
      'ring: count: unset → 4',
      'lobster clasp: kind: unset → clasp',
      'lobster clasp: name: unset → lobster clasp',
    ])
      expect(says).toContain(sentence);
  });

  it('[A31] what is gone goes by what it was', () => {
    const made = pairOf(setPart('q', { name: 'lobster clasp' }), setPart('p', { kind: 'ring' }));
    const gone = pairFrom(made.after.board, setPart('q', { name: null }), setPart('p', { kind: null }));
    expect(saysOf(gone)).toEqual(
      expect.arrayContaining(['lobster clasp: name: lobster clasp → unset', 'ring: kind: ring → unset']),
    );
  });
});

describe('questions', () => {
  /** What is asked where both did something to the same board. */
  function askedOf(ourCommands: readonly Command[], theirCommands: readonly Command[]) {
    const ours = openDesign(sampleBoard(6, 8));
    const base = readKeyed(ours.doc)!;
    const theirs = branchOf(ours);
    runAll(ours, ...ourCommands);
    runAll(theirs, ...theirCommands);
    const [before, after] = [readKeyed(ours.doc)!, readKeyed(theirs.doc)!];
    return questionsOf(mergeDesigns(base, before, after).conflicts, { before, after }).map(
      ({ what, ours: our, theirs: their }) => [what, our, their],
    );
  }
  const tie = (knots: readonly (1 | 2 | 3 | 4)[]): Command => ({
    kind: 'set-knots',
    knots: knots.map((knot, k) => ({ row: 0, k, knot })),
  });

  it('[A33] one knot has its number; several that are not alike are said to be several', () => {
    expect(askedOf([tie([4])], [tie([3])])).toEqual([
      ['Row 1, knot 1', 'backward-forward', 'forward-backward'],
    ]);
    expect(askedOf([tie([4, 3])], [tie([3, 4])])[0]).toEqual([
      'Row 1, knots 1 to 2',
      'several knots',
      'several knots',
    ]);
  });

  it('[A33] a string, a colour, a field, how much is made, the title: what each side has', () => {
    const asked = askedOf(
      [
        { kind: 'recolour-strings', strings: [0], colour: 'g' },
        { kind: 'edit-colour', id: 'b', hex: '#111111' },
        { kind: 'set-title', title: '' },
        { kind: 'set-piece', patch: { end: 'straight', tailMm: 50, lengthMm: 90 } },
        { kind: 'set-gauge', patch: { cordMm: null } },
      ],
      [
        { kind: 'recolour-strings', strings: [0], colour: 'b' },
        { kind: 'edit-colour', id: 'b', hex: '#222222' },
        { kind: 'set-title', title: 'Tails' },
        { kind: 'set-piece', patch: { end: 'double triangle', tailMm: 60, repeats: 5 } },
        { kind: 'set-gauge', patch: { cordMm: 1.5 } },
      ],
    );
    for (const question of [
      ['Colour of string 1', 'green', 'blue'],
      ['Look of blue', '#111111', '#222222'],
      ['Title', '–', 'Tails'],
      ['Last rows', 'straight', 'double triangle'],
      ['Tail', '50 mm', '60 mm'],
      ['Width of a string', 'unset', '1.5 mm'],
      ['How much is made', '90 mm', '5 repeats'],
    ])
      expect(asked).toContainEqual(question);
  });

  it('[A33] what each says of a thread, by its name', () => {
    const price = (value: number): Command => setThread({ hex: '#cc2222', name: 'red' }, { price: value });
    expect(askedOf([price(1)], [price(2)])).toEqual([['red: price of a skein', '1', '2']]);
  });

  it('[A33] what one side took out and the other changed: whether it stays', () => {
    const remove: Command = { kind: 'remove-colourway', id: 'w' };
    const change: Command = { kind: 'put-colourway', colourway: { id: 'w', name: 'moor', colours: [] } };
    const [ourGone] = askedOf([remove], [change]);
    const [theirGone] = askedOf([change], [remove]);
    expect(ourGone).toHaveLength(3);
    expect(ourGone!.slice(1)).not.toEqual(theirGone!.slice(1));
    expect(new Set([...ourGone!.slice(1), ...theirGone!.slice(1)]).size).toBe(4);
  });

  it('[A33] two patterns made anew are one question', () => {
    const asked = askedOf(
      [{ kind: 'replace-pattern', pattern: samplePattern(8, 8) }],
      [{ kind: 'replace-pattern', pattern: samplePattern(4, 4) }],
    );
    expect(asked).toHaveLength(1);
    expect(asked[0]![1]).not.toBe(asked[0]![2]);
  });

  it('[A33] colours that both put in another order, and a colourway that both renamed: whose counts', () => {
    const head = (name: string): Command => ({
      kind: 'put-colourway',
      colourway: { id: 'w', name, colours: [{ id: 'g', name: 'moss', hex: '#446633' }] },
    });
    const asked = askedOf(
      [{ kind: 'move-colour', id: 'b', to: 0 }, head('moor')],
      [{ kind: 'move-colour', id: 'r', to: 2 }, head('fen')],
    );
    for (const what of [
      'The colours in another order',
      'Colourway moor: name, maker or order of its colours',
    ])
      expect(asked).toContainEqual([what, 'as on the board', 'as proposed']);
  });

  it('[A33] a colour that one side took out and the other painted with: it stays, or goes', () => {
    const asked = askedOf(
      [{ kind: 'edit-colour', id: 'b', name: 'sky' }],
      [{ kind: 'remove-colour', id: 'b', replaceWith: 'r' }],
    );
    expect(asked).toContainEqual([
      'Colour taken out: sky',
      'keep it, as on the board',
      'take it out, as proposed',
    ]);
    const [back] = askedOf(
      [{ kind: 'remove-colour', id: 'b', replaceWith: 'r' }],
      [{ kind: 'edit-colour', id: 'b', name: 'sky' }],
    );
    expect(back).toEqual(['New colour: sky', 'leave it out, as on the board', 'bring it back, as proposed']);
  });

  it('[A33] a title that one side took away is a dash', () => {
    expect(
      askedOf([{ kind: 'set-title', title: 'Tails' }], [{ kind: 'set-title', title: '' }]),
    ).toContainEqual(['Title', 'Tails', '–']);
  });
});
