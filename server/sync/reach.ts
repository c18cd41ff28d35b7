/**
 * How far a document reaches, and in which root each of its structs stands. A struct that builds on another names no root in
 * its bytes, and rooms take edits without working the document out; so roots are kept beside the clocks, as runs of one client
 * in one root.
 */
import type { RootRule } from '../../engine/document/index.ts';
import { Placed } from './placed.ts';
import type { PlacedSoFar, Placing } from './placing.ts';

/** Structs of one client, one after the other, in one root. */
export interface Run {
  readonly client: number;
  readonly clock: number;
  readonly rule: RootRule;
}

/** What an update is held against. */
export interface Present extends PlacedSoFar {
  /** How far the structs of a client reach. */
  clockOf(client: number): number;
  /** The root of a struct; undefined when the document does not hold it. */
  rootAt(client: number, clock: number): RootRule | undefined;
  eachRoot: Reach['eachRoot'];
}

/** What an update that fits brings. */
export interface Brought {
  /** How far each client's structs reach once it is applied. */
  readonly ends: ReadonlyMap<number, number>;
  /** In which roots its structs stand, those that the document holds already left out. */
  readonly runs: readonly Run[];
  readonly placing: Placing;
}

interface ClientRuns {
  readonly clocks: number[];
  readonly rules: RootRule[];
}

export class Reach implements Present {
  readonly #clocks = new Map<number, number>();
  readonly #runs = new Map<number, ClientRuns>();
  readonly placed = new Placed();
  // What was asked for last: an edit is one client's, and asks for it a dozen times. Most client ids are no small integers, which are looked up slowly.
  #client = -1;
  #clock = 0;
  #ofClient: ClientRuns | undefined;
  /** Steps that building the document takes at most, beyond those that have been counted; see `placing.ts`. */
  estimated = 0;

  /** A state vector; only to be read. */
  get clocks(): Map<number, number> {
    return this.#clocks;
  }

  clockOf(client: number): number {
    if (client !== this.#client) this.#look(client);
    return this.#clock;
  }

  #runsOf(client: number): ClientRuns | undefined {
    if (client !== this.#client) this.#look(client);
    return this.#ofClient;
  }

  #look(client: number): void {
    this.#client = client;
    this.#clock = this.#clocks.get(client) ?? 0;
    this.#ofClient = this.#runs.get(client);
  }

  /** O(log runs). */
  rootAt(client: number, clock: number): RootRule | undefined {
    const runs = clock < this.clockOf(client) ? this.#runsOf(client) : undefined;
    if (runs === undefined) return undefined;
    return runs.rules[runAt(runs.clocks, clock)];
  }

  /** Tells of each root in which structs of a client stand, and of how many clocks. O(log runs + runs between) */
  eachRoot(client: number, clock: number, end: number, tell: (rule: RootRule, count: number) => void): void {
    const runs = this.#runsOf(client);
    if (runs === undefined) return;
    const { clocks, rules } = runs;
    for (let i = runAt(clocks, clock); i < clocks.length && clocks[i]! < end; i += 1) {
      const from = Math.max(clock, clocks[i]!);
      const to = Math.min(end, clocks[i + 1] ?? end);
      if (to > from) tell(rules[i]!, to - from);
    }
  }

  /** The steps of all that is placed were found to be few. */
  wasCounted(): void {
    this.estimated = 0;
    this.placed.wasCounted();
  }

  /** Goes on by what an update brings. */
  note({ ends, runs, placing }: Brought): void {
    placing.growInto(this.placed);
    this.estimated += placing.steps;
    for (const [client, end] of ends) this.#clocks.set(client, end);
    for (const { client, clock, rule } of runs) {
      const known = this.#runsOf(client);
      if (known === undefined) {
        this.#runs.set(client, { clocks: [clock], rules: [rule] });
        this.#look(client);
      } else if (known.rules.at(-1) !== rule) {
        known.clocks.push(clock);
        known.rules.push(rule);
      }
    }
    this.#look(this.#client);
  }
}

/** The last run that begins at a clock or before it. */
function runAt(clocks: readonly number[], clock: number): number {
  let low = 0;
  let high = clocks.length - 1;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if (clocks[middle]! <= clock) low = middle;
    else high = middle - 1;
  }
  return low;
}
