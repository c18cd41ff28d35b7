import { describe, expect, it } from 'vitest';
import { type Board, patternFromText, type WorkStep, workOrder } from '../../../engine/index.ts';
import { compareTied } from '../../../engine/table/compare-tied.ts';
import { knotKey, stepKey } from '../../../engine/table/piece-knot.ts';
import { looseKnots } from '../../../engine/table/progress.ts';
import { boardOf, randomBand, seededRandom } from '../../reference/work-bands.ts';

function stepsOf(board: Board): readonly WorkStep[] {
  const order = workOrder(board, { method: 'rows', covers: 'piece' });
  if (!order.ok) throw new Error(order.error.message);
  return order.steps;
}

const board = (rows: readonly string[], piece: Board['piece'] = {}): Board =>
  boardOf(patternFromText(['c0', 'c1', 'c2', 'c0'], rows), piece);
const keysOf = (steps: readonly WorkStep[]): Set<string> => new Set(steps.map(stepKey));

describe('compareTied', () => {
  it('[H17] nothing differs on the same board, and everything stays tied', () => {
    const random = seededRandom(17);
    for (let turn = 0; turn < 40; turn++) {
      const band = randomBand(
        random,
        { strings: 2 + (turn % 6), rows: 1 + (turn % 7) },
        { untied: 0.2, staying: 0.4 },
      );
      const one = boardOf(band, { repeats: 2, end: 'triangle', leadInRows: turn % 2 });
      const steps = stepsOf(one);
      const tied = keysOf(steps.slice(0, Math.floor(random() * (steps.length + 1))));
      expect(compareTied(one, one, tied)).toMatchObject({ canFollow: true, changes: [], missing: [], tied });
    }
  });

  it('[H17] a tied knot differs by its kind, by the thread that shows, or by being gone; one not tied never does', () => {
    const begun = board(['f b', 'f', 'fb bf']);
    const steps = stepsOf(begun);
    const told = (now: Board, count: number): string[][] =>
      compareTied(begun, now, keysOf(steps.slice(0, count))).changes.map(({ was, change, kind }) => [
        knotKey(was),
        change,
        kind,
      ]);
    expect(told(board(['f fb', 'f', 'fb bf']), 5)).toEqual([
      ['band 1 0 1', 'kind', 'fb'],
      // What hung there hangs elsewhere now, and shows.
      ['band 1 2 1', 'colour', 'bf'],
    ]);
    expect(told(board(['f f', 'f', 'fb bf']), 1)).toEqual([]);
    expect(told(board(['f b', '-', 'fb bf']), 3)).toEqual([['band 1 1 0', 'gone', '-']]);
    expect(told(board(['f b']), 4)).toEqual([
      ['band 1 1 0', 'gone', '-'],
      ['band 1 2 0', 'gone', '-'],
    ]);
    const recoloured = {
      ...begun,
      palette: begun.palette.map((one) => (one.id === 'c0' ? { ...one, hex: '#123456' } : one)),
    };
    expect(told(recoloured, 2)).toEqual([
      ['band 1 0 0', 'colour', 'f'],
      ['band 1 0 1', 'colour', 'b'],
    ]);
    const renamed = {
      ...begun,
      palette: begun.palette.map((one) => ({ ...one, name: 'x', hex: one.hex.toUpperCase() })),
    };
    expect(told(renamed, 5)).toEqual([]);
  });

  it('[H17] knots of now above tied ones are told, and with them nothing hangs in the air', () => {
    const begun = board(['f -', 'f', 'f f']);
    const now = board(['f b', 'f', 'f f']);
    const tied = keysOf(stepsOf(begun).slice(0, 2));
    const { missing, tied: kept, changes } = compareTied(begun, now, tied);
    expect([missing.map(knotKey), changes.map(({ change }) => change)]).toEqual([['band 1 0 1'], []]);
    expect(looseKnots(stepsOf(now), kept)).toEqual(['band 1 1 0']);
    expect(looseKnots(stepsOf(now), new Set([...kept, ...missing.map(knotKey)]))).toEqual([]);
    const random = seededRandom(18);
    for (let turn = 0; turn < 100; turn++) {
      const size = { strings: 2 + Math.floor(random() * 6), rows: 1 + Math.floor(random() * 6) };
      const [one, other] = [0, 1].map(() =>
        boardOf({ ...randomBand(random, size, { untied: 0.4, staying: 0.5 }), start: 0 }),
      );
      const steps = stepsOf(one!);
      const done = keysOf(steps.slice(0, Math.floor(random() * (steps.length + 1))));
      const found = compareTied(one!, other!, done);
      const whole = new Set([...found.tied, ...found.missing.map(knotKey)]);
      expect(looseKnots(stepsOf(other!), whole)).toEqual([]);
      for (const knot of found.missing) expect(found.tied.has(knotKey(knot))).toBe(false);
      expect(found.tied.size + found.changes.filter(({ change }) => change === 'gone').length).toBe(
        done.size,
      );
    }
  });

  it('[H17] rows that moved are followed by who knows where they are, and the first repeat may come out of the lead-in or go into it', () => {
    const begun = board(['f b', 'f', 'b f', 'b'], { repeats: 2 });
    const steps = stepsOf(begun);
    const now = board(['bf bf', 'bf', 'f b', 'f', 'b f', 'b'], { repeats: 2, leadInRows: 2 });
    const down = (row: number): number => row + 2;
    const all = compareTied(begun, now, keysOf(steps), down);
    expect(all.changes.filter(({ change }) => change !== 'colour')).toEqual([]);
    expect([...all.tied].sort()).toEqual(
      steps.map(({ repeat, partRow, k }) => `band ${repeat} ${partRow + 2} ${k}`).sort(),
    );
    expect(all.missing.length).toBe(3);
    const led = board(['f b', 'f', 'b f', 'b'], { repeats: 2, leadInRows: 1 });
    const moved = compareTied(begun, led, keysOf(steps));
    expect(moved.tied.has('lead-in 0 0 0')).toBe(true);
    expect(moved.changes.filter(({ change }) => change === 'gone').map(({ was }) => knotKey(was))).toEqual([
      'band 2 0 0',
      'band 2 0 1',
    ]);
    const back = compareTied(led, begun, new Set(['lead-in 0 0 0']));
    expect([...back.tied]).toEqual(['band 1 0 0']);
    const gone = compareTied(begun, now, new Set(['band 1 1 0']), () => null);
    expect(gone.changes).toEqual([
      { was: { part: 'band', repeat: 1, row: 1, k: 0 }, now: null, change: 'gone', kind: '-' },
    ]);
  });

  it('[H17] with another number of strings there is nothing to follow', () => {
    const begun = board(['f b', 'f']);
    const now = boardOf(patternFromText(['c0', 'c1', 'c2'], ['f', 'f']));
    const { canFollow, changes, tied } = compareTied(begun, now, keysOf(stepsOf(begun)));
    expect([canFollow, changes.map(({ change }) => change), tied.size]).toEqual([
      false,
      ['gone', 'gone', 'gone'],
      0,
    ]);
  });
});
