/** Reads a talk document, whatever peers wrote: what cannot be read is left out, alike on every client. */
import type * as Y from 'yjs';
import { isAddressId } from '../read-presence.ts';
import { byUnits, cutText, readHex } from '../text.ts';
import { LIMITS } from '../wire.ts';
import { type Pin, readPin } from './pin.ts';
import {
  MAX_MENTIONS,
  MAX_REMARK_CHARACTERS,
  MAX_REMARKS,
  MAX_THREADS,
  readTalkKey,
  TALK_VERSION,
  talkRootsOf,
} from './talk-schema.ts';

/** Who wrote something. The server knows the id by their cookie; name and colour are what they called themselves then. */
export interface Speaker {
  readonly id: string;
  readonly name: string;
  readonly hex: string;
}

/** One thing said in a thread. */
export interface Remark {
  readonly id: string;
  readonly by: Speaker;
  /** Milliseconds since 1970 on the server's clock. */
  readonly at: number;
  /** Null when the remark was taken back. */
  readonly text: string | null;
  /** Ids of the people it speaks to. */
  readonly mentions: readonly string[];
}

/** Remarks about one thing. */
export interface Thread {
  readonly id: string;
  readonly pin: Pin;
  /** In the order of the talk; at least one. */
  readonly remarks: readonly Remark[];
  /** Who said it is done, and when; null while it is open. */
  readonly done: { readonly by: Speaker; readonly at: number } | null;
}

/** All that was said about a board, as every reader reads it. */
export interface TalkSnapshot {
  /** In the order in which they were opened. */
  readonly threads: readonly Thread[];
  /** Whether the document is of a later version; then nothing is read. */
  readonly isNewer: boolean;
}

type Fields = Partial<Record<string, unknown>>;
interface Ordered {
  readonly id: string;
  readonly order: number;
}

/** Reads a talk document. Total. O(document). Rules K1 to K5. */
export function readTalk(doc: Y.Doc): TalkSnapshot {
  const { meta, threads, remarks } = talkRootsOf(doc);
  const version = meta.get('version');
  if (typeof version === 'number' && Number.isSafeInteger(version) && version > TALK_VERSION)
    return { threads: [], isNewer: true };

  const spoken = new Map<string, (Ordered & { readonly remark: Remark })[]>();
  remarks.forEach((value, key) => {
    const parts = readTalkKey(key);
    if (parts === null || parts.length !== 2 || parts[1] === 'done') return;
    const [thread, id] = parts as [string, string];
    const head = readStamp(value);
    const says = readSays(remarks.get(`${key}:says`));
    if (head === null || says === null) return;
    const list = spoken.get(thread) ?? [];
    spoken.set(thread, list);
    list.push({ id, order: head.order, remark: { id, by: head.by, at: head.at, ...says } });
  });

  const read: (Ordered & { readonly thread: Thread })[] = [];
  threads.forEach((value, key) => {
    const parts = readTalkKey(key);
    const own = spoken.get(key);
    const pin = readPin(fieldsOf(value).pin);
    if (parts?.length !== 1 || own === undefined || pin === null) return;
    const done = readStamp(threads.get(`${key}:done`));
    read.push({
      id: key,
      order: readOrder(value),
      thread: {
        id: key,
        pin,
        remarks: own
          .sort(byOrder)
          .slice(0, MAX_REMARKS)
          .map(({ remark }) => remark),
        done: done === null ? null : { by: done.by, at: done.at },
      },
    });
  });
  return {
    threads: read
      .sort(byOrder)
      .slice(0, MAX_THREADS)
      .map(({ thread }) => thread),
    isNewer: false,
  };
}

function byOrder(a: Ordered, b: Ordered): number {
  return a.order - b.order || byUnits(a.id, b.id);
}

function fieldsOf(value: unknown): Fields {
  return typeof value === 'object' && value !== null ? (value as Fields) : {};
}

/** The place of something among its kind; 0 when it cannot be read. */
export function readOrder(value: unknown): number {
  const { order } = fieldsOf(value);
  return typeof order === 'number' && Number.isSafeInteger(order) && order >= 0 ? order : 0;
}

function readStamp(
  value: unknown,
): { readonly by: Speaker; readonly at: number; readonly order: number } | null {
  const { by, at } = fieldsOf(value);
  const { id, name, hex: stored } = fieldsOf(by);
  const hex = readHex(stored);
  if (!isAddressId(id) || typeof name !== 'string' || hex === null) return null;
  if (typeof at !== 'number' || !Number.isSafeInteger(at) || at < 0) return null;
  return { by: { id, name: cutText(name, LIMITS.nameCharacters), hex }, at, order: readOrder(value) };
}

function readSays(
  value: unknown,
): { readonly text: string | null; readonly mentions: readonly string[] } | null {
  if (value === null) return { text: null, mentions: [] };
  const { text, mentions } = fieldsOf(value);
  if (typeof text !== 'string') return null;
  return {
    text: cutText(text, MAX_REMARK_CHARACTERS),
    mentions: Array.isArray(mentions)
      ? [...new Set(mentions.filter(isAddressId))].slice(0, MAX_MENTIONS)
      : [],
  };
}
