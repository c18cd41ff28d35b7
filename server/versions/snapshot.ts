/**
 * A design as it is kept as a version: the document without its past, and what is told of it. A mark in the document's history would
 * be lost when it is renewed, and its past grows with every overwritten knot. Ids stay, so pins and proposals find their rows again.
 */
import { createHash } from 'node:crypto';
import { promisify } from 'node:util';
import { deflateRaw, inflateRaw } from 'node:zlib';
import * as Y from 'yjs';
import { compactDesign, readDesign } from '../../engine/document/index.ts';
import { withDocument } from '../work/index.ts';

/** Versions are documents of their own and never merged, so one client id does for all: the same design, the same bytes. */
const CLIENT = 1;
/** Unpacked. The largest board there can be is far below; more is none of ours. */
const MOST_BYTES = 16 * 1024 * 1024;

const pack = promisify(deflateRaw);
const unpack = promisify(inflateRaw);

export interface Snapshot {
  /** The document as one update. */
  readonly state: Uint8Array;
  readonly digest: string;
  readonly title: string;
  readonly strings: number;
  readonly rows: number;
  /** Knots that are tied. */
  readonly knots: number;
}

/** The design as it stands in the document; null when there is none. O(document). */
export function snapshotOf(doc: Y.Doc): Snapshot | null {
  const compact = compactDesign(doc, CLIENT);
  if (compact === null) return null;
  const state = Y.encodeStateAsUpdate(compact);
  const { title, pattern } = readDesign(compact).board;
  compact.destroy();
  const digest = createHash('sha256').update(state).digest('hex');
  const knots = pattern.knots.filter((knot) => knot !== 0).length;
  return { state, digest, title, strings: pattern.colours.length, rows: pattern.rows, knots };
}

/** As {@link snapshotOf}, of the updates that make a document. */
export function snapshotOfUpdates(updates: readonly Uint8Array[]): Snapshot | null {
  return withDocument(updates, snapshotOf);
}

/** The bytes to store. */
export async function packSnapshot(snapshot: Snapshot): Promise<Uint8Array> {
  return pack(snapshot.state);
}

/** The document in stored bytes, as one update; null when they are none. */
export async function unpackState(bytes: Uint8Array): Promise<Uint8Array | null> {
  try {
    return await unpack(bytes, { maxOutputLength: MOST_BYTES });
  } catch (cause) {
    // What zlib says of the bytes, and that they are more; anything else, a wrong argument too, is a fault of ours.
    const { code } = cause as { readonly code?: string };
    if (code?.startsWith('Z_') !== true && code !== 'ERR_BUFFER_TOO_LARGE') throw cause;
    return null;
  }
}
