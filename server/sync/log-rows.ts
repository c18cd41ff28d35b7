/**
 * The log of a document as a room reads it. What cannot be read is kept, and does not keep the rest from being read: the rows that fit are
 * taken one after the other and shown, and nothing is taken. Only the operator's `repair` takes rows out, behind a copy of everything. A
 * room knows which rows it holds only where it holds all, so there nothing that replaces rows may run.
 */
import * as Y from 'yjs';
import { roomName } from '../../engine/document/index.ts';
import { type DocumentAddress, type Store, type StoredRow, StoreError } from '../store/index.ts';
import { checkState, checkUpdate, type UpdateCheck } from './check-update.ts';
import { firstOf, type Identity } from './identity.ts';
import { Reach } from './reach.ts';
import type { RecentLogs } from './recent-logs.ts';

/** What the rows of a document hold. */
export interface DocumentLog {
  readonly rows: readonly StoredRow[];
  readonly identity: Identity;
  /** As one update, which passes the check. */
  readonly update: Uint8Array;
  readonly check: UpdateCheck & { readonly kind: 'fits' };
  /** Rows that are left out because they cannot be read. */
  readonly left: readonly number[];
  /** What is wrong with the first of them; null when all was read. */
  readonly fault: string | null;
}

/** Reads the log; null when there are no rows. Rejects as the store does. */
export async function readLog(
  store: Store,
  address: DocumentAddress,
  recent: RecentLogs | null = null,
): Promise<DocumentLog | null> {
  const rows = await loadRows(store, address);
  if (rows.length === 0) return null;
  const name = roomName(address.board, address.part);
  const known = recent?.find(name, rows) ?? null;
  const log = known ?? readRows(rows, name);
  recent?.keep(name, log);
  return log;
}

/** All rows; where some are not as they were written, these are marked. */
async function loadRows(store: Store, address: DocumentAddress): Promise<readonly StoredRow[]> {
  try {
    return await store.load(address);
  } catch (cause) {
    if (!(cause instanceof StoreError) || cause.kind !== 'damaged') throw cause;
    return store.load(address, { damaged: 'mark' });
  }
}

/** Reads rows: all together, or where that cannot be, one after the other those that can. */
export function readRows(rows: readonly StoredRow[], name: string): DocumentLog {
  const update = rows.some(({ isDamaged }) => isDamaged) ? null : mergeRows(rows);
  if (update !== null) {
    const { identity, check } = checkState(update, name);
    if (check.kind === 'fits') return { rows, identity, update, check, left: [], fault: null };
  }
  return salvage(rows, name);
}

function mergeRows(rows: readonly StoredRow[]): Uint8Array | null {
  try {
    return rows.length === 1 ? rows[0]!.bytes : Y.mergeUpdates(rows.map((row) => row.bytes));
  } catch {
    // Rows are bytes from outside like all others: those that do not decode are found one by one.
    return null;
  }
}

/** The rows that fit one after the other, in their order, and what is wrong with the first that does not. */
function salvage(rows: readonly StoredRow[], name: string): DocumentLog {
  const whole = rows.filter(({ isDamaged }) => !isDamaged);
  const identity = whole
    .map(({ bytes }) => checkState(bytes, name).identity)
    .reduce((latest, one) => (one.generation > latest.generation ? one : latest), firstOf(name));
  const reach = new Reach();
  const good: Uint8Array[] = [];
  const left: number[] = [];
  let fault: string | null = null;
  for (const { seq, bytes, isDamaged } of rows) {
    if (isDamaged) {
      fault ??= `row ${seq} is not as it was written`;
      left.push(seq);
      continue;
    }
    const check = checkUpdate(reach, identity, bytes);
    if (check.kind === 'fits') {
      reach.note(check);
      good.push(bytes);
    } else if (check.kind !== 'empty') {
      const why = 'message' in check ? check.message : `is of generation ${check.of.generation}`;
      fault ??= `row ${seq}: ${check.kind}: ${why}`;
      left.push(seq);
    }
  }
  const update = good.length === 0 ? Uint8Array.of(0, 0) : Y.mergeUpdates(good);
  const { check } = checkState(update, name);
  if (check.kind !== 'fits')
    throw new Error(`the rows of ${name} that fit do not fit together: ${check.kind}`);
  // Rows that fit alone and not together would be a fault too, and nothing may be written over.
  return { rows, identity, update, check, left, fault: fault ?? 'the rows do not fit together' };
}
