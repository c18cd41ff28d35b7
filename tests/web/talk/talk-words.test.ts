/** The talk in words: what a thread is about, when something was said, why it was refused. */
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { type Pin, placeOfPin } from '../../../engine/document/index.ts';
import { EntriesOf } from '../../../web/talk/entry-words.ts';
import { beginningOf, heard, isGone, placeName, whenSaid, whyRefused } from '../../../web/talk/talk-words.ts';
import { loadTexts } from '../../../web/text/index.ts';
import { openDesign, runAll } from '../../support/open-design.ts';
import { stubPage } from '../../support/page-globals.ts';
import { thread } from '../../support/thread.ts';

beforeAll(async () => {
  stubPage();
  await Promise.all([loadTexts('talk'), loadTexts('panels')]);
});
afterAll(() => vi.unstubAllGlobals());

function deskOf(design = openDesign()) {
  return {
    design,
    placeOf: (pin: Pin) => placeOfPin(design, pin),
    get entries() {
      return new EntriesOf(design.snapshot.board);
    },
  };
}

describe('what a thread is about', () => {
  it('[G2] is said by where it is now, and said to be gone with its knot, row or string', () => {
    const desk = deskOf();
    const { design } = desk;
    const pins: readonly (readonly [Pin, string, string])[] = [
      [{ kind: 'knot', address: design.addressOf(1, 0)! }, 'row 2, knot 1', 'a knot that is gone'],
      [{ kind: 'row', address: design.rowAddressOf(0)! }, 'row 1', 'a row that is gone'],
      [{ kind: 'string', address: design.stringAddressOf(1)! }, 'string 2', 'a string that is gone'],
    ];
    for (const [pin, there] of pins)
      expect([placeName(desk, pin), isGone(desk, pin)]).toEqual([there, false]);
    runAll(
      design,
      { kind: 'delete-row-pairs', from: 0, count: 1 },
      { kind: 'delete-string-pairs', from: 0, count: 1 },
    );
    for (const [pin, , gone] of pins) expect([placeName(desk, pin), isGone(desk, pin)]).toEqual([gone, true]);
  });

  it('the board and the panels are always there; a panel that this page does not know keeps its name', () => {
    const desk = deskOf();
    const pins: readonly Pin[] = [
      { kind: 'board' },
      { kind: 'panel', entry: 'gauge' },
      { kind: 'panel', entry: 'Loom' },
    ];
    expect(pins.map((pin) => isGone(desk, pin))).toEqual([false, false, false]);
    expect(placeName(desk, pins[0]!)).toBe('the whole board');
    expect(placeName(desk, pins[1]!)).toMatch(/^the panel “.*gauge.*”$/i);
    expect(placeName(desk, pins[2]!)).toBe('the panel “Loom”');
  });

  it('[G2] [Y22] an entry that its panel has no longer is gone too, though its knot is there', () => {
    const desk = deskOf();
    const pin: Pin = {
      kind: 'panel',
      entry: 'work',
      of: { on: 'knot', address: desk.design.addressOf(0, 1)! },
    };
    expect(isGone(desk, pin)).toBe(false);
    expect(placeName(desk, pin)).toContain('the step at row 1, knot 2');
    runAll(desk.design, { kind: 'set-knots', knots: [{ row: 0, k: 1, knot: 0 }] });
    expect(isGone(desk, pin)).toBe(true);
  });
});

describe('words', () => {
  it('the time alone today, the day as well on others', () => {
    const noon = new Date(2027, 4, 3, 12, 0).getTime();
    expect(whenSaid(noon, noon + 3_600_000)).toMatch(/^12:00/);
    expect(whenSaid(noon, noon + 86_400_000)).toMatch(/May 3, 2027/);
  });

  it('the beginning of a text is one line, cut where it is long', () => {
    expect(beginningOf('  two\n lines ')).toBe('two lines');
    expect(beginningOf('abcdef', 6)).toBe('abcdef');
    expect(beginningOf('abcdefg', 6)).toBe('abcde…');
  });

  it('why something was refused: for want of room, of rights, or what the server says', () => {
    const said = ['full', 'forbidden', 'unknown-board', 'too-long'].map(whyRefused);
    expect(said[1]).toBe(said[2]);
    expect(new Set(said).size).toBe(3);
    for (const sentence of said) expect(sentence).toMatch(/\w{3}/);
  });
});

describe('what is heard of new remarks', () => {
  const desk = deskOf();
  const by = { id: 'ida', name: 'Ida', hex: '#993366' };
  const remark = (text: string, isForMe = false) => ({
    thread: thread('t', ['ida', text]),
    by,
    text,
    isForMe,
  });

  it('[G3] [G4] one is read out: who, to whom, about what, and how it begins; several are counted', () => {
    expect(heard(desk, [remark('Longer,\n please.')])).toBe('Ida about the whole board: Longer, please.');
    expect(heard(desk, [remark('Yours.', true)])).toBe('Ida to you about the whole board: Yours.');
    const long = heard(desk, [remark('word '.repeat(200))]);
    expect(long.length).toBeLessThan(160);
    expect(heard(desk, [remark('a'), remark('b', true)])).toBe('2 new remarks.');
    expect(heard(desk, [])).toBe('');
  });
});
