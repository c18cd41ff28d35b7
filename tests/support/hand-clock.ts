/** A clock that a test turns, in place of waiting. */
import type { Clock } from '../../server/index.ts';

interface Call {
  at: number;
  readonly everyMs: number | null;
  readonly call: () => void;
  /** Takes it back from the clock that this one goes with. */
  disarm: () => void;
}

/**
 * Stands still until it is turned. Given another clock, calls also come by themselves as that one goes, for what other
 * processes and sockets take part in; the time of day still moves by turning alone.
 */
export class HandClock implements Clock {
  readonly #goesWith: Clock | null;
  readonly #began: number;
  readonly #calls = new Set<Call>();
  #timeOfDay = 1_800_000_000_000;
  #turnedMs = 0;

  constructor(goesWith: Clock | null = null) {
    this.#goesWith = goesWith;
    this.#began = goesWith?.elapsed() ?? 0;
  }

  readonly now = (): number => this.#timeOfDay;

  readonly elapsed = (): number => this.#turnedMs + (this.#goesWith?.elapsed() ?? 0) - this.#began;

  readonly after = (ms: number, call: () => void): (() => void) => this.#add(ms, null, call);

  readonly every = (ms: number, call: () => void): (() => void) => this.#add(ms, ms, call);

  /** Calls that are to come. */
  get waiting(): number {
    return this.#calls.size;
  }

  /** Puts it forward. What is due by then is called once, in order, as on a machine that slept meanwhile. */
  turn(ms: number): void {
    this.#timeOfDay += ms;
    this.#turnedMs += ms;
    const now = this.elapsed();
    const due = [...this.#calls].filter(({ at }) => at <= now).sort((a, b) => a.at - b.at);
    for (const one of due) if (this.#calls.has(one)) this.#make(one);
    for (const one of this.#calls) this.#arm(one);
  }

  #add(ms: number, everyMs: number | null, call: () => void): () => void {
    const one: Call = { at: this.elapsed() + ms, everyMs, call, disarm: () => {} };
    this.#calls.add(one);
    this.#arm(one);
    return () => {
      one.disarm();
      this.#calls.delete(one);
    };
  }

  #arm(one: Call): void {
    one.disarm();
    if (this.#goesWith !== null)
      one.disarm = this.#goesWith.after(Math.max(0, one.at - this.elapsed()), () => this.#make(one));
  }

  #make(one: Call): void {
    one.disarm();
    if (one.everyMs === null) this.#calls.delete(one);
    else {
      one.at = this.elapsed() + one.everyMs;
      this.#arm(one);
    }
    one.call();
  }
}
