/** The model of a board as it is now, and its plan once that is known. */
import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import { type Board, planMount } from '../../../engine/index.ts';
import { LiveModel } from '../../../web/board/live-model.ts';
import { sampleBoard, samplePattern } from '../../support/sample-board.ts';
import { startToldWorkers, ToldWorker } from '../../support/told-worker.ts';

beforeEach(() => {
  startToldWorkers();
  vi.useFakeTimers();
});
afterEach(() => {
  vi.useRealTimers();
  vi.unstubAllGlobals();
});

/** A board whose order crosses and takes a search; each of these another order. */
function crossing(n: number): Board {
  const half = Array.from({ length: n }, (_, i) => `c${i}`);
  const palette = half.map((id) => ({ id, name: id, hex: '#336699' }));
  const colours = [...half, ...half];
  return { ...sampleBoard(), palette, pattern: { ...samplePattern(2 * n, 4), colours } };
}

function live(board: Board) {
  const told: boolean[] = [];
  const model = new LiveModel(board, () => told.push(model.model.plan !== null));
  return { model, told };
}

const pause = (): Promise<unknown> => vi.advanceTimersByTimeAsync(500);
const answer = async (board: Board): Promise<void> => {
  ToldWorker.all.at(-1)!.tell({ kind: 'answer', answer: planMount(board.pattern.colours) });
  await pause();
};

it('[B121] shows the board before its plan is there, and is told once it is', async () => {
  const board = crossing(16);
  const { model, told } = live(board);
  expect(model.model).toMatchObject({ strings: 32, rows: 4, plan: null, isPlanning: true });
  await pause();
  const before = model.model;
  // How far it is, is nothing that the board shows.
  ToldWorker.all[0]!.tell({ kind: 'progress', share: 0.5 });
  expect([told, model.model === before]).toEqual([[], true]);
  await answer(board);
  expect([told, model.model.isPlanning]).toEqual([[true], false]);
  // All that was woven stays; a picture that is drawn from it is not drawn anew.
  expect(model.model.weave).toBe(before.weave);
  model.end();
});

it('[B122] an edit gives up the plan that is looked for, and an order that was planned has its plan at once', async () => {
  const [one, two] = [crossing(17), crossing(18)];
  const { model, told } = live(one);
  await pause();
  await answer(one);
  model.update(two, null);
  expect(model.model).toMatchObject({ plan: null, isPlanning: true });
  await pause();
  const [, search] = ToldWorker.all;
  model.update(one, null);
  expect([model.model.plan, search!.isEnded]).toEqual([planMount(one.pattern.colours), true]);
  search!.tell({ kind: 'answer', answer: planMount(two.pattern.colours) });
  await pause();
  expect([model.model.board, told]).toEqual([one, [true]]);
  model.end();
});

it('[B121] news of the plan of another board changes nothing', async () => {
  const [mine, other] = [crossing(19), crossing(20)];
  const { model, told } = live(mine);
  const beside = live(other);
  await pause();
  const before = model.model;
  await answer(mine);
  const after = model.model;
  await answer(other);
  expect([before === after, model.model === after, told, beside.told]).toEqual([false, true, [true], [true]]);
  model.end();
  beside.model.end();
});

it('[B120] a board that is shown no more has nothing worked out', async () => {
  const { model, told } = live(crossing(21));
  await pause();
  model.end();
  expect(ToldWorker.all[0]!.isEnded).toBe(true);
  ToldWorker.all[0]!.tell({ kind: 'answer', answer: null });
  await pause();
  expect(told).toEqual([]);
});

it('[B123] a plan that cannot be had is told: the board no longer says that it is worked out', async () => {
  const { model, told } = live(crossing(22));
  await pause();
  ToldWorker.all[0]!.fail('');
  await pause();
  expect(told).toEqual([false]);
  expect(model.model).toMatchObject({ plan: null, isPlanning: false });
  model.end();
});
