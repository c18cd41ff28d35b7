import { describe, expect, it } from 'vitest';
import { solvePicture } from '../../../engine/index.ts';
import type { SolveTarget } from '../../../engine/solve/target.ts';
import { changedPicture, possiblePicture, targetOf } from '../../support/pictures.ts';

type SolvedPicture = Extract<ReturnType<typeof solvePicture>, { ok: true }>;

const hard = changedPicture(1, { strings: 14, rows: 30, colours: 4 }, 0.1);

describe('solvePicture', () => {
  it('[Z1] keeps strings, stagger and rows, and takes its colours from the palette', () => {
    const found = solvePicture(targetOf(4, 1, 3, [[2], [2, 0], [1]]));
    if (!found.ok) throw new Error(found.error.message);
    expect(found).toMatchObject({ wrong: 0, wrongCells: [], wrongWeight: 0, lowerBound: 0, proven: true });
    expect(found.board.pattern).toMatchObject({ start: 1, rows: 3 });
    expect(found.board.pattern.colours).toHaveLength(4);
    expect(found.board.palette.map(({ id }) => id)).toEqual(['c0', 'c1', 'c2']);
  });

  it('[Z2] a picture in which nothing is wanted, and one of no rows', () => {
    expect(solvePicture(targetOf(3, 0, 2, [[-1], [-1]]))).toMatchObject({ ok: true, wrong: 0, proven: true });
    expect(solvePicture(targetOf(2, 0, 1, []))).toMatchObject({ ok: true, wrong: 0, proven: true });
  });

  it('[Z3] names the cells that are wrong', () => {
    // Two strings of two colours cannot show three.
    const found = solvePicture(targetOf(2, 0, 3, [[0], [], [1], [], [2]]));
    expect(found).toMatchObject({ ok: true, wrong: 1, lowerBound: 1, proven: true });
    if (found.ok) expect(found.wrongCells).toHaveLength(1);
  });

  it('[Z11] the same steps give the same answer, told or not', () => {
    const shares: number[] = [];
    const bests: SolvedPicture[] = [];
    const steps = 8_000_000;
    const told = solvePicture(hard, {
      steps,
      onProgress: (share) => shares.push(share),
      onBest: (best) => bests.push(best),
    });
    expect(solvePicture(hard, { steps })).toEqual(told);
    expect(shares.length).toBeGreaterThan(5);
    expect(shares).toEqual(shares.toSorted((a, b) => a - b));
    expect(shares.at(-1)).toBe(1);
    expect(bests.length).toBeGreaterThan(1);
    for (const [i, best] of bests.entries()) {
      if (i > 0) expect(best.wrong).toBeLessThan(bests[i - 1]!.wrong);
      expect(best.proven).toBe(best.wrong <= best.lowerBound);
    }
    if (!told.ok) throw new Error(told.error.message);
    expect(told.board).toEqual(bests.at(-1)!.board);
  });

  it('[Z11] cancelled, it gives the best so far', () => {
    let asked = 0;
    const best: SolvedPicture[] = [];
    const found = solvePicture(hard, {
      isCancelled: () => best.length > 0 && ++asked > 0,
      onBest: (told) => best.push(told),
    });
    expect(best).toHaveLength(1);
    expect(found).toMatchObject({ ok: true, wrong: best[0]!.wrong, proven: false });
    expect(asked).toBeLessThan(3);
  });

  const { target } = possiblePicture(1, { strings: 4, rows: 3, colours: 2 });
  const bad: readonly (readonly [string, unknown, unknown, object])[] = [
    ['no target', null, {}, { kind: 'wrong-type', path: '', demand: { be: 'object' } }],
    ['too many strings', { ...target, strings: 201 }, {}, { kind: 'out-of-range', path: 'strings' }],
    ['another stagger', { ...target, start: 2 }, {}, { kind: 'out-of-range', path: 'start', value: '2' }],
    ['no rows', { ...target, rows: undefined }, {}, { kind: 'wrong-type', path: 'rows' }],
    [
      'a knot too many',
      { ...target, start: 0, rows: [[0, 0, 0]] },
      {},
      { kind: 'wrong-count', path: 'rows[0]', demand: { be: 'knots', count: 2, strings: 4 }, value: '3' },
    ],
    [
      'a colour that is not there',
      { ...target, start: 0, rows: [[0, 2]] },
      {},
      { kind: 'out-of-range', path: 'rows[0][1]', demand: { be: 'whole', least: -1, most: 1 } },
    ],
    ['no palette', { ...target, palette: [] }, {}, { kind: 'out-of-range', path: 'palette' }],
    [
      'a hex that is none',
      { ...target, palette: [{ id: 'a', hex: 'red' }] },
      {},
      { path: 'palette[0].hex', demand: { be: 'hex' } },
    ],
    [
      'a colour twice',
      { ...target, palette: [target.palette[0], target.palette[0]] },
      {},
      { kind: 'duplicate-id', path: 'palette[1].id' },
    ],
    ['an id that is none', { ...target, palette: [{ id: 7 }] }, {}, { path: 'palette[0].id' }],
    ['a name that is none', { ...target, palette: [{ id: 'a', name: 1 }] }, {}, { path: 'palette[0].name' }],
    ['no options', target, 7, { kind: 'wrong-type', path: 'options' }],
    ['an unknown order', target, { order: 'odd' }, { path: 'options.order', demand: { be: 'one-of' } }],
    ['an order too short', target, { order: ['c0'] }, { kind: 'wrong-count', path: 'options.order' }],
    [
      'an order of other colours',
      target,
      { order: ['c0', 'c1', 'x', 'c0'] },
      {
        kind: 'unknown-colour',
        path: 'options.order[2]',
        demand: { be: 'one-of', choices: 'c0, c1' },
        value: '"x"',
      },
    ],
    ['a flag that is none', target, { seamless: 1 }, { path: 'options.seamless', demand: { be: 'flag' } }],
    ['no steps', target, { steps: 0 }, { path: 'options.steps', demand: { be: 'whole' } }],
    ['half a lead-in row', target, { leadInRows: 0.5 }, { path: 'options.leadInRows' }],
    [
      'a row that is not there',
      target,
      { keep: [{ row: 3, k: 0, kind: 'f' }] },
      { path: 'options.keep[0].row' },
    ],
    [
      'a knot that is none',
      target,
      { keep: [{ row: 0, k: 0, kind: 'x' }] },
      { kind: 'unknown-knot', path: 'options.keep[0].kind', demand: { be: 'knot' } },
    ],
    ['weights of other rows', target, { weights: [] }, { kind: 'wrong-count', path: 'options.weights' }],
    ['a row of other weights', target, { weights: [[], [], []] }, { path: 'options.weights[0]' }],
    [
      'an order of odd counts that must be even',
      target,
      { order: ['c0', 'c1', 'c1', 'c1'], even: true },
      { kind: 'cannot-be', path: 'options' },
    ],
  ];
  it.each(bad)('[Z12] refuses %s', (_, wrongTarget, options, error) => {
    const found = solvePicture(wrongTarget as SolveTarget, options as object);
    expect(found).toMatchObject({ ok: false, error });
    if (!found.ok) expect(found.error.message.startsWith(found.error.path)).toBe(true);
  });
});
