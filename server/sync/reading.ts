/** How a reader reads: it keeps up, or is behind since a moment and gets no edits until it has read. A machine whose steps change nothing. */

export type Reading =
  | { readonly kind: 'keeps-up' }
  /** `stateVector`: what it will have when it has read all that waits; `since`: the time from which it is waited for. */
  | { readonly kind: 'behind'; readonly stateVector: Uint8Array; readonly since: number };

export type ReadingEvent =
  | { readonly kind: 'fell-behind'; readonly stateVector: Uint8Array; readonly now: number }
  | { readonly kind: 'caught-up' }
  /** The clock stands at an earlier time now. */
  | { readonly kind: 'set-back'; readonly now: number };

export const KEEPS_UP: Reading = { kind: 'keeps-up' };

/** What follows on an event. Who falls behind anew before having caught up is waited for since the first time. */
export function stepReading(reading: Reading, event: ReadingEvent): Reading {
  switch (event.kind) {
    case 'fell-behind': {
      const since = reading.kind === 'behind' ? reading.since : event.now;
      return { kind: 'behind', stateVector: event.stateVector, since };
    }
    case 'caught-up':
      return KEEPS_UP;
    case 'set-back':
      return reading.kind === 'behind' && reading.since > event.now
        ? { ...reading, since: event.now }
        : reading;
  }
}

/** Whether a reader is behind for longer than it is waited for. */
export function isLate(reading: Reading, now: number, mostMs: number): boolean {
  return reading.kind === 'behind' && now - reading.since > mostMs;
}
