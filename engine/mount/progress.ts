/** Long computations tell how far they are and can be stopped. */

export interface Cancellable {
  /** Told the share done, 0 to 1, now and then. */
  readonly onProgress?: (share: number) => void;
  /** Asked now and then; once it says true, the result is {@link Cancelled}. */
  readonly isCancelled?: () => boolean;
}

/** What a computation gives whose caller stopped it. */
export interface Cancelled {
  readonly cancelled: true;
}

export const CANCELLED: Cancelled = { cancelled: true };

/** Tells the caller how far it is, and asks whether to stop. */
export function isStopped(options: Cancellable, share: number): boolean {
  options.onProgress?.(Math.min(1, share));
  return options.isCancelled?.() === true;
}
