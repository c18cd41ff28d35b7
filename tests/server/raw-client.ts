/** A client that says exactly what a test wants, and keeps what it hears. */
import * as decoding from 'lib0/decoding';
import * as encoding from 'lib0/encoding';
import WebSocket from 'ws';
import * as Y from 'yjs';
import {
  encodeFollowed,
  type LessonNews,
  MESSAGE_COPY_PIECE,
  MESSAGE_LESSON,
  MESSAGE_NOTICE,
  MESSAGE_PROPOSALS,
  MESSAGE_RENEWED,
  MESSAGE_SAVED_MARK,
  readLessonText,
  readNotice,
  readPieceWanted,
  readRenewed,
  readSavedMark,
} from '../../engine/document/index.ts';
import { readNews } from '../../engine/document/lesson/messages.ts';
import { until } from '../support/until.ts';

export type Heard =
  | { readonly kind: 'step1' | 'step2' | 'update'; readonly bytes: Uint8Array }
  | {
      readonly kind: 'presence';
      readonly entries: readonly { client: number; clock: number; state: unknown }[];
    }
  | { readonly kind: 'saved'; readonly mark: number }
  | { readonly kind: 'notice'; readonly code: string }
  /** The proposals of the board may be others. */
  | { readonly kind: 'proposals' }
  /** The next generation begins, as this. */
  | { readonly kind: 'renewed'; readonly bytes: Uint8Array }
  /** From which byte on the next piece of a copy is wanted. */
  | { readonly kind: 'wanted'; readonly offset: number }
  /** Something said in a lesson. */
  | { readonly kind: 'lesson'; readonly news: LessonNews };

const SYNC_KINDS = ['step1', 'step2', 'update'] as const;

export function readMessages(data: Uint8Array): Heard[] {
  const decoder = decoding.createDecoder(data);
  const heard: Heard[] = [];
  while (decoding.hasContent(decoder)) {
    const kind = decoding.readVarUint(decoder);
    if (kind === 0) {
      const sub = SYNC_KINDS[decoding.readVarUint(decoder)]!;
      heard.push({ kind: sub, bytes: decoding.readVarUint8Array(decoder).slice() });
    } else if (kind === 1) {
      const inner = decoding.createDecoder(decoding.readVarUint8Array(decoder));
      const entries: { client: number; clock: number; state: unknown }[] = [];
      for (let left = decoding.readVarUint(inner); left > 0; left -= 1) {
        const client = decoding.readVarUint(inner);
        const clock = decoding.readVarUint(inner);
        entries.push({ client, clock, state: JSON.parse(decoding.readVarString(inner)) });
      }
      heard.push({ kind: 'presence', entries });
    } else if (kind === MESSAGE_SAVED_MARK)
      heard.push({ kind: 'saved', mark: known(readSavedMark(decoder)) });
    else if (kind === MESSAGE_NOTICE) heard.push({ kind: 'notice', code: known(readNotice(decoder)) });
    else if (kind === MESSAGE_COPY_PIECE)
      heard.push({ kind: 'wanted', offset: known(readPieceWanted(decoder)) });
    else if (kind === MESSAGE_PROPOSALS) heard.push({ kind: 'proposals' });
    else if (kind === MESSAGE_RENEWED)
      heard.push({ kind: 'renewed', bytes: known(readRenewed(decoder)).slice() });
    else if (kind === MESSAGE_LESSON)
      heard.push({ kind: 'lesson', news: known(readNews(known(readLessonText(decoder)))) });
    else throw new Error(`the server sent kind ${kind}`);
  }
  return heard;
}

function known<T>(value: T | null): T {
  if (value === null) throw new Error('the server sent a message that cannot be read');
  return value;
}

export function message(...parts: (number | Uint8Array | string)[]): Uint8Array {
  const encoder = encoding.createEncoder();
  for (const part of parts) {
    if (typeof part === 'number') encoding.writeVarUint(encoder, part);
    else if (typeof part === 'string') encoding.writeVarString(encoder, part);
    else encoding.writeVarUint8Array(encoder, part);
  }
  return encoding.toUint8Array(encoder);
}

