/** Makers who edit at a steady rate and time every delivery. */
import WebSocket from 'ws';
import * as Y from 'yjs';
import { message } from '../server/raw-client.ts';
import { atRate } from '../support/pacer.ts';
import { until } from '../support/until.ts';
import { type BenchServer, secondsBetween, threadSeconds } from './sync-servers.ts';

const STAMP = /@(\d+):(\d+);/g;

interface Sender {
  readonly socket: WebSocket;
  readonly doc: Y.Doc;
  readonly id: number;
  readonly room: number;
  readonly sentAt: number[];
  /** The number of the edit heard of last, by the id of who made it. */
  readonly heard: Map<number, number>;
}

export interface LoadResult {
  readonly p50Ms: number;
  readonly p99Ms: number;
  readonly edits: number;
  readonly deliveries: number;
  readonly expected: number;
  readonly cpuSeconds: number;
}

/** Sockets in rooms, kept open over several loads. */
export class Load {
  readonly server: BenchServer;
  readonly #senders: Sender[] = [];
  #latencies: number[] = [];
  #isTiming = false;

  private constructor(server: BenchServer) {
    this.server = server;
  }

  /** @param first number of the first room; rooms used before hold the edits of those who were there */
  static async open(server: BenchServer, rooms: number, perRoom: number, first: number): Promise<Load> {
    const load = new Load(server);
    for (let room = first; room < first + rooms; room += 1) {
      const url = await server.roomUrl(room);
      for (let i = 0; i < perRoom; i += 1) await load.#join(url, room);
    }
    return load;
  }

  async #join(url: string, room: number): Promise<void> {
    const socket = new WebSocket(url, { perMessageDeflate: false });
    const sender: Sender = {
      socket,
      doc: new Y.Doc(),
      id: this.#senders.length,
      room,
      sentAt: [],
      heard: new Map(),
    };
    socket.on('message', (data: Buffer) => {
      if (data[0] === 0 && data[1] === 0) {
        // Somebody's step 1: an honest client answers. Only the servers ask; a relay passes nobody's on here.
        socket.send(message(0, 1, Y.encodeStateAsUpdate(sender.doc)));
        return;
      }
      if (!this.#isTiming) return;
      const now = performance.now();
      for (const [, id, n] of data.toString('latin1').matchAll(STAMP)) {
        // An update of one's own that comes back is no delivery.
        if (Number(id) === sender.id) continue;
        const at = this.#senders[Number(id)]?.sentAt[Number(n)];
        if (at === undefined) continue;
        this.#latencies.push(now - at);
        sender.heard.set(Number(id), Number(n));
      }
    });
    sender.doc.on('update', (update: Uint8Array) => socket.send(message(0, 2, update)));
    await new Promise<void>((resolve, reject) => {
      socket.once('open', () => resolve());
      socket.once('error', reject);
    });
    // As the stock provider begins: whoever asks for nothing gets nothing until the server has asked what they hold.
    socket.send(message(0, 0, new Uint8Array([0])));
    this.#senders.push(sender);
  }

  #edit(sender: Sender): void {
    const { doc, id, sentAt } = sender;
    const n = sentAt.length;
    sentAt.push(performance.now());
    // The document's listener sends it, as the stock provider does.
    doc.getMap('colours').set(`row${n % 50}:pair${id}:i`, `@${id}:${n};`);
  }

  /** Everybody in a room, by its number. */
  #rooms(): ReadonlyMap<number, readonly Sender[]> {
    const rooms = new Map<number, Sender[]>();
    for (const sender of this.#senders) rooms.set(sender.room, [...(rooms.get(sender.room) ?? []), sender]);
    return rooms;
  }

  /** Edits at a rate in all rooms together, until nothing of it is under way any more. */
  async run(editsPerSecond: number, seconds: number): Promise<LoadResult> {
    this.#latencies = [];
    for (const { sentAt, heard } of this.#senders) {
      sentAt.length = 0;
      heard.clear();
    }
    this.#isTiming = true;
    const rooms = this.#rooms();
    const cpuBefore = threadSeconds(this.server.pid);
    let expected = 0;
    // Who edits goes round with a stride, so that rooms take turns.
    let next = 0;
    const edits = await atRate(editsPerSecond, seconds, () => {
      const sender = this.#senders[next % this.#senders.length]!;
      const others = rooms.get(sender.room)!.length - 1;
      next += others > 3 ? 7 : 5;
      this.#edit(sender);
      expected += others;
    });
    await until(
      () => `${this.#latencies.length} of ${expected} deliveries of ${this.server.name}`,
      () => this.#latencies.length >= expected || [...rooms.values()].every(isDelivered),
    );
    this.#isTiming = false;
    const used = secondsBetween(cpuBefore, threadSeconds(this.server.pid));
    const sorted = Float64Array.from(this.#latencies).sort();
    const at = (share: number): number =>
      sorted.length === 0
        ? Number.POSITIVE_INFINITY
        : sorted[Math.min(sorted.length - 1, Math.floor(sorted.length * share))]!;
    return {
      p50Ms: at(0.5),
      p99Ms: at(0.99),
      edits,
      deliveries: sorted.length,
      expected,
      cpuSeconds: used,
    };
  }

  async close(): Promise<void> {
    for (const { socket } of this.#senders) socket.terminate();
    await this.server.untilLeft(0);
  }
}

/**
 * Whether everybody in a room has heard of everybody's last edit, and so of all that come: what is lost stays behind in a closed socket,
 * or was overwritten while its reader was slow.
 */
function isDelivered(senders: readonly Sender[]): boolean {
  const open = senders.filter(({ socket }) => socket.readyState === WebSocket.OPEN);
  return open.every(({ id, heard }) =>
    open.every((other) => other.id === id || (heard.get(other.id) ?? -1) === other.sentAt.length - 1),
  );
}

/**
 * The most edits a second at which 99 of 100 deliveries take at most 100 ms and none is missing. A rate that fails is tried
 * once more, since others use the machine too.
 */
export async function mostEdits(load: Load, from: number, seconds: number): Promise<number> {
  let best = 0;
  for (let rate = from; rate < 2_000_000; rate = Math.ceil(rate * 1.3)) {
    if (!(await isKept(load, rate, seconds)) && !(await isKept(load, rate, seconds))) break;
    best = rate;
  }
  return best;
}

async function isKept(load: Load, rate: number, seconds: number): Promise<boolean> {
  await load.server.untilStored();
  const result = await load.run(rate, seconds);
  return result.p99Ms <= 100 && result.deliveries >= result.expected && result.edits >= rate * seconds * 0.95;
}
