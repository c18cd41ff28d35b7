/** A check value over each stored row, so that damage is noticed instead of merged. */
import { crc32 } from 'node:zlib';
import {
  type DocumentAddress,
  type KeptRecord,
  type LoadOptions,
  type StoredRow,
  StoreError,
} from './store.ts';

/** CRC-32 of the bytes (ISO 3309, as in gzip), 0 to 2^32 - 1. */
export function checkValue(bytes: Uint8Array): number {
  return crc32(bytes);
}

/** CRC-32 of a record: of its `about` in UTF-8, then its bytes. */
export function recordCheckValue({ about, bytes }: Pick<KeptRecord, 'about' | 'bytes'>): number {
  const ofAbout = crc32(Buffer.from(about));
  // Before Node 24 crc32 answers 0 for no bytes that came from a message or a database, whatever it was to go on from.
  return bytes.length === 0 ? ofAbout : crc32(bytes, ofAbout);
}

/**
 * Whether a record is what it was when its check value was taken. A record of no bytes may carry 0: so it was written by a
 * release that took crc32 by its word, on Node 20 and 22.
 */
export function isAsWritten(record: Pick<KeptRecord, 'about' | 'bytes'>, value: number): boolean {
  return value === recordCheckValue(record) || (value === 0 && record.bytes.length === 0);
}

/** Whether two lists hold the same numbers, in any order. */
export function haveSame(a: readonly number[], b: readonly number[]): boolean {
  const held = new Set(b);
  return a.length === held.size && a.every((one) => held.has(one));
}

/** A row as it is given out. @throws StoreError `damaged` when it is not as it was written, unless that is to be marked */
export function rowAsWritten(
  { board, part }: DocumentAddress,
  { seq, bytes, check }: { readonly seq: number; readonly bytes: Uint8Array; readonly check: number },
  { damaged }: LoadOptions = {},
): StoredRow {
  if (checkValue(bytes) === check) return { seq, bytes };
  if (damaged === 'mark') return { seq, bytes, isDamaged: true };
  throw new StoreError('damaged', `row ${seq} of ${board}/${part} is not as it was written`);
}
