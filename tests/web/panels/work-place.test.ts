/** Where the maker is in the order of tying: kept for each board, and with its knot whatever others do. */
import { expect, test } from 'vitest';
import { workOrder } from '../../../engine/index.ts';
import { type PlaceShelf, WorkPlace } from '../../../web/panels/work-place.ts';
import { planShelf } from '../../../web/worker/plan-shelf.ts';
import { packSteps, type StepTable, stepAt } from '../../../web/worker/step-table.ts';
import { openDesign, runAll } from '../../support/open-design.ts';
import { sampleBoard } from '../../support/sample-board.ts';

function shelf(): PlaceShelf & { readonly kept: Map<string, string> } {
  const kept = new Map<string, string>();
  return {
    kept,
    getItem: (key) => kept.get(key) ?? null,
    setItem: (key, value) => {
      kept.set(key, value);
    },
  };
}

test('[B154] the place in the order of tying comes back, for each board its own', () => {
  const store = shelf();
  const place = new WorkPlace('kites', store);
  Object.assign(place, {
    step: 57,
    method: 'segments',
    covers: 'piece',
    rowsFirst: 4,
    view: 'mirrored',
    isLong: true,
  });
  place.keep();
  expect(new WorkPlace('kites', store)).toMatchObject({
    step: 57,
    method: 'segments',
    covers: 'piece',
    rowsFirst: 4,
    view: 'mirrored',
    isLong: true,
  });
  expect(new WorkPlace('boats', store)).toMatchObject({
    step: 0,
    method: 'rows',
    covers: 'pattern',
    rowsFirst: 0,
  });
});

test('[B154] [B124] the side on which one begins is kept for each board, and the page mounts from there', () => {
  const store = shelf();
  const place = new WorkPlace('kites', store);
  place.step = 5;
  expect(place.firstHalf).toBe('left');
  const board = { pattern: { ...sampleBoard().pattern, colours: [...'abbacc'] }, piece: {} };
  const turns = (): readonly number[] => planShelf.foundOf(board).folds.map(({ turn }) => turn);
  expect(turns()).toEqual([1, 2, 3]);
  place.beginOn('right');
  expect([place.step, turns()]).toEqual([0, [2, 3, 1]]);
  expect(new WorkPlace('kites', store).firstHalf).toBe('right');
  expect(new WorkPlace('boats', store).firstHalf).toBe('left');
  expect([...store.kept.keys()].every((key) => key.startsWith('larkboard.work.kites.'))).toBe(true);
  place.beginOn('left');
  expect([new WorkPlace('kites', store).firstHalf, turns()]).toEqual(['left', [1, 2, 3]]);
  const full = new WorkPlace('kites', {
    getItem: () => null,
    setItem: () => {
      throw new DOMException('full', 'QuotaExceededError');
    },
  });
  full.beginOn('right');
  expect([full.firstHalf, turns()]).toEqual(['right', [2, 3, 1]]);
  full.beginOn('left');
});

test('[B154] what cannot be read is as if it were not kept', () => {
  for (const text of [
    '',
    '{',
    'null',
    '7',
    '[]',
    '{"step":-1,"method":"x","rowsFirst":1.5}',
    '{"step":"9","view":3,"rowsFirst":-2}',
  ]) {
    const store = shelf();
    store.kept.set('larkboard.work.kites.place', text);
    const place = new WorkPlace('kites', store);
    expect([text, place.step, place.method, place.view, place.rowsFirst]).toEqual([
      text,
      0,
      'rows',
      'plain',
      0,
    ]);
  }
});

