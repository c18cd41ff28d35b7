import { beforeAll, describe, expect, it } from 'vitest';
import {
  type Change,
  type Command,
  compactDesign,
  compareDesigns,
  Design,
  type KeyedDesign,
  mergeDesigns,
  readKeyed,
} from '../../../engine/document/index.ts';
import { differencesOf, questionsOf } from '../../../web/compare/differences.ts';
import { loadTexts } from '../../../web/text/index.ts';
import { openDesign, runAll } from '../../support/open-design.ts';
import { countingIds, sampleBoard } from '../../support/sample-board.ts';

beforeAll(async () => {
  // Lengths are written in the language of the page.
  Object.assign(globalThis, {
    document: { documentElement: { lang: 'en' } },
    localStorage: { getItem: () => null },
  });
  await Promise.all([loadTexts('compare'), loadTexts('panels')]);
});

interface Pair {
  readonly before: KeyedDesign;
  readonly after: KeyedDesign;
  readonly changes: readonly Change[];
}

function pairOf(...commands: readonly Command[]): Pair {
  const design = openDesign(sampleBoard(6, 8));
  const before = readKeyed(design.doc)!;
  runAll(design, ...commands);
  const after = readKeyed(design.doc)!;
  return { before, after, changes: compareDesigns(before, after) };
}

const saysOf = ({ before, after, changes }: Pair): readonly string[] =>
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
      'Cord diameter: 1.2 mm → unset',
    ]);
  });

  it('[A33] a run of knots that both changed is one question, with what each side says', () => {
    const ours = openDesign(sampleBoard(6, 8));
    const base = readKeyed(ours.doc)!;
    const theirs = new Design(compactDesign(ours.doc)!, {
      makerId: 't',
      newId: countingIds('t'),
      captureMs: 0,
    });
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
});
