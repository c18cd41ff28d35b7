import { afterEach, beforeAll, beforeEach, describe, expect, it, vi } from 'vitest';
import {
  AS_BOARD,
  lastRows,
  layIns,
  reachOf,
  stepKey,
  stillNeeded,
  workOrder,
} from '../../../engine/index.ts';
import { AidShort, leftNow } from '../../../web/table/aid-short.ts';
import type { Aided } from '../../../web/table/aid-host.ts';
import type { Keychain } from '../../../web/table/keychain-shelf.ts';
import { workAt } from '../../../web/table/table-work.ts';
import type { View } from '../../../web/table/views.ts';
import { loadTexts } from '../../../web/text/index.ts';
import { LOPSIDED, readBoard } from '../../support/own-board.ts';
import { stubPage } from '../../support/page-globals.ts';
import { elementsOf } from '../../support/template-elements.ts';
import { wordsOf } from '../../support/template-text.ts';

const GAUGE = {
  rowMm: 2,
  rowErrorMm: 0,
  knottingMm: 20,
  knottingErrorMm: 1,
  carrierMm: 3,
  carrierErrorMm: 0,
};
const BOARD = { ...readBoard({ ...LOPSIDED, piece: { repeats: 8, spareMm: 20, tailMm: 30 } }), gauge: GAUGE };
const order = workOrder(BOARD, { method: 'rows', covers: 'piece' });
if (!order.ok) throw new Error(order.error.message);
const { steps } = order;

beforeAll(async () => {
  await loadTexts('table');
  await loadTexts('panels');
});
beforeEach(() => void stubPage());
afterEach(() => vi.unstubAllGlobals());

function help(done: number, view: View = 'same') {
  const taken: unknown[] = [];
  const tied = new Set(steps.slice(0, done).map(stepKey));
  const keychain = { own: AS_BOARD, tied, view } as unknown as Keychain;
  const aided: Aided = { keychain, begun: BOARD, work: workAt(BOARD, steps, tied) };
  const aid = new AidShort({
    update: () => {},
    take: (patch) => taken.push(typeof patch === 'function' ? patch(keychain) : patch),
  });
  const all = () => elementsOf(aid.render(aided));
  const find = (name: RegExp) =>
    all().find(({ tag, attributes, words }) => tag === 'button' && name.test(attributes.title ?? words))!;
  const type = (text: string): void =>
    all()
      .find(({ attributes }) => attributes.id === 'left')!
      .fire('input', { target: { value: text } });
  return { aided, taken, find, type, all, words: () => wordsOf(aid.render(aided)) };
}

