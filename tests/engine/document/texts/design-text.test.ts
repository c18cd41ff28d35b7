/** Texts of a design: where they are, what writes them, and what a value that lost comes back as. */
import { describe, expect, it } from 'vitest';
import {
  type Design,
  designText,
  loadBoard,
  setPart,
  type TextPlace,
} from '../../../../engine/document/index.ts';
import { joinDesign, openDesign, runAll, syncAll } from '../../../support/open-design.ts';
import { sampleBoard } from '../../../support/sample-board.ts';

function told(design: Design, place: TextPlace): (readonly [string | null, string])[] {
  const all: (readonly [string | null, string])[] = [];
  designText(design, place).listen((now, joint) => all.push([now, joint]));
  return all;
}
const TITLE: TextPlace = { of: 'title' };

describe('the texts of a design', () => {
  const open = (): Design => {
    const design = openDesign();
    const [first] = design.snapshot.board.palette;
    const colours = [{ id: first!.id, name: 'moss', hex: '#112233' }];
    runAll(design, {
      kind: 'put-colourway',
      colourway: { id: 'k', name: 'Kites', colours, maker: { id: 'p', name: 'Ada' } },
    });
    runAll(design, setPart('ring', { kind: 'ring' }));
    return design;
  };

  it('[D345] are written each by itself, with the limit that the engine has', () => {
    const design = open();
    const id = design.snapshot.board.palette[0]!.id;
    const places: readonly (readonly [TextPlace, number])[] = [
      [TITLE, 120],
      [{ of: 'notes' }, 4000],
      [{ of: 'colour', id }, 60],
      [{ of: 'colourway', id: 'k' }, 60],
      [{ of: 'dress', id: 'k', colour: id }, 60],
      [{ of: 'thread', hex: '#cc2222', name: 'red' }, 60],
      [{ of: 'part', id: 'ring' }, 60],
    ];
    for (const [place, most] of places) {
      const text = designText(design, place);
      expect(designText(design, { ...place })).toBe(text);
      expect(text.most).toBe(most);
      const longest = place.of.slice(0, 1).repeat(most);
      expect([text.write(longest), text.text]).toEqual([null, longest]);
      expect(text.write(`${longest}x`)).toMatchObject({ kind: 'refused', error: { kind: 'out-of-range' } });
      expect(text.text).toBe(longest);
    }
    const colourway = design.snapshot.board.colourways.find((one) => one.id === 'k');
    expect(colourway).toMatchObject({ maker: { name: 'Ada' }, colours: [{ id, hex: '#112233' }] });
    const notes = designText(design, { of: 'notes' });
    notes.write('');
    expect([notes.text, design.snapshot.board.piece.notes]).toEqual(['', undefined]);
    const { supplies } = design.snapshot.board;
    expect(supplies?.threads).toEqual([{ hex: '#cc2222', name: 'red', number: 't'.repeat(60) }]);
    expect(supplies?.parts).toMatchObject([{ id: 'ring', name: 'p'.repeat(60) }]);
    for (const place of places.slice(-2)) designText(design, place[0]).write('');
    expect(design.snapshot.board.supplies?.threads ?? []).toEqual([]);
    expect(designText(design, { of: 'thread', hex: '#cc2222', name: 'red' }).text).toBe('');
  });

  it('[D410] no name of a colour is emptied or made that of another, and what a peer brought is read', () => {
    const design = openDesign();
    const [first, second] = design.snapshot.board.palette;
    const text = designText(design, { of: 'colour', id: second!.id });
    const before = text.text;
    expect(text.mayBeEmpty).toBe(false);
    for (const name of [first!.name, `${first!.name.toUpperCase()} `])
      expect(text.write(name)).toEqual({ kind: 'alike', name });
    expect(text.text).toBe(before);
    expect(text.write(before!)).toBe(null);
    expect(text.write(`${first!.name} two`)).toBe(null);
    runAll(design, { kind: 'edit-colour', id: second!.id, name: first!.name });
    expect(text.text).toBe(first!.name);
  });

  it('[D345] that are gone cannot be written', () => {
    const design = open();
    for (const place of [
      { of: 'colour', id: 'no' },
      { of: 'colourway', id: 'no' },
      { of: 'dress', id: 'no', colour: 'a' },
      { of: 'dress', id: 'k', colour: 'no' },
      { of: 'part', id: 'no' },
    ] as const) {
      const text = designText(design, place);
      expect([text.text, text.write('x')]).toEqual([null, { kind: 'gone' }]);
    }
  });

  it('[D345] [W971] the name of another colour of the board is no thread’s name, and is shown as none', () => {
    const design = open();
    const [first, second] = design.snapshot.board.palette;
    const text = designText(design, { of: 'dress', id: 'k', colour: first!.id });
    expect([text.write(second!.name), text.text]).toEqual([
      { kind: 'of-another', name: second!.name },
      'moss',
    ]);
    runAll(design, { kind: 'edit-colour', id: second!.id, name: 'moss' });
    expect(text.text).toBe('');
    expect([text.write('river'), text.text]).toEqual([null, 'river']);
  });

  it('[D345] are shown as a field can show them', () => {
    const design = openDesign({ ...sampleBoard(4, 4), title: 'a\nb', piece: { notes: 'a\r\nb' } });
    expect(designText(design, TITLE).text).toBe('a b');
    expect(designText(design, { of: 'notes' }).text).toBe('a\nb');
    expect(designText(design, TITLE).fit(' \ud800x\ny ')).toBe('\ufffdx y');
    // What a command would refuse is left out of what is typed or pasted (P31).
    expect(designText(design, TITLE).fit('a\u0000b\u202ec')).toBe('abc');
  });
});

