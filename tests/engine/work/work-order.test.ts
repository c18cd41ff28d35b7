import { describe, expect, it } from 'vitest';
import {
  type Board,
  mirrorPattern,
  patternFromText,
  type WorkOrder,
  workOrder,
} from '../../../engine/index.ts';
import type { WorkOrderFailure } from '../../../engine/work/work-order.ts';
import { bandOf, boardOf, randomBand, seededRandom } from '../../reference/work-bands.ts';

const board = (
  strings: number,
  rows: readonly string[],
  start: 0 | 1 = 0,
  piece: Board['piece'] = {},
): Board =>
  boardOf(
    patternFromText(
      Array.from({ length: strings }, (_, i) => `c${i % 3}`),
      rows,
      start,
    ),
    piece,
  );

const cells = (order: WorkOrder): readonly string[] => order.steps.map(({ row, k }) => `${row}.${k}`);

function succeed(order: WorkOrder | WorkOrderFailure): WorkOrder {
  if (!order.ok) throw new Error(order.error.message);
  return order;
}

describe('row by row', () => {
  it('[O3] goes from the middle outwards where a row is mirrored, first the left half', () => {
    expect(cells(workOrder(board(8, ['f f b b', 'f fb b']), { method: 'rows' }))).toEqual([
      '0.1',
      '0.0',
      '0.2',
      '0.3',
      '1.1',
      '1.0',
      '1.2',
    ]);
  });

  it('[O3] takes any knot in the middle as mirrored, and an untied pair only with an untied pair', () => {
    expect(cells(workOrder(board(6, ['f - b']), { method: 'rows' }))).toEqual(['0.0', '0.2']);
    expect(cells(workOrder(board(8, ['- bf fb -', 'f f f']), { method: 'rows' }))).toEqual([
      '0.1',
      '0.2',
      '1.0',
      '1.1',
      '1.2',
    ]);
    expect(cells(workOrder(board(8, ['- b f b']), { method: 'rows' }))).toEqual(['0.1', '0.2', '0.3']);
  });

  it('[O3] goes left to right under an odd number of strings, where no row has a middle', () => {
    expect(cells(workOrder(board(5, ['f b', 'f b']), { method: 'rows' }))).toEqual([
      '0.0',
      '0.1',
      '1.0',
      '1.1',
    ]);
  });
});

describe('what is covered', () => {
  it('[O2] leaves untied pairs out; a knot below them waits for the last tied knot above', () => {
    const order = workOrder(board(4, ['f -', '-', '- -', '-', 'f b']), { method: 'segments' });
    expect(
      order.steps.map(({ row, k, place, kind, knotting, carrier }) => [
        row,
        k,
        place,
        kind,
        knotting,
        carrier,
      ]),
    ).toEqual([
      [0, 0, 0, 'f', 0, 1],
      [4, 0, 0, 'f', 1, 0],
      [4, 1, 2, 'b', 3, 2],
    ]);
  });

  it('[O8] has no steps and no pick-ups for a band without knots', () => {
    for (const method of ['rows', 'segments', 'exact'] as const)
      expect(workOrder(board(4, ['- -']), { method })).toMatchObject({
        steps: [],
        pickUps: 0,
        lowerBound: 0,
        exact: true,
      });
    expect(workOrder(board(2, []))).toMatchObject({ steps: [], pickUps: 0 });
  });

  it('[O8] covers the whole piece: lead-in once, repeats, an untied row between odd repeats, the end', () => {
    const piece = { repeats: 3, leadInRows: 1, end: 'triangle' } as const;
    const order = succeed(workOrder(board(4, ['f f', 'b'], 0, piece), { method: 'rows', covers: 'piece' }));
    expect(order.steps.map(({ row, part, repeat, partRow }) => [row, part, repeat, partRow])).toEqual([
      [0, 'lead-in', 0, 0],
      [0, 'lead-in', 0, 0],
      [1, 'band', 1, 1],
      [3, 'band', 2, 1],
      [5, 'band', 3, 1],
    ]);
    const even = succeed(
      workOrder(board(4, ['f f', 'b']), { method: 'rows', covers: { repeats: 2, end: 'triangle' } }),
    );
    expect(even.steps.map(({ row, part, partRow }) => [row, part, partRow])).toEqual([
      [0, 'band', 0],
      [0, 'band', 0],
      [1, 'band', 1],
      [2, 'band', 0],
      [2, 'band', 0],
      [3, 'band', 1],
    ]);
    const ended = succeed(
      workOrder(board(4, ['f f']), { method: 'rows', covers: { repeats: 1, end: 'triangle' } }),
    );
    expect(ended.steps.map(({ row, part, partRow }) => [row, part, partRow])).toEqual([
      [0, 'band', 0],
      [0, 'band', 0],
      [1, 'end', 0],
    ]);
  });

  it('[O8] follows the strings through the repeats', () => {
    const order = succeed(workOrder(board(4, ['f -', '-']), { covers: { repeats: 4 } }));
    expect(order.steps.map((step) => step.knotting)).toEqual([0, 1, 0, 1]);
    expect(order.pickUps).toBe(4);
  });

  it('[O8] says what is wrong with what it is asked to cover', () => {
    expect(() => workOrder(board(4, ['f -']), { covers: { repeats: 0 } })).toThrow(/repeats.*0/);
    expect(() => workOrder(board(4, ['f -'], 0, { leadInRows: 2 }), { covers: { repeats: 2 } })).toThrow(
      /leadInRows.*2/,
    );
    expect(() => workOrder(board(4, ['f -'], 0, { repeats: -1 }), { covers: 'piece' })).toThrow(/repeats/);
    const order = workOrder(board(4, ['f -']), { covers: { repeats: 10_001 } });
    expect(order).toMatchObject({ ok: false, error: { kind: 'too-large', path: 'covers' } });
    expect(() => workOrder(board(4, ['f -']), { method: 'best' as 'rows' })).toThrow(/best/);
  });
});

