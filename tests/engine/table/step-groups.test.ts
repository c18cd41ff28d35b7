import { describe, expect, it } from 'vitest';
import { type Board, patternFromText, type WorkStep, workOrder } from '../../../engine/index.ts';
import { groupSteps, type StepSize } from '../../../engine/table/step-groups.ts';
import { boardOf, randomBand, seededRandom } from '../../reference/work-bands.ts';

const strings = (count: number): string[] => Array.from({ length: count }, (_, i) => `c${i % 3}`);
const board = (count: number, rows: readonly string[], start: 0 | 1 = 0): Board =>
  boardOf(patternFromText(strings(count), rows, start));

function told(steps: readonly WorkStep[], size: StepSize, count: number): readonly unknown[][] {
  return groupSteps(steps, size, count).map(({ from, to, side, kind, heading, mirrors }) => [
    steps
      .slice(from, to)
      .map(({ row, k }) => `${row}.${k}`)
      .join(' '),
    side,
    kind,
    heading,
    mirrors,
  ]);
}

describe('groupSteps', () => {
  it('[H20] half a row: the middle, one side outwards, and the same mirrored, either side first', () => {
    const rows = board(8, ['f f b b', 'f fb b']);
    expect(told(workOrder(rows, { method: 'rows' }).steps, 'half-row', 8)).toEqual([
      ['0.1 0.0', 'left', 'f', 'left', null],
      ['0.2 0.3', 'right', 'b', 'right', 0],
      ['1.1', 'middle', 'fb', null, null],
      ['1.0', 'left', 'f', null, null],
      ['1.2', 'right', 'b', null, 3],
    ]);
    expect(told(workOrder(rows, { method: 'rows', firstHalf: 'right' }).steps, 'half-row', 8)).toEqual([
      ['0.2 0.3', 'right', 'b', 'right', null],
      ['0.1 0.0', 'left', 'f', 'left', 0],
      ['1.1', 'middle', 'fb', null, null],
      ['1.2', 'right', 'b', null, null],
      ['1.0', 'left', 'f', null, 3],
    ]);
  });

  it('[H20] a run: one string ties knots of one kind, over as many strings as it goes', () => {
    const rows = board(6, ['- - b', '- b', '- b -', 'f -', 'fb - -']);
    const { steps } = workOrder(rows, { method: 'segments' });
    const groups = groupSteps(steps, 'run', 6);
    expect(told(steps, 'run', 6)[0]).toEqual(['0.2 1.1 2.1', null, 'b', 'left', null]);
    expect(groups[0]).toMatchObject({ knotting: 5, from: 0, to: 3 });
    expect(steps.slice(0, 3).map(({ carrier }) => carrier)).toEqual([4, 3, 2]);
  });

  it('[H20] a row: all that is tied of it', () => {
    const rows = board(6, ['f b f', '- f', 'b b b']);
    expect(told(workOrder(rows, { method: 'rows' }).steps, 'row', 6)).toEqual([
      ['0.0 0.1 0.2', null, null, 'right', null],
      ['1.1', 'right', 'f', null, null],
      ['2.0 2.1 2.2', null, 'b', 'right', null],
    ]);
  });

  it('[H20] groups follow each other through all steps, are of one thing, and go on no longer than it lasts', () => {
    const random = seededRandom(20);
    const thing = {
      knot: (_: WorkStep, at: number) => at,
      run: ({ knotting, kind }: WorkStep) => `${knotting} ${kind}`,
      'half-row': ({ row, place }: WorkStep, _: number, count: number) =>
        `${row} ${Math.sign(place + 1 - count / 2)}`,
      row: ({ row }: WorkStep) => row,
    } as const;
    for (let turn = 0; turn < 120; turn++) {
      const size = { strings: 2 + Math.floor(random() * 8), rows: 1 + Math.floor(random() * 8) };
      const band = boardOf(randomBand(random, size, { untied: random() * 0.4, staying: random() }));
      const { steps } = workOrder(band, { method: turn % 2 === 0 ? 'rows' : 'segments' });
      for (const of of ['knot', 'run', 'half-row', 'row'] as const) {
        const groups = groupSteps(steps, of, size.strings);
        const things = steps.map((step, at) => thing[of](step, at, size.strings));
        expect(groups.flatMap(({ from, to }) => steps.slice(from, to))).toEqual(steps);
        for (const [i, { from, to, knotting, kind, mirrors }] of groups.entries()) {
          expect(new Set(things.slice(from, to)).size).toBe(1);
          if (i > 0) expect(things[from]).not.toBe(things[from - 1]);
          for (const step of steps.slice(from, to)) {
            if (knotting !== null) expect(step.knotting).toBe(knotting);
            if (kind !== null) expect(step.kind).toBe(kind);
          }
          if (mirrors !== null) expect(mirrors).toBeLessThan(i);
        }
      }
    }
    expect(() => groupSteps(workOrder(board(4, ['f f'])).steps, 'inch' as 'row', 4)).toThrow(/inch/);
  });
});
