import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { stepKey, type TiedMark, workOrder } from '../../../engine/index.ts';
import type { Aided } from '../../../web/table/aid-host.ts';
import { paceLines, renderPace } from '../../../web/table/aid-pace.ts';
import type { Keychain } from '../../../web/table/keychain-shelf.ts';
import { workAt } from '../../../web/table/table-work.ts';
import { loadTexts } from '../../../web/text/index.ts';
import { LOPSIDED, readBoard } from '../../support/own-board.ts';
import { stubPage } from '../../support/page-globals.ts';
import { wordsOf } from '../../support/template-text.ts';

beforeAll(async () => {
  stubPage();
  await loadTexts('table');
});
afterAll(() => vi.unstubAllGlobals());

const WORK = readBoard({ ...LOPSIDED, piece: { repeats: 12 } });
const BOARD = { ...WORK, piece: { ...WORK.piece, finishMinutes: 7 } };
const order = workOrder(BOARD, { method: 'rows', covers: 'piece' });
if (!order.ok) throw new Error(order.error.message);
const { steps } = order;
const mark = (gapMs: number, knots = 1, wasHidden = false): TiedMark => ({ gapMs, knots, wasHidden });

function aidedWith(marks: readonly TiedMark[], done = 20): Aided {
  const tied = new Set(steps.slice(0, done).map(stepKey));
  return { keychain: { marks, tied } as unknown as Keychain, begun: BOARD, work: workAt(BOARD, steps, tied) };
}

describe('pace', () => {
  it('[N61] is the median with its middle half, pauses apart, and the minutes that are left', () => {
    const marks = [
      mark(6000),
      mark(8000),
      mark(10_000),
      mark(12_000),
      mark(14_000),
      mark(500_000),
      mark(9000, 1, true),
    ];
    const aided = aidedWith(marks);
    const left = steps.length - 20;
    expect(paceLines(aided)).toEqual({
      seconds: { median: 10, low: 8, high: 12 },
      knots: 5,
      pauses: 2,
      stage: { minutes: left / 6, low: (left * 8) / 60, high: (left * 12) / 60 },
      whole: left / 6 + 7,
    });
    const words = wordsOf(renderPace(aided));
    expect(words).toContain('10 s a knot');
    expect(words).toContain('between 8 and 12 s');
    expect(words).toContain('2 pauses are left out');
    expect(words).toContain(`${Math.ceil(left / 6)} min (`);
  });

  it('[N61] of fewer than five knots there is none', () => {
    expect(paceLines(aidedWith([mark(6000), mark(7000)]))).toBeNull();
    expect(wordsOf(renderPace(aidedWith([])))).toContain('fewer than five');
  });

  it('[N62] reminds of rest when it is due, and what hurts comes first in either case', () => {
    const fresh = wordsOf(renderPace(aidedWith(Array.from({ length: 10 }, () => mark(60_000, 6)))));
    expect(fresh).toContain('10 min since your last rest');
    const due = wordsOf(renderPace(aidedWith(Array.from({ length: 26 }, () => mark(60_000, 6)))));
    expect(due).toContain('Let your hands rest');
    for (const said of [fresh, due]) expect(said).toContain('What hurts decides, not the clock');
  });
});
