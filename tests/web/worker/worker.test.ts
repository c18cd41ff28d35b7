/** What the index gives: plans for elements, what stands in their place, orders of tying, what a board comes to. */
import type { ReactiveControllerHost, TemplateResult } from 'lit';
import { afterEach, beforeAll, beforeEach, describe, expect, it, vi } from 'vitest';
import { type Board, patternFromText, planMount } from '../../../engine/index.ts';
import { loadTexts } from '../../../web/text/index.ts';
import { consequencesOf } from '../../../web/worker/consequences.ts';
import { PlanReader, planPending, planShelf, runWorkOrder, stepAt } from '../../../web/worker/index.ts';
import type { Mounted, PendingPlan } from '../../../web/worker/plan-shelf.ts';
import { sampleBoard } from '../../support/sample-board.ts';
import { markupOf, wordsOf } from '../../support/template-text.ts';
import { startToldWorkers, ToldWorker } from '../../support/told-worker.ts';

beforeAll(() => loadTexts('panels'));
beforeEach(() => {
  startToldWorkers();
  vi.useFakeTimers();
});
afterEach(() => {
  vi.useRealTimers();
  vi.unstubAllGlobals();
});

/** An order of 2n places that crosses and takes a search; another one for each n. */
function crossing(n: number): Mounted {
  const half = Array.from({ length: n }, (_, i) => `c${i}`);
  return {
    pattern: { colours: [...half, ...half], start: 0, rows: 0, knots: new Uint8Array(0) },
    piece: {},
  };
}
const pause = (): Promise<unknown> => vi.advanceTimersByTimeAsync(500);

describe('[B120] plans for an element', () => {
  function reader() {
    let renders = 0;
    const controllers: unknown[] = [];
    const host = {
      addController: (one: unknown) => controllers.push(one),
      requestUpdate: () => renders++,
    } as unknown as ReactiveControllerHost;
    const plans = new PlanReader(host);
    expect(controllers).toEqual([plans]);
    plans.hostConnected();
    renders = 0;
    return { plans, renders: () => renders };
  }
  const answer = async (board: Mounted): Promise<void> => {
    ToldWorker.all.at(-1)!.tell({ kind: 'answer', answer: planMount(board.pattern.colours) });
    await pause();
  };

  it('of several boards are there once all are known, each the right one; till then it is drawn as each comes', async () => {
    const { plans, renders } = reader();
    const [one, two, neat] = [crossing(30), crossing(31), { ...crossing(1), piece: {} }];
    const all = () => plans.all([neat, one, two]);
    expect(all()).toEqual({ kind: 'looking', share: 0 });
    await pause();
    await answer(one);
    expect([all().kind, renders()]).toEqual(['looking', 1]);
    await pause();
    await answer(two);
    const found = all();
    expect([found.kind, renders()]).toEqual(['found', 2]);
    if (found.kind === 'found')
      for (const board of [one, two, neat])
        expect(found.planOf(board)).toEqual(planMount(board.pattern.colours));
    plans.hostDisconnected();
  });

  it('of which one failed are not there, and say so', async () => {
    const { plans } = reader();
    const boards = [crossing(32), crossing(1)];
    plans.all(boards);
    await pause();
    ToldWorker.all[0]!.fail('');
    await pause();
    expect(plans.all(boards)).toEqual({ kind: 'failed', why: 'notStarted' });
    plans.hostDisconnected();
  });

  it('are not worked out for one that has left the page, and are when it comes back', async () => {
    const { plans, renders } = reader();
    const board = crossing(33);
    expect(plans.stateOf(board).kind).toBe('looking');
    await pause();
    plans.hostDisconnected();
    expect(ToldWorker.all[0]!.isEnded).toBe(true);
    plans.hostConnected();
    expect(renders()).toBe(1);
    // So it is drawn, and asks.
    expect(plans.read((stateOf) => stateOf(board).kind)).toBe('looking');
    await pause();
    await answer(board);
    expect(plans.stateOf(board)).toEqual({ kind: 'found', plan: planMount(board.pattern.colours) });
    plans.hostDisconnected();
  });
});