describe('few pick-ups', () => {
  it('[O5] keeps one string in the hand all the way across', () => {
    const order = workOrder(board(4, ['f -', 'f', '- f']), { method: 'segments' });
    expect(order).toMatchObject({ pickUps: 1, lowerBound: 1, exact: true });
  });

  it('[O6] cuts one of two spans that wait for each other over the string between them', () => {
    // Strings 1 and 3 always show and stay; both are tied round string 2 in turn.
    const order = workOrder(board(4, ['bf bf', 'fb', 'bf bf', 'fb']), { method: 'exact' });
    expect(order).toMatchObject({ ok: true, exact: true });
    expect(succeed(order).pickUps).toBeGreaterThan(2);
  });

  it('[O7] fails with the bounds reached when the limit settles nothing', () => {
    const random = seededRandom(3);
    const tried = Array.from({ length: 60 }, () =>
      workOrder(boardOf(randomBand(random, { strings: 24, rows: 60 }, { untied: 0.2, staying: 1 })), {
        method: 'exact',
        searchLimit: 0,
      }),
    );
    const failed = tried.filter((order) => !order.ok);
    expect(failed.length).toBeGreaterThan(0);
    for (const order of failed) {
      if (order.ok || order.error.kind !== 'too-large' || order.error.path !== 'method')
        throw new Error('another failure');
      expect(order.error.pickUps).toBeGreaterThan(order.error.lowerBound);
      expect(order.error.message).toContain(String(order.error.lowerBound));
    }
  });

  it('[O8] tells how far it is', () => {
    const band = boardOf(randomBand(seededRandom(4), { strings: 30, rows: 100 }, { untied: 0, staying: 1 }));
    const shares: number[] = [];
    succeed(
      workOrder(band, {
        method: 'segments',
        onProgress: (share) => shares.push(share),
      }),
    );
    expect(shares.length).toBeGreaterThan(3);
    expect(shares).toEqual([...shares].sort((a, b) => a - b));
    expect(shares[shares.length - 1]).toBe(1);
  });

  it('[O6] untangles one tangle of a whole striped band', () => {
    // Every odd string shows in all its knots and is tied in turn round the strings on either side.
    const random = seededRandom(9);
    const stripes = bandOf(40, 200, (row) => (random() < 0.05 ? 0 : row % 2 === 0 ? 4 : 3));
    const order = workOrder(boardOf(stripes), { method: 'segments' });
    expect(order.pickUps / order.lowerBound).toBeLessThanOrEqual(1.03);
    expect(order.pickUps).toBeLessThan(workOrder(boardOf(stripes), { method: 'rows' }).pickUps);
  });
});

describe('begun on the right', () => {
  it('[O30] a mirrored row is tied from the middle, the right half first, any other from right to left', () => {
    const rows = board(8, ['f f b b', 'f fb b', 'f f f f']);
    expect(cells(workOrder(rows, { method: 'rows', firstHalf: 'right' }))).toEqual([
      '0.2',
      '0.3',
      '0.1',
      '0.0',
      '1.1',
      '1.2',
      '1.0',
      '2.3',
      '2.2',
      '2.1',
      '2.0',
    ]);
  });

  it('[O30] step n is step n of the mirrored band begun on the left, by every method, repeats and end included', () => {
    const random = seededRandom(30);
    const kinds = { f: 'b', b: 'f', fb: 'bf', bf: 'fb' } as const;
    let differing = 0;
    for (let turn = 0; turn < 240; turn++) {
      const strings = 2 + Math.floor(random() * 9);
      const rows = 1 + Math.floor(random() * 9);
      const band = randomBand(random, { strings, rows }, { untied: random() * 0.5, staying: random() });
      const method = (['rows', 'segments', 'exact'] as const)[turn % 3]!;
      const options = {
        method,
        covers: { repeats: 1 + (turn % 2) },
        rowsFirst: Math.floor(random() * (rows + 1)),
      };
      const right = succeed(workOrder(boardOf(band), { ...options, firstHalf: 'right' }));
      const mirrored = succeed(workOrder(boardOf(mirrorPattern(band)), options));
      expect(right).toEqual({
        ...mirrored,
        steps: mirrored.steps.map((step) => ({
          ...step,
          k: ((strings - ((band.start + step.row) & 1)) >> 1) - 1 - step.k,
          place: strings - 2 - step.place,
          kind: kinds[step.kind],
          knotting: strings - 1 - step.knotting,
          carrier: strings - 1 - step.carrier,
        })),
      });
      const left = succeed(workOrder(boardOf(band), options));
      expect(new Set(cells(right))).toEqual(new Set(cells(left)));
      if (cells(right).join() !== cells(left).join()) differing++;
    }
    expect(differing).toBeGreaterThan(100);
  });

  it('[O30] leaves the order as it is when it begins on the left, and refuses another side', () => {
    const band = board(6, ['f b f', 'b f', 'f f b']);
    expect(workOrder(band, { firstHalf: 'left' })).toEqual(workOrder(band));
    expect(() => workOrder(band, { firstHalf: 'top' as 'left' })).toThrow(/firstHalf "top"/);
  });
});
