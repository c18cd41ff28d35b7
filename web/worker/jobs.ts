/** What the page asks of the worker, and what the worker tells. */
import type { Board, LeadIn, Pattern, Start, WorkOrderError } from '../../engine/index.ts';
import type { StepTable } from './step-table.ts';

export interface WorkOrderJob {
  readonly kind: 'work-order';
  readonly board: Board;
  readonly method: 'rows' | 'segments';
  readonly covers: 'pattern' | 'piece';
}

/** A field of the board out of range. */
export interface OutOfRange {
  readonly kind: 'out-of-range';
  readonly message: string;
}

export type WorkOrderAnswer =
  | { readonly ok: true; readonly value: StepTable }
  | { readonly ok: false; readonly error: Pick<WorkOrderError, 'kind' | 'message'> | OutOfRange };

/** Other ways to mount a board whose order crosses. */
export interface WaysOutJob {
  readonly kind: 'ways-out';
  readonly pattern: Pattern;
  /** Rows at the top that are a lead-in already. */
  readonly leadInRows: number;
}

export interface WaysOutAnswer {
  /** The best other start with fewer crossings, and the pattern that begins there; null when there is none. */
  readonly start: { readonly start: Start; readonly pattern: Pattern } | null;
  /** Rows above, and the pattern with them; null when it would have too many rows. */
  readonly leadIn: { readonly leadIn: LeadIn; readonly knots: number; readonly pattern: Pattern } | null;
  /** Colours of an order that is neat, changed at as few places as possible. */
  readonly recolour: { readonly colours: readonly string[]; readonly places: readonly number[] } | null;
  /** Singles of a plan without crossings. */
  readonly singles: number;
}

/** Every kind of job with its answer. */
export interface JobAnswers {
  'work-order': WorkOrderAnswer;
  'ways-out': WaysOutAnswer;
}

export type Job = WorkOrderJob | WaysOutJob;

/** `share` done, 0 to 1; at the end the answer, or the error that the engine threw. */
export type WorkerMessage =
  | { readonly kind: 'progress'; readonly share: number }
  | { readonly kind: 'answer'; readonly answer: JobAnswers[keyof JobAnswers] }
  | { readonly kind: 'thrown'; readonly message: string };
