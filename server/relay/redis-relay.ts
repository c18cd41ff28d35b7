/**
 * The relay between nodes over Redis channels, one a document.
 *
 * A message carries its sender and a number that the sender counts up for each document. A number that does not follow
 * the one before means that some were lost; so does a connection that had to be made anew. Redis keeps nothing: the
 * store has everything that is sent as an update.
 */
import { randomBytes } from 'node:crypto';
import { Redis } from 'ioredis';
import * as decoding from 'lib0/decoding';
import * as encoding from 'lib0/encoding';
import type { Clock } from '../clock.ts';
import { type Answerable, unattended } from '../unattended.ts';
import { PULSE_MS, RedisPulse } from './redis-pulse.ts';
import type { Relay, RelayKind, RelayMessage } from './relay.ts';

/** By their number on the wire; nodes of two versions may talk during an update, so new ones go to the end. */
const NUMBERS: Readonly<Record<RelayKind, number | null>> = {
  update: 0,
  presence: 1,
  'present?': 2,
  reload: 3,
  removed: 4,
  narrowed: 5,
  renewed: 6,
  'open?': 7,
  open: 8,
  proposals: 9,
  lesson: 10,
  // Pauses are not sent: nothing depends on them, and whoever was passed over in one is not always asked again.
  pausing: null,
  'going-on': null,
};
const KINDS = (Object.keys(NUMBERS) as RelayKind[]).filter((kind) => NUMBERS[kind] !== null);
const PREFIX = 'larkboard:';
/** Bytes sent that Redis has not answered, at most; what is larger alone goes when nothing else waits. */
const MAX_UNANSWERED_BYTES = 16 * 1024 * 1024;

interface JoinedRoom {
  readonly hear: Set<(message: RelayMessage) => void>;
  /** The last number heard of each node. */
  readonly heard: Map<string, number>;
  sent: number;
}

export interface RedisRelayOptions {
  readonly url: string;
  readonly clock: Clock;
  /** Hears when the connection is lost and when it is back. */
  readonly onState: (isUp: boolean, reason: string) => void;
}

export class RedisRelay implements Relay, Answerable {
  readonly isShared = true;
  readonly #node = randomBytes(9).toString('base64url');
  readonly #publisher: Redis;
  readonly #subscriber: Redis;
  readonly #rooms = new Map<string, JoinedRoom>();
  readonly #gapListeners = new Set<(room: string | null) => void>();
  readonly #options: RedisRelayOptions;
  readonly #pulses: readonly [publisher: RedisPulse, subscriber: RedisPulse];
  readonly #stopBeating: () => void;
  #unansweredBytes = 0;
  #isUp = false;
  #wasUp = false;

