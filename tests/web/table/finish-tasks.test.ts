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
