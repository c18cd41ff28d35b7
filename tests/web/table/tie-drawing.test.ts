import { describe, expect, it } from 'vitest';
import { type WorkStep, workOrder } from '../../../engine/index.ts';
import { placesInSight, rowsInSight, tieDrawing } from '../../../web/table/tie-drawing.ts';
import { LOPSIDED, readBoard } from '../../support/own-board.ts';
import { markupOf } from '../../support/template-text.ts';

const { steps } = workOrder(readBoard(LOPSIDED), { method: 'rows' });
const HEXES = ['#000001', '#000002', '#000003', '#000004', '#000005', '#000006'];
const drawn = (done: number, open: readonly WorkStep[]): string =>
  markupOf(
    tieDrawing({
      label: 'Band',
      hexes: HEXES,
      knots: steps.map((step, at) => ({ step, isTied: at < done })),
      open,
      hanging: [0, 1, 2, 3, 4, 5],
    }),
  );
const count = (text: string, what: string): number => text.split(what).length - 1;

describe('the band as it is being tied', () => {
  it('[N25] shows tied knots in their colours, those of the step open, later ones hinted at', () => {
    const text = drawn(4, steps.slice(4, 6));
    const inSight = steps.filter(({ row }) => row <= rowsInSight(steps.slice(4, 6), 0)[1]);
    expect(count(text, 'class="cord tied"')).toBe(4);
    expect(count(text, 'class="open"')).toBe(2);
    expect(count(text, 'class="later"')).toBe(inSight.length - 6);
    expect(text).toContain(`fill=${HEXES[steps[0]!.knotting]}`);
  });

  it('[N25] lifts out the strings of the step and no others, and numbers the outer ones', () => {
    const text = drawn(0, [steps[0]!]);
    expect([count(text, 'class=lifted'), count(text, 'class=resting')]).toEqual([2, 4]);
    expect([...text.matchAll(/>(\d+)<\/text>/g)].map(([, number]) => Number(number))).toEqual([
      steps[0]!.place + 1,
      steps[0]!.place + 2,
    ]);
    expect(count(drawn(steps.length, []), 'class=lifted')).toBe(0);
  });

  it('[N25] of a wide band the step and its neighbours are in sight, never past its edges', () => {
    const sight = (place: number, strings = 60) => placesInSight(strings, [{ place }]);
    for (const place of [0, 1, 20, 40, 57, 58]) {
      const [first, last] = sight(place);
      expect(last - first + 1, `place ${place}`).toBe(24);
      expect(first <= place && place + 1 <= last && first >= 0 && last < 60).toBe(true);
    }
    expect(sight(3, 8)).toEqual([0, 7]);
    expect(placesInSight(60, [{ place: 0 }, { place: 58 }])).toEqual([0, 59]);
  });

  it('[N25] a step down many rows shows its beginning', () => {
    const rows = (list: readonly number[]) =>
      rowsInSight(
        list.map((row) => ({ row })),
        9,
      );
    expect(rows([10])).toEqual([7, 11]);
    expect(rows([10, 13])).toEqual([7, 13]);
    expect(rows([0, 50])).toEqual([0, 7]);
    expect(rows([])).toEqual([6, 10]);
  });
});
