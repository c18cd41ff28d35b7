import { describe, expect, it } from 'vitest';
import { hangingAfter, type StepSize, stepKey, type WorkStep, workOrder } from '../../../engine/index.ts';
import { firstRows, isAfterFirstRow, Tying } from '../../../web/table/tying.ts';
import { LOPSIDED, readBoard } from '../../support/own-board.ts';

const BOARD = readBoard({ ...LOPSIDED, piece: { repeats: 2 } });
const STRINGS = BOARD.pattern.colours.length;

function orderOf(method: 'rows' | 'segments'): readonly WorkStep[] {
  const order = workOrder(BOARD, { method, covers: 'piece' });
  if (!order.ok) throw new Error(order.error.message);
  return order.steps;
}

const ROWS = orderOf('rows');
const begin = (size: StepSize, tied: ReadonlySet<string> = new Set(), steps = ROWS): Tying =>
  new Tying(steps, STRINGS, size, tied);

describe('tying in steps', () => {
  it.each(['knot', 'run', 'half-row', 'row'] as const)(
    '[N21] On ties the steps of %s one after the other, to the last knot',
    (size) => {
      const tying = begin(size);
      for (const group of tying.groups) {
        expect(tying.on()).toBe('tied');
        expect(tying.tied).toEqual(new Set(ROWS.slice(0, group.to).map(stepKey)));
      }
      expect(tying.isDone).toBe(true);
      expect(tying.on()).toBe('done');
      expect(tying.tiedCount).toBe(ROWS.length);
    },
  );

  it('[N22] looking marks nothing as tied, stops at both ends, and comes back', () => {
    const tying = begin('knot', new Set(ROWS.slice(0, 3).map(stepKey)));
    const { tied } = tying;
    tying.look(2);
    expect([tying.seen, tying.mine, tying.isLooking]).toEqual([5, 3, true]);
    tying.look(-99);
    expect(tying.seen).toBe(0);
    tying.look(999);
    expect(tying.seen).toBe(ROWS.length - 1);
    tying.return();
    expect([tying.seen, tying.isLooking]).toEqual([3, false]);
    tying.look(1);
    tying.look(-1);
    expect(tying.isLooking).toBe(false);
    expect(tying.tied).toBe(tied);
  });

  it('[N23] On asks while one looks ahead, and only a yes ties all up to there', () => {
    const tying = begin('knot');
    tying.look(4);
    expect(tying.on()).toBe('ask');
    expect(tying.tied.size).toBe(0);
    tying.jump();
    expect(tying.tied).toEqual(new Set(ROWS.slice(0, 4).map(stepKey)));
    expect([tying.mine, tying.isLooking]).toEqual([4, false]);
  });

  it('[N23] On goes back to the maker’s knot while one looks back, and ties nothing', () => {
    const tying = begin('knot', new Set(ROWS.slice(0, 5).map(stepKey)));
    tying.look(-2);
    expect(tying.on()).toBe('returned');
    expect([tying.seen, tying.tied.size]).toEqual([5, 5]);
  });

  it('[N24] Back takes the last step back, none before the first; while one looks it only comes back', () => {
    const tying = begin('row');
    tying.on();
    tying.on();
    tying.back();
    expect(tying.tied).toEqual(new Set(ROWS.slice(0, tying.groups[0]!.to).map(stepKey)));
    tying.look(1);
    tying.back();
    expect([tying.isLooking, tying.mine]).toEqual([false, 1]);
    tying.back();
    tying.back();
    expect(tying.tied.size).toBe(0);
  });

  it('[N24] Back undoes what hangs on it too, where another order went before', () => {
    const other = orderOf('segments');
    const tying = begin('knot', new Set(other.slice(0, 7).map(stepKey)));
    while (tying.tied.size > 0) {
      const { size } = tying.tied;
      tying.back();
      expect(tying.tied.size).toBeLessThan(size);
      // What is left tied hangs on nothing that is not.
      const open = new Set<number>();
      for (const step of ROWS) {
        const isTied = tying.tied.has(stepKey(step));
        expect(isTied && (open.has(step.knotting) || open.has(step.carrier))).toBe(false);
        if (!isTied) open.add(step.knotting).add(step.carrier);
      }
    }
  });

  it('[N21] of a step that is begun only what is left is asked for', () => {
    const row = begin('row');
    const [group] = row.groups;
    const tied = new Set(ROWS.slice(0, 1).map(stepKey));
    row.follow(tied);
    expect(row.leftOf(0)).toEqual(ROWS.slice(1, group!.to));
    row.back();
    expect(row.tied.size).toBe(0);
  });

  it('[N26] what hangs on a knot that is not tied is taken for not tied, and so is a knot that there is not', () => {
    const keys = ROWS.slice(0, 6).map(stepKey);
    const tying = begin('knot', new Set([...keys.slice(1), 'band 9 0 0']));
    expect(tying.mine).toBe(0);
    expect(tying.tied.size).toBeLessThan(5);
    tying.follow(new Set([...keys, 'end 0 0 0']));
    expect(tying.tied).toEqual(new Set(keys));
  });

  it('[N25] the strings hang as after all that is tied before the step, ahead and behind too', () => {
    const tying = begin('knot', new Set(ROWS.slice(0, 4).map(stepKey)));
    const plain = (steps: readonly WorkStep[]): number[] => {
      const order = Array.from({ length: STRINGS }, (_, place) => place);
      for (const { kind, place } of steps)
        if (kind === 'f' || kind === 'b')
          [order[place], order[place + 1]] = [order[place + 1]!, order[place]!];
      return order;
    };
    for (const index of [0, 2, 4, 9, ROWS.length])
      expect([...tying.hanging(index)], `step ${index}`).toEqual(plain(ROWS.slice(0, index)));
    const isBefore = tying.isBefore(2);
    expect(ROWS.map((_, at) => isBefore(at)).lastIndexOf(true)).toBe(1);
  });

  it('[N25] they hang so too where another order went before, whatever was asked for last', () => {
    const other = orderOf('segments');
    let asked = 0;
    for (let done = 0; done <= other.length; done++)
      for (const size of ['knot', 'row'] as const) {
        const tying = begin(size, new Set(other.slice(0, done).map(stepKey)));
        for (const index of [tying.mine, tying.groups.length, 0, tying.mine, tying.mine + 1, tying.mine]) {
          const isBefore = tying.isBefore(index);
          const before = ROWS.filter((_, at) => isBefore(at));
          expect([...tying.hanging(index)], `${done} ${size} ${index}`).toEqual([
            ...hangingAfter(STRINGS, before),
          ]);
          asked += tying.tied.size === done && before.length !== tying.groups[index]?.from ? 1 : 0;
        }
      }
    // Some of them had knots behind the first that was not tied.
    expect(asked).toBeGreaterThan(20);
  });

  it('[N100] a step looks at a few knots, not at all of a band of 60 strings and 400 rows', () => {
    const rows = Array.from({ length: 400 }, (_, row) =>
      Array(30 - (row % 2))
        .fill('f')
        .join(' '),
    );
    const wide = readBoard({ ...LOPSIDED, strings: Array(60).fill('a'), rows, piece: { repeats: 1 } });
    const order = workOrder(wide, { method: 'rows', covers: 'piece' });
    if (!order.ok) throw new Error(order.error.message);
    let looked = 0;
    const counted = new Proxy(order.steps, {
      get: (steps, name, steps_) => {
        if (typeof name === 'string' && /^\d+$/.test(name)) looked++;
        return Reflect.get(steps, name, steps_) as unknown;
      },
    });
    const half = order.steps.length >> 1;
    const tying = new Tying(counted, 60, 'knot', new Set(order.steps.slice(0, half).map(stepKey)));
    tying.hanging(tying.seen);
    looked = 0;
    for (let step = 0; step < 200; step++) {
      expect(tying.on()).toBe('tied');
      tying.hanging(tying.seen);
      tying.leftOf(tying.seen);
      expect(tying.tiedCount).toBe(half + step + 1);
    }
    expect(looked).toBeGreaterThan(200);
    expect(looked).toBeLessThan(200 * 20);
  });
});

describe('after the first row', () => {
  it('[N90] it is time to compare from its last knot until the last one of the second row, in any order', () => {
    for (const method of ['rows', 'segments'] as const) {
      const steps = orderOf(method);
      const rows = new Map<number, number[]>();
      for (const [at, { row }] of steps.entries()) rows.set(row, [...(rows.get(row) ?? []), at]);
      const tying = begin('knot', new Set(), steps);
      for (let done = 0; done <= steps.length; done++) {
        const isTied = (row: number): boolean => Math.max(...rows.get(row)!) < done;
        expect(isAfterFirstRow(firstRows(rows), tying), `${method} ${done}`).toBe(isTied(0) && !isTied(1));
        tying.on();
      }
      expect(isAfterFirstRow(firstRows(new Map()), tying)).toBe(false);
    }
  });
});
