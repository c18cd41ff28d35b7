/** What a beginning comes to, and what differs, in words. */
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { beginBoard, fitShape, type Shape, type Tally, tallyOf } from '../../../engine/index.ts';
import { loadTexts, speak } from '../../../web/text/index.ts';
import { sayDifferences, sayTally } from '../../../web/start/say-tally.ts';
import { redrawn, stepped, turnedOver } from '../../../web/start/shape-steps.ts';
import { stubPage } from '../../support/page-globals.ts';
import { THREADS } from '../../support/threads.ts';

beforeAll(async () => {
  stubPage();
  await loadTexts('figures');
});
afterAll(() => vi.unstubAllGlobals());

const PALETTE = THREADS.slice(0, 3).map((thread, i) => ({ id: `c${i}`, ...thread }));

function tally(strings: number, barMm?: number): Tally {
  const board = beginBoard(fitShape('stripes', strings), PALETTE);
  return tallyOf({ ...board, piece: { lengthMm: 80, ...(barMm === undefined ? {} : { barMm }) } });
}

describe('a line of what a beginning comes to', () => {
  it('[B307] strings that are all as long are said to be', () => {
    const line = sayTally({ ...tally(14), shortestMm: 508, longestMm: 508 }, 'mm');
    expect(line.at(-1)).toBe('all strings 508 mm');
  });

  it('[B307] says how it mounts, the bar, minutes, pick-ups and ends', () => {
    const line = sayTally(tally(14), 'mm').join(' · ');
    expect(line).toMatch(
      /^mounts neatly · needs a bar of 3\/4 in · \d+ min · \d+ pick-ups a repeat · strings from \d+ mm to \d+ mm$/,
    );
    expect(sayTally(tally(13), 'mm')).toContain('1 single');
  });

  it('[B307] says whether it fits the bar chosen, and which it needs where not', () => {
    expect(sayTally(tally(14, 19.05), 'mm')).toContain('fits this bar');
    expect(sayTally(tally(14, 10), 'mm').join()).toMatch(/too tight for this bar, needs 3\/4 in/);
    expect(sayTally(tally(14, 50), 'mm').join()).toMatch(/too loose on this bar, needs 3\/4 in/);
  });

  it('[B307] counts crossings and lead-in rows where there are some', () => {
    const crossed = { ...tally(14), isNeat: false, crossings: 2, leadInRows: 1 };
    expect(sayTally(crossed, 'mm').slice(0, 2)).toEqual(['2 crossings', '1 lead-in row']);
  });

  it('[B308] says what differs, with its numbers, in both languages', async () => {
    const differs = [
      { what: 'more-colours', from: 2, to: 3 },
      { what: 'longer', from: 12, to: 20 },
      { what: 'finer', from: 0.2, to: 0.4 },
      { what: 'mirrored' },
    ] as const;
    expect(sayDifferences(differs)).toBe(
      '3 colours, not 2, longer repeat (20 rows, not 12), finer, mirrored along the middle',
    );
    await speak('de');
    expect(sayDifferences(differs)).toContain('3 Farben statt 2');
    await speak('en');
  });
});

describe('steps of a shape', () => {
  it('[B306] go through all that can be had and end there, and the others stay', () => {
    let shape: Shape | null = fitShape('diamonds', 14, { colours: 2 });
    const sizes: number[] = [];
    for (let down: Shape | null = shape; down !== null; down = stepped(down, 'size', -1, 3)) {
      sizes.push(down.size);
      shape = down;
    }
    expect(sizes.length).toBeGreaterThan(2);
    expect(sizes).toEqual([...sizes].sort((a, b) => b - a));
    expect(stepped(shape!, 'size', -1, 3)).toBeNull();
    expect(shape).toMatchObject({ kind: 'diamonds', strings: 14, colours: 2 });
  });

  it('[B306] take no more colours than are chosen, and turn and redraw where there is room', () => {
    const shape = fitShape('stripes', 14, { colours: 2 });
    expect(stepped(shape, 'colours', 1, 2)).toBeNull();
    expect(stepped(shape, 'colours', 1, 3)?.colours).toBe(3);
    expect(turnedOver(shape)?.isTurned).toBe(true);
    expect(turnedOver(fitShape('windows', 14))).toBeNull();
    expect(redrawn(shape)?.lines).toBe(2);
    expect(redrawn(fitShape('stripes', 6))).toBeNull();
  });
});
