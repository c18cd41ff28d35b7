/** Two changes of one text: nothing that was written is lost, words stay whole, and places stay with their words. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { mergeTexts } from '../../../../engine/document/texts/merge-texts.ts';
import '../../../support/property-seed.ts';

const merged = (base: string, mine: string, theirs: string): string => mergeTexts(base, mine, theirs).text;
/** Merges with `|` where the caret stands in mine. */
function withCaret(base: string, mine: string, theirs: string): string {
  const at = mine.indexOf('|');
  const { text, move } = mergeTexts(base, mine.replace('|', ''), theirs);
  return `${text.slice(0, move(at))}|${text.slice(move(at))}`;
}

describe('two changes of one text', () => {
  it('[D340] what either wrote is there, and what either deleted is not', () => {
    expect(merged('', 'Olive', '')).toBe('Olive');
    expect(merged('red cord', 'dark red cord', 'red cord, waxed')).toBe('dark red cord, waxed');
    expect(merged('a red cord for Ada', 'a cord for Ada', 'a red cord')).toBe('a cord');
    expect(merged('red', 'red', 'blue')).toBe('blue');
    expect(merged('red', 'blue', 'red')).toBe('blue');
    // A word written into what the other deleted.
    expect(merged('one. two three. four', 'one. four', 'one. two thirty three. four')).toContain('thirty');
  });

  it('[D341] words stay whole: where both changed one, both stand there', () => {
    expect(merged('Moss', 'Mosses', 'Olive')).toBe('Mosses Olive');
    expect(merged('Moss', 'Olive', 'Sand')).toBe('Olive Sand');
    expect(merged('', 'Olive', 'Sand')).toBe('Olive Sand');
    expect(merged('red', 'reds', 'redd')).toBe('reds redd');
    expect(merged('a b c', 'a c', 'ab c')).not.toMatch(/abc|ac/);
    expect(merged('Grün', 'Grünes', 'Grünlich')).toBe('Grünes Grünlich');
    expect(merged('a b c', 'a c', 'a c')).toBe('a c');
    // A blank that stayed by chance keeps nothing together.
    expect(merged('some name', 'Tail, red', 'Tail for Ada')).toBe('Tail, red Tail for Ada');
    expect(merged('a', 'red,', 'blue')).toBe('red, blue');
    // What both did alike stands once.
    expect(merged('red', 'red cord', 'red cord')).toBe('red cord');
    expect(merged('red', 'dark red cord', 'dark red')).toBe('dark red cord');
  });

  it('[D341] who goes on with a word that the other has seen half of goes on with it', () => {
    expect(merged('red cor str', 'red cor string', 'red cord str')).toBe('red cord string');
    expect(merged('str', 'string', 'cor str')).toBe('cor string');
    expect(merged('cor', 'dark cor', 'cord')).toBe('dark cord');
    expect(merged('cor', 'cord', 'dark cor')).toBe('dark cord');
  });

  it('[D341] two who each write a line get a line each, where there are lines', () => {
    const lines = (base: string, mine: string, theirs: string): string =>
      mergeTexts(base, mine, theirs, { isMultiline: true }).text;
    expect(lines('', 'steel ring', 'red cord')).toBe('steel ring\nred cord');
    expect(lines('cut 8', 'cut 9', 'cut 10')).toBe('cut 9 10');
    expect(lines('a\n\nb', 'a\none\nb', 'a\ntwo\nb')).toBe('a\none\ntwo\nb');
    expect(lines('a\nb', 'a\nc', 'a\nd')).toBe('a\nc\nd');
  });

  it('[D342] a caret stays with its word, or where it was', () => {
    expect(withCaret('red', 'red cor|', 'dark red')).toBe('dark red cor|');
    expect(withCaret('red', 'red cor|', 'red str')).toBe('red cor| str');
    expect(withCaret('a tail', 'a |tail', 'a long tail')).toBe('a long |tail');
    expect(withCaret('a tail', 'a ta|il', 'for Ada: a tail')).toBe('for Ada: a ta|il');
    expect(withCaret('a long tail', 'a lo|ng tail', 'a tail')).toBe('a |tail');
    expect(withCaret('', '|', 'red')).toMatch(/\|/);
    expect(withCaret('red', 're|d', 'red')).toBe('re|d');
  });

  it('[D342] a selection stays with what is selected', () => {
    const { text, move } = mergeTexts('a long tail', 'a long tail', 'what a very long new tail');
    const [from, to] = [move(2, 'right'), move(6, 'left')];
    expect(text.slice(from, to)).toBe('long');
  });

  it('[D343] an undo that meets what another wrote in its place leaves that alone', () => {
    expect(mergeTexts('reds', 'redsX', 'red', { clash: 'mine' }).text).toBe('redsX');
    expect(mergeTexts('a reds b', 'a reds b c', 'a red b', { clash: 'mine' }).text).toBe('a red b c');
  });

  it('[D340] texts without blanks, with emoji, and wholly others', () => {
    expect(merged('赤い紐', '赤い太い紐', '赤い紐です')).toContain('太い');
    expect(merged('👩‍👧 two', '👩‍👧 two!', '👩‍👧 and two')).toBe('👩‍👧 and two!');
    const long = (word: string): string => Array.from({ length: 800 }, (_, i) => `${word}${i}`).join(' ');
    const both = merged(long('a'), long('b'), `${long('a')} end`);
    expect(both.startsWith('b0 b1')).toBe(true);
    expect(both.endsWith('b799 end')).toBe(true);
  });
});

const word = fc.string({ unit: fc.constantFrom(...'abc'), minLength: 1, maxLength: 3 });
const text = fc
  .array(fc.oneof(word, fc.constantFrom(' ', ' ', '\n', ',')), { maxLength: 14 })
  .map((all) => all.join(''));

describe('any three texts', () => {
  const words = (all: string): string[] => all.match(/\w+/g) ?? [];
  const check = (law: (base: string, mine: string, theirs: string) => void): void =>
    fc.assert(fc.property(text, text, text, law), { numRuns: 2000 });

  it('[D340] keep every word that one of them brought', () => {
    check((base, mine, theirs) => {
      const all = merged(base, mine, theirs);
      for (const side of [mine, theirs])
        for (const one of words(side))
          if (!words(base).some((old) => old.includes(one))) expect(all).toContain(one);
    });
  });

  it('[D340] of which two are one give the third', () => {
    check((base, mine) => {
      expect(merged(base, mine, base)).toBe(mine);
      expect(merged(base, base, mine)).toBe(mine);
      expect(merged(base, mine, mine)).toBe(mine);
    });
  });

  it('[D341] make no word that neither of them has', () => {
    check((base, mine, theirs) => {
      const known = new Set([...words(base), ...words(mine), ...words(theirs)]);
      expect(words(merged(base, mine, theirs)).filter((one) => !known.has(one))).toEqual([]);
    });
  });

  it('[D342] move places to places of the text, in their order', () => {
    check((base, mine, theirs) => {
      const { text: all, move } = mergeTexts(base, mine, theirs);
      let last = 0;
      for (let at = 0; at <= mine.length; at++) {
        const now = move(at, 'left');
        expect(now).toBeGreaterThanOrEqual(last);
        expect(now).toBeLessThanOrEqual(all.length);
        last = now;
      }
    });
  });
});
