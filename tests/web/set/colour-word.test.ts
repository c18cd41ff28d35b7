import { beforeAll, describe, expect, it } from 'vitest';
import { colourWord } from '../../../web/set/colour-word.ts';
import { loadTexts } from '../../../web/text/index.ts';

beforeAll(() => loadTexts('set'));

describe('words for colours', () => {
  it('[Y8] a colour without a name gets a plain word', () => {
    // Hues of CSS's own named colours (CSS Color Module Level 4).
    const named = {
      red: '#ff0000',
      blue: '#0000ff',
      green: '#008000',
      yellow: '#ffff00',
      orange: '#ffa500',
      pink: '#ffc0cb',
      grey: '#808080',
      brown: '#8b4513',
      turquoise: '#40e0d0',
      violet: '#ee82ee',
    };
    for (const [word, hex] of Object.entries(named))
      expect([word, colourWord(hex)]).toEqual([word, expect.stringContaining(word)]);
    expect(colourWord('#101010')).toBe('dark grey');
    expect(colourWord('#add8e6')).toBe('pale blue');
  });
});
