/** What a colour begins as that is added to the palette. */
import { beforeAll, describe, expect, it } from 'vitest';
import { ciede2000 } from '../../../engine/colour/difference.ts';
import { hexToLab } from '../../../engine/index.ts';
import { newColour } from '../../../web/panels/new-colour.ts';
import { loadTexts } from '../../../web/text/index.ts';
import { stubPage } from '../../support/page-globals.ts';

beforeAll(async () => {
  stubPage();
  await loadTexts('panels');
});

describe('a new colour', () => {
  it('[B381] has a name that no other has, and looks like none', () => {
    const palette = [{ id: 'a', name: 'spruce', hex: '#1f6266' }];
    for (let i = 0; i < 4; i++) {
      const colour = newColour(palette);
      for (const { hex } of palette)
        expect(ciede2000(hexToLab(hex), hexToLab(colour.hex))).toBeGreaterThan(10);
      palette.push({ id: `n${i}`, ...colour });
    }
    expect(palette.map(({ name }) => name)).toEqual([
      'spruce',
      'new colour',
      'new colour 2',
      'new colour 3',
      'new colour 4',
    ]);
    expect(newColour([{ id: 'a', name: ' New Colour ', hex: '#1f6266' }]).name).toBe('new colour 2');
  });
});
