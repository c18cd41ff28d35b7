/**
 * Nodes of the sync server in this process, over one store, on lines without sockets and a clock turned by hand: all that they do is written
 * down, so that two builds of the server can be compared with the same script.
 */
import { createHash } from 'node:crypto';
import type { IncomingMessage } from 'node:http';
import type { Pass } from '../../../server/authorize.ts';
import type { Clock } from '../../../server/index.ts';
import type { Store } from '../../../server/store/index.ts';
import type { StoreFailure } from '../../../server/store/store.ts';
import type { SyncLimits } from '../../../server/sync/limits.ts';
import type { RoomWatch } from '../../../server/sync/rooms.ts';
import { HandClock } from '../../support/hand-clock.ts';
import { CLOSE, type Frame, WireLine } from './wire-line.ts';

/** What of a build of the server is taken. */
interface Build {
  readonly rooms: typeof import('../../../server/sync/rooms.ts');
  readonly upgrade: typeof import('../../../server/sync/upgrade.ts');
  readonly limits: typeof import('../../../server/sync/limits.ts');
  readonly steps: typeof import('../../../server/sync/count-steps.ts');
  readonly memory: typeof import('../../../server/store/memory-store.ts');
  readonly store: typeof import('../../../server/store/store.ts');
  readonly relay: typeof import('../../../server/relay/memory-relay.ts');
  readonly work: typeof import('../../../server/work/index.ts');
  readonly shares: typeof import('../../../server/shares.ts');
  readonly written: typeof import('../../../server/written-bytes.ts');
  readonly log: typeof import('../../../server/log.ts');
  readonly metrics: typeof import('../../../server/metrics.ts');
}

const FILES: Readonly<Record<keyof Build, string>> = {
  rooms: 'sync/rooms',
  upgrade: 'sync/upgrade',
  limits: 'sync/limits',
  steps: 'sync/count-steps',
  memory: 'store/memory-store',
  store: 'store/store',
  relay: 'relay/memory-relay',
  work: 'work/index',
  shares: 'shares',
  written: 'written-bytes',
  log: 'log',
  metrics: 'metrics',
};

/** @param folder the compiled server */
export async function loadBuild(folder: URL): Promise<Build> {
  const parts = Object.entries(FILES).map(async ([name, file]) => [
    name,
    await import(/* @vite-ignore */ new URL(`${file}.js`, folder).href),
  ]);
  return Object.fromEntries(await Promise.all(parts)) as unknown as Build;
}

/** Small ones, so that a short script meets them. */
const SMALL: Partial<SyncLimits> = {
  messageBytes: 256 * 1024,
  messagesPerSecond: 6,
  bytesPerSecond: 24 * 1024,
  steps: 4_000,
  unsavedBytes: 3_000,
  unsavedBytesInAll: 12_000,
  readerBytes: 6 * 1024,
  queuedBytes: 192 * 1024,
  queuedBytesPerPerson: 64 * 1024,
  queuedBytesPerAddress: 48 * 1024,
  renewBytes: 4_000,
  copyBytesInAll: 96 * 1024,
};

function hashOf(bytes: Uint8Array): string {
  return `${bytes.length}:${createHash('sha256').update(bytes).digest('hex').slice(0, 12)}`;
}

/** Plain data with each run of bytes as its length and hash. */
function shown(value: unknown): string {
  const text = JSON.stringify(value, function (this: Readonly<Record<string, unknown>>, key, inner: unknown) {
    // Of a buffer `inner` is already what it writes itself as.
    const own = this[key];
    return own instanceof Uint8Array ? hashOf(own) : inner;
  });
  return text ?? 'nothing';
}

export interface Node {
  readonly rooms: InstanceType<Build['rooms']['Rooms']>;
  readonly upgrade: InstanceType<Build['upgrade']['SyncUpgrade']>;
  readonly relay: ReturnType<InstanceType<Build['relay']['MemoryRelayHub']>['node']>;
}

export class TracedServer {
  /** All that was done, in order. */
  readonly lines: string[] = [];
  readonly clock = new HandClock();
  readonly store: Store;
  readonly nodes: readonly Node[];
  /** What each person may do; null = nothing. */
  readonly passes = new Map<string, Pass | null>();
  /** How far the time of day was set back. */
  setBackMs = 0;
  /** What the store does instead of what it is asked, or (`after`) says once it has. */
  fault: { readonly kind: StoreFailure; readonly when: 'before' | 'after' } | null = null;
  /** Answers of the store, and trials, wait until they are let go. */
  isHeld = false;
  /** Whether the next edit in a room is a fault there. */
  breaks = false;
  /** Whether what is left over of copies can be kept. */
  keepsCopies = true;
  readonly #waiting: (() => void)[] = [];
  readonly #build: Build;
  readonly #limits: SyncLimits;

