import { describe, expect, it } from 'vitest';
import {
  type Board,
  KNOT_TOKENS,
  type KnotToken,
  mend,
  stepKey,
  type WorkStep,
  workOrder,
} from '../../../engine/index.ts';
import { ifTiedSo } from '../../../engine/table/if-it-stays.ts';
import { mendPiece } from '../../../engine/table/mend-piece.ts';
import { knotKey } from '../../../engine/table/piece-knot.ts';
import { boardOf, randomBand, seededRandom } from '../../reference/work-bands.ts';

function stepsOf(board: Board): readonly WorkStep[] {
  const order = workOrder(board, { method: 'rows', covers: 'piece' });
  if (!order.ok) throw new Error(order.error.message);
  return order.steps;
}

const pick = <T>(random: () => number, list: readonly T[]): T => list[Math.floor(random() * list.length)]!;

describe('mendPiece', () => {
  it('[H35] of one repeat without an end finds what mend finds, by the names of the knots', () => {
    const random = seededRandom(350);
    let mended = 0;
    for (let turn = 0; turn < 40; turn++) {
      const board = boardOf(
        randomBand(random, { strings: 3 + (turn % 5), rows: 3 + (turn % 6) }, { untied: 0.1, staying: 0.4 }),
      );
      const steps = stepsOf(board);
      if (steps.length === 0) continue;
      const done = steps.slice(0, 1 + Math.floor(random() * steps.length));
      const { row, k, ...rest } = pick(random, done);
      const kind = pick(random, KNOT_TOKENS);
      const found = mend(board, done, { row, k, kind });
      if (!found.ok) throw new Error(found.error.message);
      const key = stepKey({ row, k, ...rest });
      const whole = mendPiece(board, new Map([[key, kind]]), new Set(done.map(stepKey)));
      expect([whole.wrong, whole.lowerBound, whole.proven]).toEqual([
        found.wrong,
        found.lowerBound,
        found.proven,
      ]);
      expect(whole.kinds.get(key) ?? rest.kind).toBe(kind);
      if (whole.kinds.size > 1) mended++;
    }
    expect(mended).toBeGreaterThan(5);
  });

  it('[H35] goes on through repeats and end, by no kinds of what is not tied can fewer be wrong, and what is tied stays', () => {
    const random = seededRandom(351);
    const seen = { wrong: 0, right: 0, before: 0 };
    for (let turn = 0; turn < 40; turn++) {
      const band = randomBand(random, { strings: 4, rows: 2 }, { untied: 0.1, staying: 0.5 });
      const board = boardOf(band, { repeats: 2, end: 'triangle' });
      const steps = stepsOf(board);
      // As many open as can be tried in every kind.
      const inBand = steps.filter(({ part }) => part === 'band');
      const done = inBand.slice(0, Math.max(1, inBand.length - 4));
      if (done.length === 0) continue;
      const tied = new Set(done.map(stepKey));
      const kinds = new Map<string, KnotToken>();
      for (let i = 0; i < 1 + (turn % 2); i++)
        kinds.set(stepKey(pick(random, done)), pick(random, KNOT_TOKENS));
      const told: number[] = [];
      const found = mendPiece(board, kinds, tied, { onBest: ({ wrong }) => void told.push(wrong) });
      const wrongOf = (own: ReadonlyMap<string, KnotToken>): number =>
        ifTiedSo(board, own).wrong.filter((knot) => !tied.has(knotKey(knot))).length;
      expect(wrongOf(found.kinds)).toBe(found.wrong);
      for (const [key, kind] of found.kinds) {
        expect(tied.has(key)).toBe(kinds.has(key));
        if (tied.has(key)) expect(kind).toBe(kinds.get(key));
        else expect([key.startsWith('band'), kind]).not.toContain('-');
      }
      const open = inBand.filter((step) => !tied.has(stepKey(step)));
      let least = Number.POSITIVE_INFINITY;
      for (let code = 0; code < 4 ** open.length; code++) {
        const tried = new Map(kinds);
        for (const [i, step] of open.entries())
          tried.set(stepKey(step), KNOT_TOKENS[1 + ((code >> (2 * i)) & 3)]!);
        least = Math.min(least, wrongOf(tried));
      }
      expect([found.wrong, found.lowerBound, found.proven]).toEqual([least, least, true]);
      expect(told.at(-1)).toBe(least);
      seen[least > 0 ? 'wrong' : 'right']++;
      if (told.length > 1) seen.before++;
    }
    for (const [what, count] of Object.entries(seen)) expect(count, what).toBeGreaterThan(3);
  });

  it('[H35] tries first what was chosen before, and keeps it where it does', () => {
    const random = seededRandom(352);
    const board = boardOf(randomBand(random, { strings: 8, rows: 12 }, { untied: 0, staying: 0.4 }), {
      repeats: 2,
    });
    const steps = stepsOf(board);
    const tied = new Set(steps.slice(0, 20).map(stepKey));
    const wrongKnot = steps[9]!;
    const kind = (['f', 'b', 'fb', 'bf'] as const).find((one) => one !== wrongKnot.kind)!;
    const first = mendPiece(board, new Map([[stepKey(wrongKnot), kind]]), tied);
    const told: number[] = [];
    const again = mendPiece(board, first.kinds, tied, { onBest: ({ wrong }) => void told.push(wrong) });
    expect(told[0]).toBe(first.wrong);
    if (first.proven) expect(again.kinds).toEqual(first.kinds);
    expect(again.wrong).toBe(first.wrong);
  });
});
