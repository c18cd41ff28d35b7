/** A check value over each stored row, so that damage is noticed instead of merged. */
import { crc32 } from 'node:zlib';

/** CRC-32 of the bytes (ISO 3309, as in gzip), 0 to 2^32 - 1. */
export function checkValue(bytes: Uint8Array): number {
  return crc32(bytes);
}

/** Whether two lists hold the same numbers, in any order. */
export function haveSame(a: readonly number[], b: readonly number[]): boolean {
  const held = new Set(b);
  return a.length === held.size && a.every((one) => held.has(one));
}
