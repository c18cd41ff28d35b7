import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { mergeTexts } from '../../../web/panels/merge-texts.ts';

describe('notes written by two at once', () => {
  it('[X26] changes in different places are both there', () => {
    expect(
      mergeTexts('red cord\nsteel ring', 'dark red cord\nsteel ring', 'red cord\nsteel ring, 19 mm'),
    ).toBe('dark red cord\nsteel ring, 19 mm');
  });

  it('[X26] two additions at one place both stay', () => {
    expect(mergeTexts('', 'mine', 'theirs')).toBe('mine\ntheirs');
  });

  it('[X26] one who changed nothing changes nothing', () => {
    fc.assert(
      fc.property(fc.string(), fc.string(), (base, text) => {
        expect(mergeTexts(base, base, text)).toBe(text);
        expect(mergeTexts(base, text, base)).toBe(text);
        expect(mergeTexts(base, text, text)).toBe(text);
      }),
      { seed: 11 },
    );
  });

  it('[X26] a word that either put in is in the result', () => {
    const insert = (base: string, at: number, word: string): string =>
      base.slice(0, at % (base.length + 1)) + word + base.slice(at % (base.length + 1));
    fc.assert(
      fc.property(fc.string({ unit: fc.constantFrom(...'ab \n') }), fc.nat(), fc.nat(), (base, i, j) => {
        const merged = mergeTexts(base, insert(base, i, 'XYZ'), insert(base, j, 'UVW'));
        expect(merged).toContain('XYZ');
        expect(merged).toContain('UVW');
      }),
      { seed: 12 },
    );
  });
});
