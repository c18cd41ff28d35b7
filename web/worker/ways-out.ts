/** The ways out of an order that does not mount neatly, side by side. */
import {
  applyLeadIn,
  applyStart,
  findStarts,
  leadIn,
  MAX_ROWS,
  type Pattern,
  planMount,
} from '../../engine/index.ts';
import type { WaysOutAnswer, WaysOutJob } from './jobs.ts';

/** Part of the progress that the starts take; the lead-in takes the rest. */
const STARTS_SHARE = 0.4;

/** As far as the starts and the lead-in take: seconds for wide boards. */
export function findWaysOut(
  { pattern, leadInRows }: WaysOutJob,
  onProgress: (share: number) => void = () => {},
): WaysOutAnswer {
  const now = planMount(pattern.colours);
  // A band with a lead-in of its own begins where it begins.
  const best =
    leadInRows > 0
      ? undefined
      : findStarts(pattern, { onProgress: (share) => onProgress(share * STARTS_SHARE) })[0];
  const isBetter = best !== undefined && best.plan.crossings.length < now.crossings.length;
  const lead = leadIn(pattern.colours, {
    start: pattern.start,
    onProgress: (share) => onProgress(STARTS_SHARE + share * (1 - STARTS_SHARE)),
  });
  const isTooLong = lead.rows + pattern.rows > MAX_ROWS;
  return {
    start: isBetter ? { start: best, pattern: applyStart(pattern, best) } : null,
    leadIn:
      lead.rows === 0 || isTooLong
        ? null
        : { leadIn: lead, knots: countKnots(lead.pattern), pattern: applyLeadIn(pattern, lead) },
    recolour: null,
    singles: planMount(pattern.colours, { singles: 'free' }).singles.length,
  };
}

function countKnots({ knots }: Pattern): number {
  return knots.reduce((sum, knot) => sum + (knot === 0 ? 0 : 1), 0);
}
