/** Decides which updates are tried in a thread before they are taken: those that may take Yjs too many steps to place. */
import type { Clock } from '../clock.ts';
import type { Log } from '../log.ts';
import type { Metrics } from '../metrics.ts';
import { WorkThread } from '../work/index.ts';
import { countSteps, mostSteps } from './count-steps.ts';
import type { Placing } from './placing.ts';
import { type Brought, Reach } from './reach.ts';
import { TRIAL } from './trial-job.ts';

/** The largest document takes some seconds. */
const MOST_MS = 30_000;

/** `unknown`: the thread ended over it, or too many wait. */
export type TrialOutcome = 'fine' | 'too-much' | 'unknown';

export interface TrialsDeps {
  /** The compiled worker. */
  readonly workerFile: URL;
  readonly clock: Clock;
  readonly log: Log;
  readonly metrics: Metrics;
  /** Steps that building a document may take, beyond two a struct. */
  readonly most: number;
}

/**
 * Whether an update is to be tried: with what it brings, more steps are estimated since they were last counted than may be taken
 * unseen. What brings none never is.
 */
export function isCostly(reach: Reach, { steps }: Pick<Placing, 'steps'>, most: number): boolean {
  return steps > 0 && reach.estimated + steps > most / 2 + reach.placed.total;
}

/** Whether a document that comes as one update may take more steps to place than may be taken unseen. */
export function isCostlyAlone({ placing }: Pick<Brought, 'placing'>, most: number): boolean {
  return isCostly(new Reach(), placing, most);
}

/** Whether it does take too many, which is found out by placing it: for a thread. */
export function isTooCostly(update: Uint8Array, brought: Pick<Brought, 'placing'>, most: number): boolean {
  return isCostlyAlone(brought, most) && countSteps([update], (structs) => mostSteps(most, structs)) === null;
}

export class Trials {
  readonly #deps: TrialsDeps;
  readonly #thread: WorkThread;

  constructor(deps: TrialsDeps) {
    this.#deps = deps;
    this.#thread = new WorkThread(deps.workerFile, deps.clock, MOST_MS);
  }

  /** Places the updates of a document one after the other. */
  async try(updates: readonly Uint8Array[]): Promise<TrialOutcome> {
    const outcome = await this.#outcomeOf(updates);
    this.count(outcome);
    return outcome;
  }

  /** Counts a trial, made here or where a copy is read. */
  count(outcome: TrialOutcome): void {
    this.#deps.metrics.count('larkboard_trials_total', 'Updates tried in a thread before they are taken.', {
      outcome,
    });
  }

  async close(): Promise<void> {
    await this.#thread.close();
  }

  async #outcomeOf(updates: readonly Uint8Array[]): Promise<TrialOutcome> {
    try {
      const count = await this.#thread.run(TRIAL, { updates, most: this.#deps.most });
      return count === null ? 'too-much' : 'fine';
    } catch (cause) {
      // Whoever sent it comes again, and it is tried anew; nothing was taken.
      this.#deps.log.warn('trial-failed', { message: (cause as Error).message });
      return 'unknown';
    }
  }
}
