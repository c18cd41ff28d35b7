import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { type Board, patternFromText } from '../../../engine/index.ts';
import { loadTexts, speak } from '../../../web/text/index.ts';
import { headLengths, placeRuns, sayBeginning } from '../../../web/words/index.ts';
import { stubPage } from '../../support/page-globals.ts';
import { sampleBoard } from '../../support/sample-board.ts';

beforeAll(async () => {
  stubPage();
  await Promise.all([loadTexts('panels')]);
});
afterAll(() => vi.unstubAllGlobals());

const worn = (piece: Board['piece']): Board => ({
  ...sampleBoard(),
  pattern: patternFromText(['r', 'g', 'g', 'r'], []),
  gauge: { cordMm: 1 },
  piece,
});
const said = (piece: Board['piece']): string => sayBeginning(worn(piece), 'mm');

describe('how a band without a ring begins', () => {
  it('[B280] each way says what hands do, with its lengths', () => {
    expect(said({ begin: 'loose' })).toMatch(/^Each string is a cord of its own\. Lay .* leave 120 mm above/);
    expect(said({ begin: 'loose', headKnot: 'overhand', headMm: 95 })).toMatch(
      /overhand knot with 95 mm of each/,
    );
    expect(said({ begin: 'stick', headKnot: 'none' })).toMatch(/round a stick with 20 mm above it/);
    expect(said({ begin: 'loop', loopMm: 12 })).toMatch(/loop 12 mm high\. Tie an overhand knot below it\./);
    expect(said({ begin: 'loop', headKnot: 'braid' })).toMatch(/loop 15 mm high\. Braid 40 mm below it\./);
    expect(said({ begin: 'loop', headKnot: 'none' })).toMatch(/Tape it down below the loop\./);
  });

  it('[B280] the length above the first row leaves the loop out, as it is stated', () => {
    expect(headLengths(worn({ begin: 'loop', loopMm: 12, headMm: 30 }), 'mm')).toEqual({
      head: '30 mm',
      loop: '12 mm',
    });
    // 16.372 thicknesses of a bundle of four strings of 0.58 mm.
    expect(headLengths(worn({ begin: 'loop' }), 'mm').head).toBe('19 mm');
  });

  it('[B280] places of one colour that are neighbours are told as one', () => {
    expect(placeRuns(['r', 'g', 'g', 'r'])).toEqual([
      { colour: 'r', from: 0, to: 0 },
      { colour: 'g', from: 1, to: 2 },
      { colour: 'r', from: 3, to: 3 },
    ]);
  });

  it('[B280] in German too', async () => {
    await speak('de');
    await Promise.all([loadTexts('panels')]);
    for (const begin of ['loose', 'loop', 'stick'] as const)
      expect(said({ begin })).toMatch(/Str(a|ä)nge?|Fäden/);
    await speak('en');
  });
});
