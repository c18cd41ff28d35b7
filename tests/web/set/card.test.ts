import { beforeAll, describe, expect, it } from 'vitest';
import { type Colourway, markColourways, planBoard } from '../../../engine/index.ts';
import { shortMarks } from '../../../web/set/card.ts';
import { loadTexts } from '../../../web/text/index.ts';
import { FOUR_STRINGS } from '../../support/four-strings.ts';

beforeAll(() => loadTexts('set'));

describe('marks in short', () => {
  const marks = (colours: Colourway['colours']) =>
    shortMarks(markColourways(FOUR_STRINGS, [{ id: 'w', name: 'W', colours }], planBoard)[0]!).map(
      ({ kind, text }) => [kind, text],
    );

  it('[Y10] each kind is named with its number', () => {
    const look = (id: string, hex: string) => ({ id, name: id, hex });
    expect(marks([look('a', '#1f6266'), look('b', '#e8c98a'), look('c', '#0c0c10')])).toEqual([
      ['good', 'neat back'],
    ]);
    expect(marks([look('a', '#111111'), look('b', '#111111'), look('c', '#141414')])).toEqual([
      ['warn', '1 crossing'],
      ['warn', '1 pair looks alike'],
      ['note', '2 colours became one'],
    ]);
    // Some who see colours otherwise see teal and wine alike.
    expect(marks([look('a', '#1f6266'), look('b', '#e8c98a'), look('c', '#8a2d4f')])).toEqual([
      ['good', 'neat back'],
      ['warn', '1 pair hard to tell apart'],
    ]);
    expect(marks([look('a', '#e0bf80')])).toEqual([
      ['good', 'neat back'],
      ['warn', '1 pair looks alike'],
      ['warn', '2 colours from the board'],
    ]);
  });
});
