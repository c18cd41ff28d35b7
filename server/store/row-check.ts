/** A check value over each stored row, so that damage is noticed instead of merged. */
import { crc32 } from 'node:zlib';
import type { KeptRecord } from './store.ts';

/** CRC-32 of the bytes (ISO 3309, as in gzip), 0 to 2^32 - 1. */
export function checkValue(bytes: Uint8Array): number {
  return crc32(bytes);
}

/** CRC-32 of a record: of its `about` in UTF-8, then its bytes. */
export function recordCheckValue(record: Pick<KeptRecord, 'about' | 'bytes'>): number {
  return crc32(record.bytes, crc32(Buffer.from(record.about)));
}

/** Whether two lists hold the same numbers, in any order. */
export function haveSame(a: readonly number[], b: readonly number[]): boolean {
  const held = new Set(b);
  return a.length === held.size && a.every((one) => held.has(one));
}
