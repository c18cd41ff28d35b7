import { describe, expect, it } from 'vitest';
import { workOrder } from '../../../engine/index.ts';
import { knotKey, knotOf, readKnotKey, stepKey } from '../../../engine/table/piece-knot.ts';
import { boardOf, randomBand, seededRandom } from '../../reference/work-bands.ts';

describe('the name of a tied knot', () => {
  it('[H1] is its own in the whole piece, the same under every order, and comes back from text', () => {
    const band = randomBand(seededRandom(1), { strings: 9, rows: 7 }, { untied: 0.1, staying: 0.4 });
    const board = boardOf(band, { leadInRows: 2, repeats: 3, end: 'double triangle' });
    const keysOf = (method: 'rows' | 'segments'): readonly string[] => {
      const order = workOrder(board, { method, covers: 'piece' });
      if (!order.ok) throw new Error(order.error.message);
      for (const step of order.steps) {
        expect(readKnotKey(stepKey(step))).toEqual(knotOf(step));
        expect(knotKey(knotOf(step))).toBe(stepKey(step));
      }
      return order.steps.map(stepKey);
    };
    const rows = keysOf('rows');
    expect(new Set(rows).size).toBe(rows.length);
    expect(new Set(keysOf('segments'))).toEqual(new Set(rows));
    for (const part of ['lead-in', 'band', 'end'])
      expect(rows.some((key) => key.startsWith(part))).toBe(true);
  });

  it('[H1] other text names no knot', () => {
    for (const key of [
      '',
      'band',
      'band 1 2',
      'band 0 2 3',
      'end 1 2 3',
      'lead-in 1 0 0',
      'band 1 02 3',
      'band 1 -2 3',
      'band 1 2 3 4',
      ' band 1 2 3',
      'band 1 2 1e2',
      'row 1 2 3',
    ])
      expect(readKnotKey(key), key).toBe(null);
  });
});
