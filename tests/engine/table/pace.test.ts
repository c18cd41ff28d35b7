import { describe, expect, it } from 'vitest';
import {
  minutesFor,
  paceOf,
  pausesIn,
  REST_AFTER_MS,
  sinceRestMs,
  type TiedMark,
} from '../../../engine/table/pace.ts';

const mark = (gapMs: number, knots = 1, wasHidden = false): TiedMark => ({ gapMs, knots, wasHidden });

describe('pace', () => {
  it('[H30] is the median and the middle half of the last 100 knots', () => {
    const marks = [
      ...Array.from({ length: 50 }, () => mark(50_000)),
      ...Array.from({ length: 101 }, (_, i) => mark(8_000 + 10 * i)),
    ];
    // The last 100 took 8,010 to 9,000 ms.
    expect(paceOf(marks)).toEqual({ medianMs: 8_505, lowMs: 8_257.5, highMs: 8_752.5, knots: 100 });
    expect(paceOf([mark(1), mark(2), mark(3), mark(4), mark(5)])).toEqual({
      medianMs: 3,
      lowMs: 2,
      highMs: 4,
      knots: 5,
    });
    expect(paceOf([mark(1), mark(2), mark(3), mark(4)])).toBe(null);
    expect(paceOf([])).toBe(null);
  });

  it('[H30] knots marked at once share their gap', () => {
    expect(paceOf([mark(40_000, 5), mark(9_000)])).toMatchObject({ medianMs: 8_000, knots: 6 });
    expect(paceOf([mark(9_000), mark(400_000, 400)])).toMatchObject({ medianMs: 1_000, knots: 100 });
  });

  it('[H30] a gap over 20 s and over three medians for its knots is a pause, and so is a hidden page', () => {
    const steady = Array.from({ length: 20 }, () => mark(5_000));
    const last = (one: TiedMark): boolean | undefined => pausesIn([...steady, one]).at(-1);
    expect(last(mark(20_000))).toBe(false);
    expect(last(mark(20_001))).toBe(true);
    // Five knots of 5 s take 25 s.
    expect(last(mark(25_000, 5))).toBe(false);
    expect(last(mark(75_001, 5))).toBe(true);
    expect(last(mark(1_000, 1, true))).toBe(true);
    // A slow hand makes no pauses of 21 s.
    expect(pausesIn(Array.from({ length: 9 }, () => mark(21_000))).some(Boolean)).toBe(false);
    expect(paceOf([...steady, mark(3_600_000), mark(5_000, 1, true)])).toMatchObject({
      medianMs: 5_000,
      knots: 20,
    });
  });

  it('[H31] minutes left are the knots left at the median, and at either quarter', () => {
    expect(minutesFor({ medianMs: 10_000, lowMs: 6_000, highMs: 12_000, knots: 100 }, 90)).toEqual({
      minutes: 15,
      low: 9,
      high: 18,
    });
  });

  it('[H32] rest counts from the last pause of three minutes', () => {
    const tied = (count: number): TiedMark[] => Array.from({ length: count }, () => mark(10_000));
    expect(sinceRestMs(tied(30))).toBe(300_000);
    expect(sinceRestMs([...tied(30), mark(180_000), ...tied(6)])).toBe(60_000);
    expect(sinceRestMs([...tied(30), mark(179_999), ...tied(6)])).toBe(539_999);
    expect(sinceRestMs([...tied(150), mark(200_000, 1, true), ...tied(150)])).toBe(REST_AFTER_MS);
    expect(sinceRestMs([])).toBe(0);
  });
});