test('[B154] it stays with its knot when rows and strings come and go, in the same repeat', () => {
  for (const covers of ['pattern', 'piece'] as const) {
    const design = openDesign(sampleBoard(8, 8));
    const order = (): StepTable => {
      const found = workOrder(design.snapshot.board, { method: 'rows', covers });
      if (!found.ok) throw new Error(found.error.message);
      return packSteps(found);
    };
    const place = new WorkPlace('kites', shelf());
    const begun = order();
    const last = begun.numbers.length / 11 - 1;
    const at = Array.from({ length: last }, (_, i) => i).find((i) => {
      const { partRow, k, repeat } = stepAt(begun, i);
      return partRow === 5 && k === 1 && repeat === (covers === 'piece' ? 2 : 1);
    })!;
    place.goTo(at, begun, design);
    const now = (): readonly number[] => {
      const table = order();
      place.follow(table, design);
      const { partRow, k, repeat } = stepAt(table, place.step);
      return [partRow, k, repeat];
    };
    const repeat = covers === 'piece' ? 2 : 1;
    expect(now()).toEqual([5, 1, repeat]);
    runAll(design, { kind: 'insert-row-pairs', at: 0, count: 2 });
    runAll(design, { kind: 'set-knots', knots: [{ row: 0, k: 0, knot: 1 }] });
    expect(now()).toEqual([9, 1, repeat]);
    runAll(design, { kind: 'insert-string-pairs', at: 0, count: 1 });
    expect(now()).toEqual([9, 2, repeat]);
    runAll(design, { kind: 'delete-row-pairs', from: 0, count: 2 });
    expect(now()).toEqual([5, 2, repeat]);
    // Gone: the number stays, and from then on the knot that has it.
    const { step } = place;
    runAll(design, { kind: 'set-knots', knots: [{ row: 5, k: 2, knot: 0 }] });
    now();
    expect(place.step).toBe(step);
    place.startAnew();
    expect(now().slice(2)).toEqual([1]);
    expect(place.step).toBe(0);
  }
});

test('[B154] a browser that has no room knows the place until the page is closed; any other fault is one', () => {
  const design = openDesign(sampleBoard(8, 8));
  const table = packSteps(workOrder(design.snapshot.board, { method: 'rows' }));
  const failing = (cause: Error): WorkPlace => {
    const setItem = (): never => {
      throw cause;
    };
    return new WorkPlace('kites', { getItem: () => null, setItem });
  };
  const place = failing(new DOMException('full', 'QuotaExceededError'));
  place.goTo(7, table, design);
  expect(place.step).toBe(7);
  expect(() => failing(new TypeError('ours')).goTo(7, table, design)).toThrow('ours');
});

test('[B154] where nothing is tied any more the step is the first; it goes on from there when something is', () => {
  const design = openDesign(sampleBoard(4, 2));
  const order = (): StepTable => packSteps(workOrder(design.snapshot.board, { method: 'rows' }));
  const place = new WorkPlace('kites', shelf());
  place.goTo(99, order(), design);
  expect(place.step).toBe(order().count - 1);
  const cells = [0, 1].map((k) => ({ row: 0, k, knot: 0 }) as const);
  runAll(design, { kind: 'set-knots', knots: [...cells, { row: 1, k: 0, knot: 0 }] });
  expect(order().count).toBe(0);
  place.follow(order(), design);
  place.goTo(3, order(), design);
  expect(place.step).toBe(0);
  runAll(design, { kind: 'set-knots', knots: [{ row: 0, k: 1, knot: 2 }] });
  place.follow(order(), design);
  runAll(design, { kind: 'set-knots', knots: [{ row: 0, k: 0, knot: 2 }] });
  place.follow(order(), design);
  // With its knot, which is the second now.
  expect(place.step).toBe(1);
});

test('[B154] in the rows that end the piece the number stays: they are no knots of the board', () => {
  const board = sampleBoard(8, 8);
  // The rows of the lead-in come in no repeat either.
  const design = openDesign({ ...board, piece: { ...board.piece, leadInRows: 2 } });
  const order = (): StepTable => {
    const found = workOrder(design.snapshot.board, { method: 'rows', covers: 'piece' });
    if (!found.ok) throw new Error(found.error.message);
    return packSteps(found);
  };
  const begun = order();
  const at = Array.from({ length: begun.count }, (_, i) => i).find((i) => {
    const { part, partRow, k } = stepAt(begun, i);
    return part === 'end' && partRow === 0 && k === 1;
  })!;
  const place = new WorkPlace('kites', shelf());
  place.goTo(at, begun, design);
  expect(stepAt(begun, 0)).toMatchObject({ part: 'lead-in', partRow: 0, k: 1, repeat: 0 });
  runAll(design, { kind: 'set-knots', knots: [{ row: 5, k: 1, knot: 0 }] });
  place.follow(order(), design);
  expect(place.step).toBe(at);
});