export function presenceMessage(
  entries: readonly { client: number; clock: number; state: string }[],
): Uint8Array {
  const flat = entries.flatMap(({ client, clock, state }) => [client, clock, state]);
  return message(1, message(entries.length, ...flat));
}

export class RawClient {
  readonly socket: WebSocket;
  readonly heard: Heard[] = [];
  /** Another one once it was handed over to the next generation. */
  doc = new Y.Doc();
  /** Whether it goes over when it is handed over. */
  follows = true;
  /** Answers a step 1 with the whole document, as an honest client does. */
  answers = true;
  closeCode: number | null = null;
  #pings = 0;
  readonly opened: Promise<void>;
  readonly closed: Promise<number>;

  constructor(url: string, options: WebSocket.ClientOptions = {}) {
    this.socket = new WebSocket(url, options);
    this.socket.binaryType = 'arraybuffer';
    this.opened = new Promise((resolve, reject) => {
      this.socket.once('open', () => resolve());
      this.socket.once('error', reject);
    });
    this.opened.catch(() => {});
    this.closed = new Promise((resolve) => {
      this.socket.once('close', (code) => {
        this.closeCode = code;
        resolve(code);
      });
    });
    this.socket.on('message', (data) => this.#hear(new Uint8Array(data as ArrayBuffer)));
  }

  #hear(data: Uint8Array): void {
    for (const one of readMessages(data)) {
      this.heard.push(one);
      if (one.kind === 'step2' || one.kind === 'update') Y.applyUpdate(this.doc, one.bytes, 'server');
      if (one.kind === 'renewed' && this.follows) {
        this.doc = new Y.Doc();
        Y.applyUpdate(this.doc, one.bytes, 'server');
        this.send(encodeFollowed());
      }
      if (one.kind === 'step1' && this.answers)
        this.send(message(0, 1, Y.encodeStateAsUpdate(this.doc, one.bytes)));
    }
  }

  send(bytes: Uint8Array): void {
    this.socket.send(bytes);
  }

  /** Opens, asks for the document and waits for it. */
  async join(): Promise<this> {
    await this.opened;
    this.send(message(0, 0, Y.encodeStateVector(this.doc)));
    await this.waitFor((one) => one.kind === 'step2');
    return this;
  }

  /** Edits its document and sends the edit. */
  edit(change: (doc: Y.Doc) => void): void {
    const before = Y.encodeStateVector(this.doc);
    change(this.doc);
    this.send(message(0, 2, Y.encodeStateAsUpdate(this.doc, before)));
  }

  mark(mark: number): void {
    this.send(message(100, mark));
  }

  /** Waits until it has heard something, or finds it among what it heard before. */
  async waitFor(wanted: (one: Heard) => boolean): Promise<Heard> {
    await until(`to be heard: ${wanted}`, () => this.heard.some(wanted) || this.closeCode !== null);
    const found = this.heard.find(wanted);
    if (found === undefined) throw new Error(`closed with ${this.closeCode} before it was heard: ${wanted}`);
    return found;
  }

  /**
   * Fulfils when the server has read all that was sent, and its answers to that have come: it answers pings in their turn,
   * below the protocol. So does the end of the socket.
   */
  async reached(): Promise<void> {
    this.#pings += 1;
    const own = Buffer.from(String(this.#pings));
    const answered = new Promise<void>((resolve) => {
      const hear = (data: Buffer): void => {
        if (!data.equals(own)) return;
        this.socket.off('pong', hear);
        resolve();
      };
      this.socket.on('pong', hear);
    });
    this.socket.ping(own);
    await Promise.race([answered, this.closed]);
  }

  savedMark(mark: number): Promise<Heard> {
    return this.waitFor((one) => one.kind === 'saved' && one.mark >= mark);
  }

  close(): void {
    this.socket.terminate();
  }
}
