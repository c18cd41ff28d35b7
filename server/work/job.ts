/** A piece of work that takes long enough to hold up rooms: the same function here and in a thread of its own. */
export interface Job<In, Out> {
  /** By which the thread knows it. */
  readonly name: string;
  /** Input and output are plain data and bytes. Expected failures are part of the output. */
  readonly run: (input: In) => Out | Promise<Out>;
}

/** Any job, for the table of the thread. */
export type AnyJob = Job<never, unknown>;

/** More waits to be done than the server has memory or patience for. */
export class TooBusy extends Error {}