describe('running short', () => {
  it('[N49] tells of each string, as it hangs, what it takes to its last knot, for the end, for the fingers', () => {
    const { all, aided } = help(12);
    const needs = stillNeeded(BOARD, steps, 12);
    const cells = all()
      .filter(({ tag }) => tag === 'td')
      .map(({ words }) => words);
    expect(cells).toEqual(
      Array.from(aided.work.hanging).flatMap((string) => {
        const { knotsMm, endMm, spareMm } = needs[string]!;
        return [knotsMm, endMm, spareMm].map((mm) => `${Math.ceil(mm - 1e-6)} mm`);
      }),
    );
  });

  it('[N102] counts strings as the view does, the first one first', () => {
    const listed = (view: View) => {
      const { all, aided } = help(12, view);
      const titles = all().flatMap(({ tag, attributes }) =>
        tag === 'button' && attributes.class === 'string' ? [attributes.title!] : [],
      );
      const cells = all().flatMap(({ tag, words }) => (tag === 'td' ? [words] : []));
      return { titles, cells, hanging: [...aided.work.hanging] };
    };
    const [same, right, opposite] = (['same', 'from-right', 'opposite'] as const).map(listed);
    expect(same!.titles[0]).toMatch(/first from the left$|1st from the left$/);
    expect(right!.titles[0]).toBe(
      same!.titles.at(-1)!.replace(/, .*/, same!.titles[0]!.replace(/^[^,]*/, '').replace('left', 'right')),
    );
    expect(right!.cells).toEqual(
      same!.hanging
        .map((_, at) => same!.cells.slice(3 * at, 3 * at + 3))
        .reverse()
        .flat(),
    );
    expect(right!.cells).not.toEqual(same!.cells);
    expect(opposite!.cells).toEqual(same!.cells);
    expect(opposite!.titles).toEqual(same!.titles.map((title) => title.replace('left', 'right')));
  });

  it('[N50] [N51] what is left is enough, tight or short until where, how sure, and where a new string goes in', () => {
    const seen = { enough: 0, tight: 0, short: 0, layIn: 0, noPlace: 0 };
    const needs = stillNeeded(BOARD, steps, 9);
    for (let place = 0; place < 6; place++) {
      const need = needs[help(9).aided.work.hanging[place]!]!;
      const toEnd = Math.ceil(need.knotsMm + need.endMm);
      for (const left of [5, 60, 150, 400, toEnd + 2, 4000].map(String)) {
        const { aided, find, type, words } = help(9);
        find(new RegExp(`${['1st', '2nd', '3rd', '4th', '5th', '6th'][place]} from the left`)).fire('click');
        type(left);
        const string = aided.work.hanging[place]!;
        const reach = reachOf(BOARD, steps, 9, string, Number(left));
        const said = words();
        expect(said).toContain(
          reach.verdict === 'enough'
            ? 'Enough, and'
            : reach.verdict === 'tight'
              ? 'It reaches to the end'
              : reach.likely === null
                ? 'It doesn’t even reach'
                : 'It reaches to',
        );
        seen[reach.verdict]++;
        if (reach.verdict !== 'short') continue;
        expect(said).toMatch(/By the gauge, ± \d+ mm: surely to/);
        const ways = layIns(BOARD, steps, 9, string, Number(left));
        if (ways.length === 0) {
          expect(said).toContain('There is nowhere for it');
          seen.noPlace++;
        } else {
          expect(said).toContain(`${Math.ceil(ways.at(-1)!.newMm - 1e-6)} mm of the same thread`);
          seen.layIn++;
        }
      }
    }
    for (const [what, count] of Object.entries(seen)) expect(count, what).toBeGreaterThan(0);
  });

  it('[N52] a shorter piece ends where all strings measured reach, and is taken over; what is no length measures nothing', () => {
    const { aided, find, type, words, taken } = help(9);
    const string = aided.work.hanging[0]!;
    find(/1st from the left/).fire('click');
    type('200');
    const rows = lastRows(BOARD, steps, 9, [{ string, leftMm: 200 }])!;
    expect(rows).toBeGreaterThan(3);
    expect(words()).toContain(`${32 - rows} rows fewer`);
    find(/End it there/).fire('click');
    expect(taken).toEqual([{ own: { kinds: new Map(), endsAfter: rows } }]);
    find(/All strings/).fire('click');
    expect(words()).toContain('✓');
    expect(words()).toContain('By the 1 string that you measured');
    find(/1st from the left/).fire('click');
    type('much');
    expect(words()).not.toContain('It reaches');
  });

  it('[N50] what a string took since it was measured is off', () => {
    const { work } = help(20).aided;
    const string = steps[12]!.knotting;
    const before = stillNeeded(BOARD, steps, 5)[string]!.knotsMm;
    const after = stillNeeded(BOARD, steps, 20)[string]!.knotsMm;
    expect(before).toBeGreaterThan(after);
    expect(leftNow(work, string, { leftMm: 500, at: 5 })).toBeCloseTo(500 - (before - after), 9);
    expect(leftNow(work, string, { leftMm: 1, at: 5 })).toBe(0);
    // Who undid knots since then has no more for it than was measured.
    expect(leftNow(work, string, { leftMm: 500, at: 30 })).toBe(500);
  });
});
