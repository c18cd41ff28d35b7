import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { groupSteps, type StepSize, type WorkMethod, workOrder } from '../../../engine/index.ts';
import { sayGroup, tiesFrom } from '../../../web/table/say-group.ts';
import { loadTexts, speak } from '../../../web/text/index.ts';
import { readBoard } from '../../support/own-board.ts';
import { stubPage } from '../../support/page-globals.ts';

/** Two rows whose halves mirror each other round the middle, one of mixed knots, one of many. */
const BOARD = readBoard({
  format: 'larkboard',
  version: 1,
  palette: [
    { id: 'a', name: 'cloud', hex: '#dde7ee' },
    { id: 'b', name: 'moss', hex: '#4a6b2c' },
  ],
  strings: ['a', 'b', 'a', 'b', 'b', 'a', 'b', 'a'],
  rows: ['f f b b', 'f fb b', 'f f f f', 'f b fb', 'f b fb bf', 'f b f'],
});

beforeAll(async () => {
  stubPage();
  await loadTexts('table');
});
afterAll(async () => {
  await speak('en');
  vi.unstubAllGlobals();
});

function said(size: StepSize, method: Exclude<WorkMethod, 'exact'> = 'rows'): readonly string[] {
  const { steps } = workOrder(BOARD, { method });
  return groupSteps(steps, size, 8).map((group) => sayGroup(BOARD, group, steps.slice(group.from, group.to)));
}

describe('what to do, in one sentence', () => {
  it('[N20] one knot says which string goes over which, by where they hang and their colours', () => {
    expect(said('knot')[0]).toBe(
      'Row 1: forward knot, the 3rd string from the left (cloud) over the 4th (moss).',
    );
  });

  it('[N20] half a row says its side, its knots and which way; the other half that it is the same mirrored', () => {
    const [left, right] = said('half-row');
    expect(left).toBe('Row 1, left half: 2 forward knots, outwards.');
    expect(right).toBe('Row 1, right half: the same mirrored, 2 backward knots.');
  });

  it('[N20] a row is its knots one after the other; of many kinds as many knots as drawn', () => {
    const rows = said('row');
    expect(rows[0]).toBe('Row 1: left half 2 forward knots, outwards; right half the same mirrored.');
    expect(rows[2]).toBe('Row 3: 4 forward knots, from left to right.');
    expect(rows[4]).toBe(
      'Row 5: 1 forward knot, 1 backward knot, 1 forward-backward knot, and 1 backward-forward knot, from left to right.',
    );
  });

  it('[N20] a run says which string, by its colour and where it hangs, which way, and how many knots', () => {
    const runs = said('run', 'segments').filter((one) => one.includes('from the left:'));
    expect(runs.length).toBeGreaterThan(0);
    for (const one of runs)
      expect(one).toMatch(
        /^(cloud|moss), \d(st|nd|rd|th) from the left: \d [\w-]+ knots(, to the (left|right))?\.$/,
      );
  });

  it('[N20] of a step that is begun only what is left is said', () => {
    const { steps } = workOrder(BOARD, { method: 'rows' });
    const [row] = groupSteps(steps, 'row', 8);
    expect(sayGroup(BOARD, row!, steps.slice(1, row!.to))).toBe(
      'Row 1: left half 1 forward knot; right half 2 backward knots, outwards.',
    );
    expect(() => sayGroup(BOARD, row!, [])).toThrow(RangeError);
  });

  it('[N20] the string that ties hangs left before a forward knot, right before a backward one', () => {
    expect((['f', 'fb', 'b', 'bf'] as const).map((kind) => tiesFrom({ kind, place: 4 }))).toEqual([
      4, 4, 5, 5,
    ]);
  });

  it('[N20] in German too', async () => {
    await speak('de');
    expect(said('row')[0]).toBe(
      'Reihe 1: linke Hälfte 2 Vorwärtsknoten, nach außen; rechte Hälfte dasselbe gespiegelt.',
    );
    expect(said('half-row')[0]).toBe('Reihe 1, linke Hälfte: 2 Vorwärtsknoten, nach außen.');
    await speak('en');
  });
});
