import type { ReactiveControllerHost } from 'lit';
import { afterEach, beforeAll, beforeEach, describe, expect, it, vi } from 'vitest';
import {
  AS_BOARD,
  ifTiedSo,
  type KnotToken,
  mendPiece,
  type OwnWay,
  stepKey,
  workOrder,
} from '../../../engine/index.ts';
import type { Aided } from '../../../web/table/aid-host.ts';
import { AidWrong } from '../../../web/table/aid-wrong.ts';
import type { Keychain } from '../../../web/table/keychain-shelf.ts';
import { workAt } from '../../../web/table/table-work.ts';
import type { View } from '../../../web/table/views.ts';
import { loadTexts } from '../../../web/text/index.ts';
import { LOPSIDED, readBoard } from '../../support/own-board.ts';
import { stubPage } from '../../support/page-globals.ts';
import { elementsOf, type TemplateElement } from '../../support/template-elements.ts';
import { wordsOf } from '../../support/template-text.ts';
import { ToldWorker } from '../../support/told-worker.ts';

const BOARD = readBoard({ ...LOPSIDED, piece: { repeats: 3 } });
const order = workOrder(BOARD, { method: 'rows', covers: 'piece' });
if (!order.ok) throw new Error(order.error.message);
const { steps } = order;
const DONE = 8;
const TIED = new Set(steps.slice(0, DONE).map(stepKey));

beforeAll(() => loadTexts('table'));
beforeEach(() => {
  vi.useFakeTimers();
  stubPage();
  ToldWorker.all.length = 0;
  vi.stubGlobal('Worker', ToldWorker);
});
afterEach(() => {
  vi.useRealTimers();
  vi.unstubAllGlobals();
});

function help(own: OwnWay = AS_BOARD, done = DONE, view: View = 'same') {
  const taken: Partial<Keychain>[] = [];
  const tied = new Set(steps.slice(0, done).map(stepKey));
  const keychain = { own, tied, view } as unknown as Keychain;
  const aided: Aided = { keychain, begun: BOARD, work: workAt(BOARD, steps, tied) };
  const element = { addController: () => {}, requestUpdate: () => {} } as unknown as ReactiveControllerHost;
  const aid = new AidWrong(element, {
    update: () => {},
    take: (patch) => taken.push(typeof patch === 'function' ? patch(keychain) : patch),
  });
  const button = (name: string): TemplateElement => {
    const found = elementsOf(aid.render(aided)).find(
      ({ tag, attributes, words }) => tag === 'button' && (attributes['aria-label'] ?? words) === name,
    );
    if (found === undefined) throw new Error(`no button ${name} in ${wordsOf(aid.render(aided))}`);
    return found;
  };
  return { taken, button, words: () => wordsOf(aid.render(aided)) };
}

describe('something is wrong', () => {
  it('[N45] begins at the last knot tied, and goes from knot to knot by buttons', () => {
    const { words, button } = help();
    expect(words()).toContain('Row 3, knot 3');
    button('The knot to its left').fire('click');
    expect(words()).toContain('Row 3, knot 2');
    button('A knot above it').fire('click');
    expect(words()).toMatch(/Row 2, knot \d/);
    button('A knot above it').fire('click');
    button('A knot above it').fire('click');
    expect(words()).toMatch(/Row 1, knot \d/);
    expect(help(AS_BOARD, 0).words()).toContain('Nothing is tied yet');
  });

  it('[N102] knots are counted as the view does; from opposite left is the maker’s right, and above below', () => {
    const right = help(AS_BOARD, DONE, 'from-right');
    expect(right.words()).toContain('Row 3, knot 1');
    right.button('The knot to its left').fire('click');
    expect(right.words()).toContain('Row 3, knot 2');
    const opposite = help(AS_BOARD, DONE, 'opposite');
    expect(opposite.words()).toContain('Row 3, knot 3');
    opposite.button('The knot to its left').fire('click');
    expect(opposite.words()).toContain('Row 3, knot 3');
    opposite.button('The knot to its right').fire('click');
    expect(opposite.words()).toContain('Row 3, knot 2');
    opposite.button('A knot below it').fire('click');
    expect(opposite.words()).toMatch(/Row 2, knot \d/);
  });

  it('[N46] to undo takes the knots off that hang on it; to leave it notes what it is', () => {
    const { words, button, taken } = help();
    for (let i = 0; i < 3; i++) button('A knot above it').fire('click');
    const at = /Row 1, knot (\d)/.exec(words())!;
    const step = steps.find(({ row, k }) => row === 0 && k === Number(at[1]) - 1)!;
    button('no knot').fire('click');
    const undone = /Undo (\d+) knots?/.exec(words())!;
    button('They are undone').fire('click');
    expect(taken[0]!.tied!.size).toBe(DONE - Number(undone[1]));
    expect(taken[0]!.tied!.has(stepKey(step))).toBe(false);
    button('It stays').fire('click');
    expect(taken[1]).toEqual({ own: { kinds: new Map([[stepKey(step), '-']]), endsAfter: null } });
    const { wrong } = ifTiedSo(BOARD, new Map([[stepKey(step), '-']]));
    expect(words()).toContain(`${wrong.length} knot`);
  });

  it('[N48] a way that mends it comes from the worker: the first at once, better ones later, with what is proven; taken, the keychain goes on so', async () => {
    const { words, button, taken } = help();
    button('forward-backward knot').fire('click');
    await vi.advanceTimersByTimeAsync(0);
    const [worker] = ToldWorker.all;
    const kinds = new Map<string, KnotToken>([[stepKey(steps[DONE - 1]!), 'fb']]);
    expect(worker!.job).toEqual({ kind: 'mend', board: BOARD, kinds, tied: TIED });
    expect(words()).toContain('A way on is being looked for.');
    const stays = { kinds, wrong: 3, lowerBound: 1, proven: false, comes: ifTiedSo(BOARD, kinds) };
    worker!.tell({ kind: 'best', answer: stays });
    expect(words()).toMatch(/No way leaves fewer than \d/);
    expect(words()).toContain('Better ones are being looked for');
    const mended = mendPiece(BOARD, kinds, TIED);
    worker!.tell({ kind: 'answer', answer: { ...mended, comes: ifTiedSo(BOARD, mended.kinds) } });
    await vi.advanceTimersByTimeAsync(0);
    expect(words()).toContain('No way leaves fewer.');
    expect(words()).not.toContain('Better ones');
    button('Tie on like this').fire('click');
    expect(taken).toEqual([{ own: { kinds: mended.kinds, endsAfter: null } }]);
    button('Another knot').fire('click');
    expect(words()).toContain('Tap the knot that is wrong.');
  });

  it('[N48] where nothing is left to tie there is nothing to mend, and no worker is started', async () => {
    const { words, button } = help(AS_BOARD, steps.length);
    button('no knot').fire('click');
    await vi.advanceTimersByTimeAsync(0);
    expect(words()).toContain('There is nothing left to tie below it.');
    expect(ToldWorker.all).toEqual([]);
  });

  it('[N41] who goes on in a way of their own can go back to the board from there on', () => {
    const [tiedKey, openKey] = [stepKey(steps[2]!), stepKey(steps[20]!)];
    const own = {
      kinds: new Map<string, KnotToken>([
        [tiedKey, 'fb'],
        [openKey, 'bf'],
      ]),
      endsAfter: null,
    };
    const { button, taken } = help(own);
    button('As the board says again').fire('click');
    expect(taken).toEqual([{ own: { kinds: new Map([[tiedKey, 'fb']]), endsAfter: null } }]);
    expect(help().words()).not.toContain('a way of its own');
  });
});