  private constructor(options: RedisRelayOptions) {
    this.#options = options;
    const settings = {
      lazyConnect: true,
      // What cannot be sent now is dropped: the gap is announced when the line is back.
      enableOfflineQueue: false,
      maxRetriesPerRequest: 0,
      retryStrategy: (attempt: number) => Math.min(50 * 2 ** Math.min(attempt, 6), 2_000),
      connectTimeout: 2_000,
      keepAlive: 5_000,
      autoResubscribe: false,
    };
    this.#publisher = new Redis(options.url, settings);
    this.#subscriber = new Redis(options.url, settings);
    this.#subscriber.on('messageBuffer', (channel: Buffer, bytes: Buffer) => {
      const room = channel.toString().slice(PREFIX.length);
      // What cannot be read is as good as lost.
      unattended({ broke: () => this.#tellGap(room) }, 'hear', () => this.#hear(room, bytes));
    });
    for (const client of [this.#publisher, this.#subscriber]) {
      client.on('error', (error: Error) => this.#onDown(error.message));
      client.on('close', () => this.#onDown('the connection closed'));
    }
    this.#publisher.on('ready', () => unattended(this, 'ready', () => this.#onReady()));
    this.#subscriber.on('ready', () => unattended(this, 'ready', () => this.#onReady()));
    this.#pulses = [new RedisPulse(this.#publisher), new RedisPulse(this.#subscriber)];
    this.#stopBeating = options.clock.every(PULSE_MS, () => {
      for (const pulse of this.#pulses) unattended(this, 'pulse', () => pulse.beat());
    });
  }

  /** Connects; rejects when Redis does not answer, and says where and why. */
  static async open(options: RedisRelayOptions): Promise<RedisRelay> {
    const relay = new RedisRelay(options);
    // What `connect` rejects with says only that the connection closed.
    let reason = '';
    relay.#publisher.once('error', ({ message }: Error) => {
      reason = message;
    });
    try {
      await Promise.all([relay.#publisher.connect(), relay.#subscriber.connect()]);
      return relay;
    } catch (cause) {
      await relay.close();
      const { host, port } = relay.#publisher.options;
      const why = reason || (cause as Error).message;
      throw new Error(`Redis at ${host}:${port} does not answer: ${why}`, { cause });
    }
  }

  get isUp(): boolean {
    return this.#isUp;
  }

  async join(room: string, hear: (message: RelayMessage) => void): Promise<() => void> {
    let joined = this.#rooms.get(room);
    if (!joined) {
      joined = { hear: new Set(), heard: new Map(), sent: 0 };
      this.#rooms.set(room, joined);
    }
    joined.hear.add(hear);
    // While the line is down the room opens from the store alone; the return of the line makes it read again.
    if (this.#subscriber.status === 'ready')
      await this.#subscriber.subscribe(PREFIX + room).catch(this.#ignoreDown);
    return () => {
      joined.hear.delete(hear);
      if (joined.hear.size > 0 || this.#rooms.get(room) !== joined) return;
      this.#rooms.delete(room);
      if (this.#subscriber.status === 'ready')
        unattended(this, 'unsubscribe', () => this.#subscriber.unsubscribe(PREFIX + room));
    };
  }

  send(room: string, message: RelayMessage): void {
    const kind = NUMBERS[message.kind];
    if (kind === null) return;
    const joined = this.#rooms.get(room);
    const number = joined ? ++joined.sent : 0;
    if (this.#publisher.status !== 'ready') return;
    const encoder = encoding.createEncoder();
    encoding.writeVarString(encoder, this.#node);
    encoding.writeVarUint(encoder, number);
    encoding.writeVarUint(encoder, kind);
    encoding.writeUint8Array(encoder, message.bytes);
    const bytes = Buffer.from(encoding.toUint8Array(encoder));
    unattended(this, 'publish', () => this.#publish(room, bytes));
  }

  async #publish(room: string, bytes: Buffer): Promise<void> {
    if (this.#unansweredBytes > 0 && this.#unansweredBytes + bytes.length > MAX_UNANSWERED_BYTES) {
      // This one is lost. So is the line, whose return tells everybody to read anew.
      this.#onDown(`${this.#unansweredBytes} bytes wait for it`);
      this.#pulses[0].cut('too much waits for it');
      return;
    }
    this.#unansweredBytes += bytes.length;
    try {
      await this.#publisher.publish(PREFIX + room, bytes);
    } finally {
      this.#unansweredBytes -= bytes.length;
    }
  }

  onGap(listener: (room: string | null) => void): void {
    this.#gapListeners.add(listener);
  }

  async close(): Promise<void> {
    this.#stopBeating();
    this.#rooms.clear();
    this.#publisher.disconnect();
    this.#subscriber.disconnect();
  }

  /** A command that nobody waits for has failed: what it should have said is lost, which the return of the line announces. */
  broke(_what: string, cause: unknown): void {
    this.#onDown((cause as Error).message);
  }

  /** A command that failed because the line is down; `close` and `ready` see to the rest. */
  readonly #ignoreDown = (error: Error): void => {
    this.#onDown(error.message);
  };

  #onDown(reason: string): void {
    if (!this.#isUp) return;
    this.#isUp = false;
    this.#options.onState(false, reason);
  }

  async #onReady(): Promise<void> {
    if (this.#publisher.status !== 'ready' || this.#subscriber.status !== 'ready') return;
    const channels = [...this.#rooms.keys()].map((room) => PREFIX + room);
    try {
      for (let from = 0; from < channels.length; from += 500)
        await this.#subscriber.subscribe(...channels.slice(from, from + 500));
    } catch (cause) {
      this.#ignoreDown(cause as Error);
      return;
    }
    // One of the two may have gone again meanwhile; its return comes here once more.
    if (this.#publisher.status !== 'ready' || this.#subscriber.status !== 'ready') return;
    if (!this.#isUp) this.#options.onState(true, 'connected');
    this.#isUp = true;
    // Each return of either line is a gap, also where both flap and only the last makes it whole.
    if (this.#wasUp) this.#tellGap(null);
    this.#wasUp = true;
  }

  #tellGap(room: string | null): void {
    for (const listener of this.#gapListeners) listener(room);
  }

  #hear(room: string, bytes: Uint8Array): void {
    const joined = this.#rooms.get(room);
    if (!joined) return;
    const decoder = decoding.createDecoder(bytes);
    const node = decoding.readVarString(decoder);
    if (node === this.#node) return;
    const number = decoding.readVarUint(decoder);
    const kind = KINDS[decoding.readVarUint(decoder)];
    const last = joined.heard.get(node);
    joined.heard.set(node, number);
    if (kind === undefined) return;
    const message = { kind, bytes: decoding.readTailAsUint8Array(decoder).slice() };
    for (const hear of joined.hear) hear(message);
    if (last !== undefined && number !== last + 1 && number !== 1) this.#tellGap(room);
  }
}
