/** Makers who edit at a steady rate and time every delivery. */
import WebSocket from 'ws';
import * as Y from 'yjs';
import { message } from '../server/raw-client.ts';
import { type BenchServer, secondsBetween, threadSeconds } from './sync-servers.ts';

const STAMP = /@(\d+):(\d+);/g;

interface Sender {
  readonly socket: WebSocket;
  readonly doc: Y.Doc;
  readonly id: number;
  readonly room: number;
  readonly sentAt: number[];
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
  readonly #senders: Sender[] = [];
  readonly #server: BenchServer;
  #latencies: number[] = [];
  #isTiming = false;

  private constructor(server: BenchServer) {
    this.#server = server;
  }

  /** @param first number of the first room; rooms used before hold the edits of former makers */
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
    const sender = { socket, doc: new Y.Doc(), id: this.#senders.length, room, sentAt: [] };
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
        if (at !== undefined) this.#latencies.push(now - at);
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

  /** Edits at a rate in all rooms together. */
  async run(editsPerSecond: number, seconds: number): Promise<LoadResult> {
    this.#latencies = [];
    for (const sender of this.#senders) sender.sentAt.length = 0;
    this.#isTiming = true;
    const cpuBefore = threadSeconds(this.#server.pid);
    const began = performance.now();
    let edits = 0;
    let expected = 0;
    const perRoom = new Map<number, number>();
    for (const { room } of this.#senders) perRoom.set(room, (perRoom.get(room) ?? 0) + 1);
    // Who edits goes round with a stride, so that rooms take turns.
    let next = 0;
    while (performance.now() - began < seconds * 1000) {
      const due = Math.floor(((performance.now() - began) / 1000) * editsPerSecond);
      while (edits < due) {
        const sender = this.#senders[next % this.#senders.length]!;
        next += perRoom.get(sender.room)! > 4 ? 7 : 5;
        this.#edit(sender);
        edits += 1;
        expected += perRoom.get(sender.room)! - 1;
      }
      await new Promise((resolve) => setTimeout(resolve, 1));
    }
    const patience = performance.now() + 1500;
    while (this.#latencies.length < expected && performance.now() < patience)
      await new Promise((resolve) => setTimeout(resolve, 5));
    this.#isTiming = false;
    const used = secondsBetween(cpuBefore, threadSeconds(this.#server.pid));
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
    await new Promise((resolve) => setTimeout(resolve, 300));
  }
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
  await new Promise((resolve) => setTimeout(resolve, 200));
  const result = await load.run(rate, seconds);
  return result.p99Ms <= 100 && result.deliveries >= result.expected && result.edits >= rate * seconds * 0.95;
}