describe('of two values written at once', () => {
  /** @returns the one whose value lost, and the other */
  function both(first = 8001, second = 8002): readonly [Design, Design] {
    const one = openDesign();
    const other = joinDesign(one, 'n');
    [one.doc.clientID, other.doc.clientID] = [first, second];
    return [one, other];
  }

  it('[D344] the one that lost is told to its page with both people’s words, and to the other nothing', () => {
    const [loser, winner] = both();
    designText(loser, TITLE).write('Tail for Ada');
    designText(winner, TITLE).write('Tail, red');
    const [lost, won] = [told(loser, TITLE), told(winner, TITLE)];
    syncAll(loser, winner);
    expect(lost).toEqual([['Tail, red', expect.stringContaining('for Ada')]]);
    expect(lost[0]![1]).toContain(', red');
    expect(won).toEqual([]);
  });

  it('[D344] several writes of a page that nobody saw come back together, those that were seen do not', () => {
    const [loser, winner] = both();
    const mine = designText(loser, TITLE);
    mine.write('one');
    syncAll(loser, winner);
    mine.write('one two');
    mine.write('one two three');
    designText(winner, TITLE).write('one!');
    const lost = told(loser, TITLE);
    syncAll(loser, winner);
    expect(lost).toEqual([['one!', 'one! two three']]);
    // What somebody takes out who has seen it stays out.
    mine.write('one! two three');
    syncAll(loser, winner);
    designText(winner, TITLE).write('two three');
    syncAll(loser, winner);
    expect(lost.slice(1)).toEqual([['two three', 'two three']]);
  });

  it('[D344] what was known to one value is lost to another that comes late', () => {
    const [mine, theirs] = both(8001, 8002);
    const late = joinDesign(mine, 'o');
    late.doc.clientID = 8003;
    runAll(late, { kind: 'set-title', title: 'late' });
    designText(mine, TITLE).write('first');
    syncAll(mine, theirs);
    designText(theirs, TITLE).write('first second');
    syncAll(mine, theirs);
    const [one, two] = [told(mine, TITLE), told(theirs, TITLE)];
    syncAll(mine, theirs, late);
    expect(one.map(([now]) => now)).toEqual(['late']);
    expect(one[0]![1]).toMatch(/first/);
    expect(two[0]![1]).toMatch(/second/);
  });

  it('[D344] as many writes as there are: the oldest are one', () => {
    const [loser, winner] = both();
    const mine = designText(loser, TITLE);
    for (let i = 0; i < 130; i++) mine.write(`${mine.text} ${i}`.slice(-110).trim());
    designText(winner, TITLE).write('!');
    const lost = told(loser, TITLE);
    syncAll(loser, winner);
    expect(lost[0]![1]).toContain('129');
  });

  it('[D344] nothing of one board is brought to another that was opened in its place', () => {
    const [loser, winner] = both();
    designText(loser, TITLE).write('mine');
    runAll(winner, loadBoard({ ...sampleBoard(4, 4), title: 'another' }));
    const lost = told(loser, TITLE);
    syncAll(loser, winner);
    expect(lost).toEqual([['another', 'another']]);
  });
});
