/** Long computations tell how far they are. To stop one, its caller ends the worker it runs in. */
import type { Tell } from './search/index.ts';

/** What a long computation may be told besides. */
export interface Watched {
  readonly onProgress?: Tell;
}

/** Tells of a part of the work, which goes from one share of the whole to another. */
export function tellOfPart({ onProgress }: Watched, from: number, to: number): Tell {
  return (share) => onProgress?.(from + Math.min(1, share) * (to - from));
}
