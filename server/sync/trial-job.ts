/** Places updates one after the other, and counts: a trial of what may take Yjs too long, see `placing.ts`. */
import type { Job } from '../work/index.ts';
import { countSteps, mostSteps, type StepCount } from './count-steps.ts';

export interface Trial {
  readonly updates: readonly Uint8Array[];
  /** Steps that are allowed beyond two a struct. */
  readonly most: number;
}

/** Null = it takes more steps. Throws as Yjs does. */
export const TRIAL: Job<Trial, StepCount | null> = {
  name: 'trial',
  run: ({ updates, most }) => countSteps(updates, (structs) => mostSteps(most, structs)),
};

/** What a thread does for rooms. */
export const SYNC_JOBS = [TRIAL];
