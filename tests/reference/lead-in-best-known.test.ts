/**
 * `leadIn` of 200 orders of 14 to 60 strings against the best that long runs of two unrelated searches have found, kept in
 * lead-in-best-known.json. By default some of them; the long run takes all, and prints what tests/reference/lead-in.md keeps.
 */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { leadIn } from '../../engine/index.ts';
import { isNeatOrder } from '../../engine/mount/plan-at-once.ts';
import { isLong } from '../support/depth.ts';
import { rowsFrom } from '../support/staggered-rows.ts';
import type { BestLeadIn } from './lead-in-best-known.ts';
import { LEAD_IN_ORDERS, leadInColours } from './lead-in-orders.ts';

const bestKnown = JSON.parse(
  readFileSync(new URL('lead-in-best-known.json', import.meta.url), 'utf8'),
) as BestLeadIn[];

/** In the short run five, of all lengths. */
const compared = bestKnown.filter((_, at) => isLong || at % 41 === 13);

describe('lead-ins beyond 12 strings', () => {
  it('[M45] what is kept as best known is of the orders in the table, is neat, and takes as many rows as it says', () => {
    expect(
      bestKnown.map(({ strings, kinds, order, seed, start }) => ({ strings, kinds, order, seed, start })),
    ).toEqual(LEAD_IN_ORDERS);
    for (const { rows, atLeast, walk, prefix, from: mounted, ...order } of bestKnown) {
      const colours = leadInColours(order);
      const from = mounted.split(' ').map(Number);
      expect(from.toSorted((a, b) => a - b)).toEqual(colours.map((_, place) => place));
      expect(isNeatOrder(from.map((place) => String(colours[place])))).toBe(true);
      expect(rowsFrom(from, order.start), `seed ${order.seed}`).toBe(rows);
      expect(atLeast).toBeLessThanOrEqual(rows);
      for (const found of [walk, prefix]) if (found !== null) expect(found).toBeGreaterThanOrEqual(rows);
    }
  });

  it('[M45] never more than one row above the best known, and equal in nine of ten', () => {
    const above = compared.map(({ rows, ...order }) => {
      const lead = leadIn(leadInColours(order).map(String), { start: order.start });
      const more = lead.rows - rows;
      expect(more, `seed ${order.seed}`).toBeLessThanOrEqual(1);
      expect(lead.lowerBound, `seed ${order.seed}`).toBeLessThanOrEqual(Math.min(rows, lead.rows));
      expect(lead.exact).toBe(lead.rows === lead.lowerBound);
      expect(lead.rows, `seed ${order.seed}`).toBeGreaterThanOrEqual(
        bestKnown.find(({ seed }) => seed === order.seed)!.atLeast,
      );
      return more;
    });
    const equal = above.filter((more) => more <= 0).length;
    // The figures are the purpose of the long run.
    if (isLong)
      process.stdout.write(
        `of ${above.length}: ${equal} equal, ${above.filter((more) => more < 0).length} of them shorter; ${above.length - equal} one row more\n`,
      );
    expect(equal).toBeGreaterThanOrEqual(0.9 * above.length - (isLong ? 0 : 1));
  });
});
