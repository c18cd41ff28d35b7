import { describe, expect, it } from 'vitest';
import { KEEP_ALIVE_TICKS, PING_MS, PROBE_MS, SILENCE_MS } from '../../../server/sync/connection-times.ts';
import { beginLine, isQuiet, type Line, type LineEvent, stepLine } from '../../../server/sync/line.ts';
import { cases, firstSeed, seedFailed } from '../../support/depth.ts';
import { seededRandom } from '../../support/seeded-random.ts';

type LineDeed = ReturnType<typeof stepLine>[1];

/** The same by three values that are changed: what the machine must agree with. */
class Model {
  heardAt = 0;
  pingedAt: number | null = null;
  quietTicks = 0;

  take(event: LineEvent): LineDeed {
    switch (event.kind) {
      case 'heard':
        this.heardAt = event.now;
        return null;
      case 'ponged':
        this.pingedAt = null;
        this.heardAt = event.now;
        return null;
      case 'said':
        this.quietTicks = 0;
        return null;
      case 'set-back':
        this.heardAt = Math.min(this.heardAt, event.now);
        if (this.pingedAt !== null) this.pingedAt = Math.min(this.pingedAt, event.now);
        return null;
      case 'receiving':
        this.heardAt = event.now;
        if (this.pingedAt !== null) this.pingedAt = event.now;
        return null;
      case 'probe':
        return event.isHeld ? null : this.#probe(event.now);
      case 'tick':
        return this.#tick(event.now, event.isHeld);
    }
  }

  #probe(now: number): LineDeed {
    if (this.pingedAt !== null) return now - this.pingedAt <= PROBE_MS ? null : 'gone';
    this.pingedAt = now;
    return 'ping';
  }

  #tick(now: number, isHeld: boolean): LineDeed {
    let deed: LineDeed = null;
    if (isHeld) this.pingedAt = null;
    else if (this.pingedAt !== null) {
      if (now - this.pingedAt > PING_MS) return 'gone';
    } else if (now - this.heardAt > SILENCE_MS) deed = this.#probe(now);
    this.quietTicks += 1;
    return deed;
  }
}

/** All that follows on some events. */
function upon(...events: readonly LineEvent[]): {
  readonly line: Line;
  readonly deeds: readonly LineDeed[];
} {
  let line = Object.freeze(beginLine(0));
  const deeds = events.map((event) => {
    const [next, deed] = stepLine(line, event);
    line = Object.freeze(next);
    return deed;
  });
  return { line, deeds };
}

const tick = (now: number, isHeld = false): LineEvent => ({ kind: 'tick', now, isHeld });

describe('the line of a socket', () => {
  it('[V190] asks a client that is silent, and gives it up when it does not answer', () => {
    const asked = SILENCE_MS + 1;
    expect(
      upon(tick(SILENCE_MS), tick(asked), tick(asked + PING_MS), tick(asked + PING_MS + 1)).deeds,
    ).toEqual([null, 'ping', null, 'gone']);
    const answered = upon(tick(asked), { kind: 'ponged', now: asked + 1 }, tick(asked + PING_MS + 1));
    expect(answered.deeds).toEqual(['ping', null, null]);
  });

  it('[V190] does not wait for who is not read from', () => {
    expect(upon(tick(SILENCE_MS + 1), tick(100_000, true)).line.kind).toBe('heard');
    const probe = (now: number, isHeld: boolean): LineEvent => ({ kind: 'probe', now, isHeld });
    expect(upon(probe(0, true), probe(PROBE_MS + 1, true), probe(PROBE_MS + 1, false)).deeds).toEqual([
      null,
      null,
      'ping',
    ]);
    // What it said meanwhile stands before its answer.
    const letOn: LineEvent = { kind: 'receiving', now: PROBE_MS };
    expect(upon(probe(0, false), letOn, probe(PROBE_MS + 1, false)).deeds).toEqual(['ping', null, null]);
  });

  it('[V190] knows when the client would wonder', () => {
    const ticks = Array.from({ length: KEEP_ALIVE_TICKS }, (_, i) => tick(i));
    expect(isQuiet(upon(...ticks.slice(1)).line)).toBe(false);
    expect(isQuiet(upon(...ticks).line)).toBe(true);
    expect(isQuiet(upon(...ticks, { kind: 'said' }).line)).toBe(false);
  });

  it('agrees with three values that are changed, whatever comes', () => {
    const deeds = new Set<LineDeed>();
    for (let seed = firstSeed; seed < firstSeed + cases(100, 5_000); seed += 1) {
      const random = seededRandom(seed);
      const model = new Model();
      let line = beginLine(0);
      let now = 0;
      for (let i = 0; i < 60; i += 1) {
        now = Math.max(0, now + random.pick([0, 1_000, 2_500, 9_000, 9_000, -20_000]));
        const event = random.pick<LineEvent>([
          { kind: 'heard', now },
          { kind: 'ponged', now },
          { kind: 'said' },
          { kind: 'receiving', now },
          { kind: 'probe', now, isHeld: false },
          { kind: 'probe', now, isHeld: true },
          { kind: 'set-back', now },
          tick(now),
          tick(now),
          tick(now, true),
        ]);
        const [next, deed] = stepLine(Object.freeze(line), event);
        line = next;
        deeds.add(deed);
        const { heardAt, quietTicks } = line;
        const pingedAt = line.kind === 'pinged' ? line.pingedAt : null;
        expect(deed, seedFailed(seed)).toBe(model.take(event));
        expect({ heardAt, quietTicks, pingedAt }, seedFailed(seed)).toEqual({ ...model });
      }
    }
    expect(deeds).toEqual(new Set([null, 'ping', 'gone']));
  });
});
