import { describe, expect, it } from 'vitest';
import { isLate, KEEPS_UP, type ReadingEvent, stepReading } from '../../../server/sync/reading.ts';

const fell = (byte: number, now: number): ReadingEvent => ({
  kind: 'fell-behind',
  stateVector: Uint8Array.of(byte),
  now,
});
const upon = (...events: readonly ReadingEvent[]) =>
  events.reduce((reading, event) => Object.freeze(stepReading(reading, event)), KEEPS_UP);

describe('how a reader reads', () => {
  it('[V50] who falls behind is waited for from then on, for so long', () => {
    const behind = upon(fell(1, 100));
    expect([isLate(behind, 120, 20), isLate(behind, 121, 20), isLate(KEEPS_UP, 1e9, 20)]).toEqual([
      false,
      true,
      false,
    ]);
  });

  it('[V50] who falls behind again meanwhile is not waited for any longer, and has less to come', () => {
    expect(upon(fell(1, 100), fell(2, 200))).toEqual({
      kind: 'behind',
      stateVector: Uint8Array.of(2),
      since: 100,
    });
  });

  it('[V50] who has caught up begins anew', () => {
    expect(upon(fell(1, 100), { kind: 'caught-up' })).toBe(KEEPS_UP);
    expect(upon(fell(1, 100), { kind: 'caught-up' }, fell(1, 300))).toMatchObject({ since: 300 });
  });

  it('[V50] a clock that is set back makes nobody wait until it is where it was', () => {
    expect(upon(fell(1, 100), { kind: 'set-back', now: 40 })).toMatchObject({ since: 40 });
    expect(upon(fell(1, 100), { kind: 'set-back', now: 140 })).toMatchObject({ since: 100 });
    expect(upon({ kind: 'set-back', now: 40 })).toBe(KEEPS_UP);
  });
});
