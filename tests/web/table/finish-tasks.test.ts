import { expect, it } from 'vitest';
import { finishTasks } from '../../../web/table/finish-tasks.ts';

it('[N14] end rows where there are some, then what closes the ends, then trimming to what the piece says or the usual', () => {
  expect(finishTasks({})).toEqual([
    { name: 'close', knot: 'overhand' },
    { name: 'trim', leftMm: 80 },
  ]);
  expect(finishTasks({ end: 'triangle', endKnot: 'tassel', tailMm: 45 })).toEqual([
    { name: 'rows' },
    { name: 'close', knot: 'tassel' },
    { name: 'trim', leftMm: 45 },
  ]);
  expect(finishTasks({ endKnot: 'braid' }).at(-1)).toEqual({ name: 'trim', leftMm: 120 });
});

it('[B285] [X112] without a ring braids close both sides, unless what is above the first row was closed before', () => {
  const braid = { name: 'close', knot: 'braid' };
  const trim = { name: 'trim', leftMm: 120 };
  expect(finishTasks({ begin: 'loose' })).toEqual([braid, { name: 'head', knot: 'braid' }, trim]);
  expect(finishTasks({ begin: 'stick', headKnot: 'overhand' })).toEqual([
    braid,
    { name: 'head', knot: 'overhand' },
    trim,
  ]);
  for (const piece of [
    { begin: 'loop' },
    { begin: 'loop', headKnot: 'braid' },
    { begin: 'loose', headKnot: 'overhand' },
    { begin: 'loose', headKnot: 'none' },
    { begin: 'stick', headKnot: 'none' },
  ] as const)
    expect(finishTasks(piece)).toEqual([braid, trim]);
  expect(finishTasks({ begin: 'loose', headKnot: 'none', endKnot: 'none' })).toEqual([
    { name: 'close', knot: 'none' },
    { name: 'trim', leftMm: 20 },
  ]);
});
