/**
 * Time as the server knows it. Only this file asks the machine; everything else is given a clock, and the entry points say
 * which. Tests turn one by hand.
 */

/** Functions, not methods: each may be handed on alone. */
export interface Clock {
  /** The time of day, in ms since 1970. It may be set back. */
  readonly now: () => number;
  /** Ms since some moment in the past. Only counts up: for durations. */
  readonly elapsed: () => number;
  /** Calls once, in so many ms. @returns takes that back; does nothing once it was called */
  readonly after: (ms: number, call: () => void) => () => void;
  /** Calls every so many ms; that alone keeps no process alive. @returns ends it */
  readonly every: (ms: number, call: () => void) => () => void;
}

/** The clock of the machine. */
export const machineClock: Clock = {
  now: () => Date.now(),
  elapsed: () => performance.now(),
  after: (ms, call) => {
    const timer = setTimeout(call, ms);
    return () => clearTimeout(timer);
  },
  every: (ms, call) => {
    const timer = setInterval(call, ms);
    timer.unref();
    return () => clearInterval(timer);
  },
};

/** Fulfils in so many ms. */
export function pause(clock: Clock, ms: number): Promise<void> {
  return new Promise((resolve) => {
    clock.after(ms, resolve);
  });
}

/** Fulfils when the work is done, or in so many ms if it takes longer; the work goes on then. Rejects as the work does. */
export async function atMost(clock: Clock, ms: number, work: Promise<unknown>): Promise<void> {
  let forget = (): void => {};
  const late = new Promise<void>((resolve) => {
    forget = clock.after(ms, resolve);
  });
  try {
    await Promise.race([late, work]);
  } finally {
    forget();
  }
}
