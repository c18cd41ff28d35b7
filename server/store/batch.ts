/** What of that which waits goes with the next commit. */
import type { RowOptions } from './store.ts';

/** Rows, or records, in one commit at most. */
const MAX_COUNT = 1_000;
/** And their bytes: one commit neither takes long nor is refused for its size, however much waits for the disk. */
const MAX_BYTES = 8 * 1024 * 1024;

/**
 * Takes from the front what goes together, at least one: what is larger alone goes alone.
 * @param bytesOf how much one weighs
 */
export function takeBatch<T>(waiting: T[], bytesOf: (one: T) => number): T[] {
  let count = 0;
  let bytes = 0;
  for (const one of waiting) {
    bytes += bytesOf(one);
    if (count > 0 && (count === MAX_COUNT || bytes > MAX_BYTES)) break;
    count += 1;
  }
  return waiting.splice(0, count);
}

/** What a row weighs, with what goes with it. */
export function rowBytes({
  bytes,
  options,
}: {
  readonly bytes: Uint8Array;
  readonly options: RowOptions;
}): number {
  return bytes.length + (options.lastState?.bytes.length ?? 0);
}
