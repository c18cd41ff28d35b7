/** How fast a hand ties, from the moments at which knots were marked as tied. The clock is the caller's. */

/** Knots that the pace is taken from. */
const PACE_KNOTS = 100;
/** With fewer knots there is no pace. */
const LEAST_KNOTS = 5;
/** A gap is a pause when it is longer than so many medians, and than so long. */
const PAUSE_MEDIANS = 3;
const PAUSE_MS = 20_000;
/** Tying without rest after which one is due, and a pause that counts as rest. Common practice, no source. */
export const REST_AFTER_MS = 25 * 60_000;
const REST_MS = 3 * 60_000;

/** Knots that were marked as tied at once. */
export interface TiedMark {
  /** Milliseconds since the mark before it, or since tying began. */
  readonly gapMs: number;
  /** Knots that it marked, 1 or more. */
  readonly knots: number;
  /** Whether the page was hidden in between. */
  readonly wasHidden: boolean;
}

/** Milliseconds a knot: the median, and the quarters that hold the middle half. */
export interface Pace {
  readonly medianMs: number;
  readonly lowMs: number;
  readonly highMs: number;
  /** Knots that it is taken from. */
  readonly knots: number;
}

/**
 * Which gaps were pauses: the page was hidden, or it is longer than 20 s and than three medians for its knots, the median being that of the
 * last 100 knots. O(marks). Rule H30.
 */
export function pausesIn(marks: readonly TiedMark[]): readonly boolean[] {
  const seen = marks.map(({ wasHidden }) => wasHidden);
  const median = quantile(eachKnot(marks, seen), 0.5);
  return marks.map(
    ({ gapMs, knots, wasHidden }) =>
      wasHidden || (gapMs > PAUSE_MS && median !== null && gapMs > PAUSE_MEDIANS * median * knots),
  );
}

/** The pace of the last 100 knots, pauses left out; null with fewer than five. O(marks). Rule H30. */
export function paceOf(marks: readonly TiedMark[]): Pace | null {
  const each = eachKnot(marks, pausesIn(marks));
  if (each.length < LEAST_KNOTS) return null;
  const at = (part: number): number => quantile(each, part)!;
  return { medianMs: at(0.5), lowMs: at(0.25), highMs: at(0.75), knots: each.length };
}

/** Minutes for so many knots, and for a hand at either quarter of its pace. Rule H31. */
export function minutesFor(
  pace: Pace,
  knots: number,
): { readonly minutes: number; readonly low: number; readonly high: number } {
  const minutes = (ms: number): number => (ms * knots) / 60_000;
  return { minutes: minutes(pace.medianMs), low: minutes(pace.lowMs), high: minutes(pace.highMs) };
}

/** How long has been tied since the last rest, short pauses included, in ms. Rule H32. */
export function sinceRestMs(marks: readonly TiedMark[]): number {
  const pauses = pausesIn(marks);
  let sum = 0;
  for (let at = marks.length - 1; at >= 0; at--) {
    const { gapMs } = marks[at]!;
    if (pauses[at]! && gapMs >= REST_MS) break;
    sum += gapMs;
  }
  return sum;
}

/** What each of the last 100 knots took, those of one mark alike, marks that are left out apart. */
function eachKnot(marks: readonly TiedMark[], isLeftOut: readonly boolean[]): readonly number[] {
  const each: number[] = [];
  for (let at = marks.length - 1; at >= 0 && each.length < PACE_KNOTS; at--) {
    const { gapMs, knots } = marks[at]!;
    if (isLeftOut[at]!) continue;
    for (let i = 0; i < knots && each.length < PACE_KNOTS; i++) each.push(gapMs / knots);
  }
  return each.sort((a, b) => a - b);
}

/** The value below which that part of a rising list lies, between neighbours in proportion; null of none. */
function quantile(rising: readonly number[], part: number): number | null {
  if (rising.length === 0) return null;
  const at = part * (rising.length - 1);
  const below = Math.floor(at);
  const next = rising[Math.min(below + 1, rising.length - 1)]!;
  return rising[below]! + (at - below) * (next - rising[below]!);
}