  constructor(build: Build, nodes: number, limits: Partial<SyncLimits>) {
    this.#build = build;
    this.#limits = { ...build.limits.DEFAULT_SYNC_LIMITS, ...SMALL, ...limits };
    this.store = this.#traced(new build.memory.MemoryStore());
    const hub = new build.relay.MemoryRelayHub();
    this.nodes = Array.from({ length: nodes }, (_, i) => this.#node(i, hub));
  }

  note(line: string): void {
    this.lines.push(line);
  }

  /** Waits as long as answers are held. */
  async #let(): Promise<void> {
    if (this.isHeld) await new Promise<void>((resolve) => this.#waiting.push(resolve));
  }

  /** Lets go of the answers that the store holds, those first asked for first. */
  answer(most = this.#waiting.length): void {
    for (const go of this.#waiting.splice(0, most)) go();
  }

  /** A client comes; what the server writes to it is noted under its name. */
  come(name: string, node: Node, path: string, cookie: string): WireLine {
    const line = new WireLine(
      (bytes) => this.note(`${name} < ${hashOf(bytes)}`),
      (frame) => this.note(`${name} ${frameText(frame)}`),
    );
    line.on('close', () => this.note(`${name} cut`));
    const headers = {
      upgrade: 'websocket',
      connection: 'Upgrade',
      'sec-websocket-key': Buffer.from('sixteen bytes ..').toString('base64'),
      'sec-websocket-version': '13',
      cookie,
      host: 'here',
    };
    const request = { method: 'GET', url: path, headers } as unknown as IncomingMessage;
    node.upgrade.handle(request, line, Buffer.alloc(0)).catch((cause: unknown) => {
      this.note(`${name} upgrade threw ${cause}`);
    });
    return line;
  }

  #node(index: number, hub: InstanceType<Build['relay']['MemoryRelayHub']>): Node {
    const { rooms, upgrade, shares, written, log: logs, metrics: counts, work } = this.#build;
    const { store } = this;
    const relay = hub.node();
    const clock: Clock = {
      now: () => this.clock.now() - this.setBackMs,
      elapsed: this.clock.elapsed,
      after: this.clock.after,
      every: this.clock.every,
    };
    const metrics = new counts.Metrics();
    const log = new logs.Log(
      (line) => this.note(`${index} log ${shown({ ...JSON.parse(line), stack: undefined })}`),
      clock.now,
      'debug',
    );
    const limits = this.#limits;
    const base = { store, relay, log, metrics, limits, clock };
    const all = new rooms.Rooms({
      ...base,
      trials: this.#trials(limits.steps),
      work: new work.Work(null, clock),
      watch: this.#watch(index),
    });
    const door = new upgrade.SyncUpgrade({
      ...base,
      rooms: all,
      isShared: true,
      beside: () => null,
      isCutOff: () => !relay.isUp,
      authorize: async ({ headers }) => {
        const pass = this.passes.get(headers.cookie ?? '') ?? null;
        return pass ?? { denied: 'forbidden', message: 'nothing may be done' };
      },
      regulars: new shares.Regulars(),
      written: new written.WrittenBytes(60_000 * 16, clock.now),
      allowedOrigins: [],
      addressOf: () => 'there',
    });
    this.#metrics.push(metrics);
    return { rooms: all, upgrade: door, relay };
  }

  readonly #metrics: InstanceType<Build['metrics']['Metrics']>[] = [];

  /** What all nodes have counted. */
  noteCounts(): void {
    for (const metrics of this.#metrics) for (const line of metrics.text().split('\n')) this.note(line);
  }

  /** In this thread, so that the order of things is always the same. */
  #trials(most: number): ConstructorParameters<Build['rooms']['Rooms']>[0]['trials'] {
    const { countSteps, mostSteps } = this.#build.steps;
    const trials = {
      try: async (updates: readonly Uint8Array[]) => {
        this.note(`trial of ${updates.length}`);
        await this.#let();
        const count = countSteps(updates, (structs) => mostSteps(most, structs));
        return count === null ? 'too-much' : 'fine';
      },
      count: (outcome: string) => this.note(`trial ${outcome}`),
      close: async () => {},
    };
    return trials as unknown as ConstructorParameters<Build['rooms']['Rooms']>[0]['trials'];
  }

  #watch(index: number): RoomWatch {
    return {
      coming: (room) => {
        this.note(`${index} before edit of ${room.name}`);
        return null;
      },
      beforeBringing: async () => {},
      edited: (room) => {
        this.note(`${index} edited ${room.name}`);
        const { breaks } = this;
        this.breaks = false;
        if (breaks) throw new RangeError('injected');
      },
      emptied: async (room) => this.note(`${index} emptied ${room.name}`),
      leftOver: async (room, copy) => {
        this.note(`${index} left over in ${room.name} ${hashOf(copy)}`);
        return this.keepsCopies;
      },
    };
  }

  /** The same store, with each call and its answer noted. */
  #traced(inner: Store): Store {
    const { StoreError } = this.#build.store;
    const calls = inner as unknown as Record<string, (...args: unknown[]) => Promise<unknown>>;
    const around =
      (name: string) =>
      async (...args: unknown[]): Promise<unknown> => {
        this.note(`store ${name} ${shown(args)}`);
        const { fault } = this;
        if (fault?.when === 'before') throw new StoreError(fault.kind, 'injected');
        try {
          const value = await calls[name]!(...args);
          await this.#let();
          if (fault?.when === 'after') throw new StoreError(fault.kind, 'injected after the commit');
          this.note(`store ${name} = ${shown(value)}`);
          return value;
        } catch (cause) {
          this.note(`store ${name} ! ${(cause as Error).message}`);
          throw cause;
        }
      };
    return new Proxy(inner, { get: (_target, name) => around(String(name)) });
  }
}

/** What a frame is, as far as it can be told without the protocol. */
function frameText({ opcode, payload }: Frame): string {
  if (opcode !== CLOSE) return `frame ${opcode} ${payload.subarray(0, 2).toString('hex')}`;
  return payload.length < 2
    ? 'closed'
    : `closed ${payload.readUInt16BE(0)} ${payload.subarray(2).toString()}`;
}
