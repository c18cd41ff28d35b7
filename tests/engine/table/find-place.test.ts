import { describe, expect, it } from 'vitest';
import { findPlace, type WorkOrder, workOrder } from '../../../engine/index.ts';
import { boardOf, randomBand, seededRandom } from '../../reference/work-bands.ts';

function succeed(order: ReturnType<typeof workOrder>): WorkOrder {
  return order as WorkOrder;
}

describe('findPlace', () => {
  it('[H11] finds every number of steps after which the strings hang so, as tying them one by one shows', () => {
    const random = seededRandom(11);
    let several = 0;
    for (let turn = 0; turn < 150; turn++) {
      const size = { strings: 2 + Math.floor(random() * 6), rows: 1 + Math.floor(random() * 6) };
      const board = boardOf(randomBand(random, size, { untied: random() * 0.4, staying: random() }));
      const options = {
        method: (['rows', 'segments', 'exact'] as const)[turn % 3]!,
        covers: { repeats: 1 + (turn % 3), end: (['straight', 'triangle'] as const)[turn % 2]! },
        firstHalf: (['left', 'right'] as const)[turn % 2]!,
        rowsFirst: turn % 2,
      };
      const { steps } = succeed(workOrder(board, options));
      const hanging = [...board.pattern.colours];
      const states = [hanging.join(' ')];
      for (const { place, kind } of steps) {
        if (kind.length === 1) hanging.splice(place, 2, hanging[place + 1]!, hanging[place]!);
        states.push(hanging.join(' '));
      }
      for (const state of new Set(states)) {
        const expected = states.flatMap((one, at) => (one === state ? [at] : []));
        expect(findPlace(board, state.split(' '), options)).toEqual(expected);
        if (expected.length > 1) several++;
      }
    }
    expect(several).toBeGreaterThan(100);
  });

  it('[H11] takes the options of workOrder and their defaults, and gives nothing where the strings never hang so', () => {
    const board = boardOf(
      randomBand(seededRandom(3), { strings: 6, rows: 8 }, { untied: 0.2, staying: 0.3 }),
    );
    const { steps } = workOrder(board);
    const at = steps.length;
    const hanging = [...board.pattern.colours];
    for (const { place, kind } of steps)
      if (kind.length === 1) hanging.splice(place, 2, hanging[place + 1]!, hanging[place]!);
    expect(findPlace(board, hanging)).toContain(at);
    expect(findPlace(board, board.pattern.colours)).toContain(0);
    expect(findPlace(board, Array(6).fill('c0'))).toEqual([]);
  });

  it('[H11] refuses another number of colours, and hands on why there is no order', () => {
    const board = boardOf(randomBand(seededRandom(3), { strings: 4, rows: 3 }, { untied: 0, staying: 0 }));
    expect(() => findPlace(board, ['c0'])).toThrow(/1 colours.*4 strings/);
    expect(findPlace(board, board.pattern.colours, { covers: { repeats: 10_000 } })).toMatchObject({
      ok: false,
      error: { kind: 'too-large', path: 'covers' },
    });
  });
});
