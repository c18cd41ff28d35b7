/**
 * Whether the other side of a socket is still there, by what is heard of it and by pings: a machine whose steps change nothing. What was heard
 * while a ping is out counts for the time after it; the ping itself only its answer ends.
 */
import { KEEP_ALIVE_TICKS, PING_MS, PROBE_MS, SILENCE_MS } from './connection-times.ts';

interface LineTimes {
  /** When something was heard of the client last. */
  readonly heardAt: number;
  /** Ticks since something was said to it; asking for the time with every frame would cost more. */
  readonly quietTicks: number;
}

export type Line =
  | (LineTimes & { readonly kind: 'heard' })
  | (LineTimes & { readonly kind: 'pinged'; readonly pingedAt: number });

export type LineEvent =
  /** `receiving`: what comes is no whole message yet, or was not read until now; the answer to a ping may stand behind it. */
  | { readonly kind: 'heard' | 'receiving' | 'ponged' | 'set-back'; readonly now: number }
  | { readonly kind: 'said' }
  /**
   * `probe`: another socket claims its presence; `tick`: every few seconds. `isHeld`: the client is not read from, and so cannot be heard.
   */
  | { readonly kind: 'probe' | 'tick'; readonly now: number; readonly isHeld: boolean };

/** What is to be done: send a ping, or take the client for gone. */
type LineDeed = 'ping' | 'gone' | null;
type LineStep = readonly [Line, LineDeed];

export function beginLine(now: number): Line {
  return { kind: 'heard', heardAt: now, quietTicks: 0 };
}

/** What follows on an event. `set-back`: the clock stands at an earlier time now. */
export function stepLine(line: Line, event: LineEvent): LineStep {
  switch (event.kind) {
    case 'heard':
      // With every message; mostly it is still the same time.
      return [line.heardAt === event.now ? line : heard(line, event.now), null];
    case 'receiving':
      return [receiving(line, event.now), null];
    case 'ponged':
      return [{ ...withoutPing(line), heardAt: event.now }, null];
    case 'said':
      return [{ ...line, quietTicks: 0 }, null];
    case 'set-back':
      return [setBack(line, event.now), null];
    case 'probe':
      if (event.isHeld) return [line, null];
      if (line.kind === 'pinged') return [line, event.now - line.pingedAt <= PROBE_MS ? null : 'gone'];
      return [pinged(line, event.now), 'ping'];
    case 'tick':
      return tick(line, event.now, event.isHeld);
  }
}

function tick(line: Line, now: number, isHeld: boolean): LineStep {
  const quietTicks = line.quietTicks + 1;
  if (isHeld) return [{ ...withoutPing(line), quietTicks }, null];
  if (line.kind === 'pinged')
    return now - line.pingedAt > PING_MS ? [line, 'gone'] : [{ ...line, quietTicks }, null];
  if (now - line.heardAt > SILENCE_MS) return [pinged({ ...line, quietTicks }, now), 'ping'];
  return [{ ...line, quietTicks }, null];
}

function heard(line: Line, heardAt: number): Line {
  const { quietTicks } = line;
  if (line.kind === 'heard') return { kind: 'heard', heardAt, quietTicks };
  return { kind: 'pinged', heardAt, quietTicks, pingedAt: line.pingedAt };
}

function receiving(line: Line, now: number): Line {
  return line.kind === 'pinged' ? { ...line, heardAt: now, pingedAt: now } : { ...line, heardAt: now };
}

function setBack(line: Line, now: number): Line {
  const heardAt = Math.min(line.heardAt, now);
  if (line.kind === 'pinged') return { ...line, heardAt, pingedAt: Math.min(line.pingedAt, now) };
  return heardAt === line.heardAt ? line : { ...line, heardAt };
}

function pinged({ heardAt, quietTicks }: Line, pingedAt: number): Line {
  return { kind: 'pinged', heardAt, quietTicks, pingedAt };
}

function withoutPing({ heardAt, quietTicks }: Line): Line {
  return { kind: 'heard', heardAt, quietTicks };
}

/** Whether nothing was said for so long that the client would wonder. */
export function isQuiet({ quietTicks }: Line): boolean {
  return quietTicks >= KEEP_ALIVE_TICKS;
}