describe('what stands where a plan will', () => {
  /** The one listener in it: what its button does. */
  const press = (template: TemplateResult): void => {
    const listener = template.values.find((value) => typeof value === 'function');
    (listener as () => void)();
  };

  it('[B121] [B123] says how far it is and stops it; once stopped begins it again', async () => {
    let news = 0;
    const watch = planShelf.watch(() => news++);
    const board = crossing(34);
    const state = (): PendingPlan => watch.read((stateOf) => stateOf(board)) as PendingPlan;
    state();
    await pause();
    ToldWorker.all[0]!.tell({ kind: 'progress', share: 0.5 });
    const looking = planPending(state());
    expect(wordsOf(looking)).toBe('Working out how it mounts … Stop');
    expect(markupOf(looking)).toContain('.value=0.5');
    press(looking);
    expect([ToldWorker.all[0]!.isEnded, state().kind]).toEqual([true, 'stopped']);
    const stopped = planPending(state());
    expect(wordsOf(stopped)).toBe('How it mounts is not worked out Try again');
    expect(markupOf(stopped)).not.toMatch(/role=alert|class=warn/);
    press(stopped);
    expect(state()).toEqual({ kind: 'looking', share: 0 });
    expect(news).toBe(3);
    watch.end();
  });

  it('[B123] says why there is none, so that it is heard, and tries again', async () => {
    const watch = planShelf.watch(() => {});
    const board = crossing(35);
    const state = (): PendingPlan => watch.read((stateOf) => stateOf(board)) as PendingPlan;
    state();
    await pause();
    ToldWorker.all[0]!.fail('');
    await pause();
    const failed = planPending(state());
    expect(wordsOf(failed)).toBe(
      'This cannot be computed: a part of the page could not be fetched; check the connection and try again Try again',
    );
    expect(markupOf(failed)).toMatch(/role=alert.*class=warn/);
    press(failed);
    expect(state().kind).toBe('looking');
    watch.end();
  });
});

describe('an order of tying', () => {
  const order = (board: Board, more: Partial<Parameters<typeof runWorkOrder>[0]> = {}) =>
    runWorkOrder({
      kind: 'work-order',
      board,
      method: 'rows',
      covers: 'pattern',
      rowsFirst: 0,
      firstHalf: 'left',
      ...more,
    });

  it('has every knot, from the top', () => {
    const found = order(sampleBoard(6, 4));
    if (!found.ok) throw new Error(found.error.kind);
    const { count } = found.value;
    expect(count).toBe(sampleBoard(6, 4).pattern.knots.filter((knot) => knot !== 0).length);
    expect([stepAt(found.value, 0).row, stepAt(found.value, count - 1).row]).toEqual([0, 3]);
    expect(() => stepAt(found.value, count)).toThrow(RangeError);
  });

  it('[B155] with a number of first rows that is no such number is refused with the field, not thrown', () => {
    for (const rowsFirst of [-1, 1.5, 5])
      expect(order(sampleBoard(6, 4), { method: 'segments', rowsFirst })).toEqual({
        ok: false,
        error: {
          kind: 'out-of-range',
          path: 'rowsFirst',
          demand: { be: 'whole', least: 0, most: 4 },
          value: rowsFirst,
        },
      });
  });

  it('of a piece too long or with a length that is none is refused', () => {
    const long = { ...sampleBoard(4, 300), piece: { repeats: 90 } };
    expect(order(long, { covers: 'piece' })).toMatchObject({
      ok: false,
      error: { kind: 'too-large', path: 'covers' },
    });
    const none = { ...sampleBoard(), piece: { lengthMm: -3 } };
    expect(order(none, { covers: 'piece' })).toMatchObject({
      ok: false,
      error: { kind: 'out-of-range', path: 'piece.lengthMm' },
    });
  });

  it('tells how far it is where strings wait for each other in a tangle, to whoever listens', () => {
    const shares: number[] = [];
    // Each string bends round both its neighbours in turn.
    const rows = Array.from({ length: 40 }, (_, row) => (row % 2 === 0 ? 'fb '.repeat(10) : 'bf '.repeat(9)));
    const colours = Array.from({ length: 20 }, () => 'r');
    const board = { ...sampleBoard(), pattern: patternFromText(colours, rows) };
    const options = { method: 'segments', covers: 'pattern', rowsFirst: 0, firstHalf: 'left' } as const;
    const job = { kind: 'work-order', board, ...options } as const;
    const heard = runWorkOrder(job, (share) => shares.push(share));
    expect(shares.at(-1)).toBe(1);
    expect(runWorkOrder(job)).toEqual(heard);
  });

  it('a fault of our own is no refusal', () => {
    expect(() => order({ ...sampleBoard(), piece: { leadInRows: 999 } })).toThrow(RangeError);
  });
});

describe('what a board comes to', () => {
  const board: Board = { ...sampleBoard(), pattern: patternFromText(['r', 'g', 'g', 'r', 'b'], ['f f']) };

  it('[A31] is how it mounts, what to cut and what is alike; without what to cut where a field is out of range', () => {
    const found = consequencesOf(board);
    expect([found.plan.neat, found.plan.singles, found.symmetry.mirror.order]).toEqual([true, [4], false]);
    expect(found.cut!.knots).toBeGreaterThan(0);
    expect(consequencesOf({ ...board, gauge: { cordMm: -1 } })).toEqual({ ...found, cut: null, one: null });
  });

  it('a fault of our own is not taken for a field', () => {
    expect(() => consequencesOf({ ...board, piece: { end: 'knotted' as never } })).toThrow(TypeError);
  });
});
