/**
 * Kills the server at random moments while makers edit, starts it again on the same data, and counts what is missing.
 * What was acknowledged is looked for before any maker is let back in: they would bring back what the server lost.
 */
import * as Y from 'yjs';
import { ask } from '../support/ask.ts';
import { everyMs } from '../support/pacer.ts';
import { until } from '../support/until.ts';
import { type ChildServer, makeOwnBoard, startChild } from './child-server.ts';
import { message, RawClient } from './raw-client.ts';

export interface ChaosOptions {
  readonly kills: number;
  readonly boards: number;
  readonly makers: number;
  readonly seed: number;
  readonly env: Readonly<Record<string, string>>;
}

export interface ChaosResult {
  readonly kills: number;
  readonly edits: number;
  readonly acknowledged: number;
  readonly lost: number;
  readonly unreadable: number;
  /** Whether at the end a newcomer has every edit of every maker, acknowledged or not. */
  readonly isAllThere: boolean;
  readonly seconds: number;
}

/** Numbers from 0 to below 1 that follow from the seed (mulberry32). */
export function seededRandom(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
}

/** One maker, who keeps the document over all reconnections. */
export class Maker {
  readonly doc = new Y.Doc();
  readonly board: string;
  readonly name: string;
  made = 0;
  acknowledged = 0;
  /** Notices of the room, in order. */
  readonly notices: string[] = [];
  #client: RawClient | null = null;
  #stop: (() => void) | null = null;

  readonly #headers: Readonly<Record<string, string>>;

  /** @param headers of whoever may work on the board */
  constructor(board: string, name: string, headers: Readonly<Record<string, string>>) {
    this.#headers = headers;
    this.board = board;
    this.name = name;
  }

  async connect(server: { readonly ws: string }): Promise<void> {
    const client = new RawClient(`${server.ws}/${this.board}/design`, { headers: this.#headers });
    client.answers = false;
    client.socket.on('error', () => {});
    await client.opened;
    client.send(message(0, 0, Y.encodeStateVector(this.doc)));
    let read = 0;
    client.socket.on('message', () => {
      for (; read < client.heard.length; read += 1) {
        const one = client.heard[read]!;
        if (one.kind === 'step1') client.send(message(0, 1, Y.encodeStateAsUpdate(this.doc, one.bytes)));
        else if (one.kind === 'step2' || one.kind === 'update') Y.applyUpdate(this.doc, one.bytes, 'server');
        else if (one.kind === 'saved') this.acknowledged = Math.max(this.acknowledged, one.mark);
        else if (one.kind === 'notice') this.notices.push(one.code);
      }
    });
    await client.waitFor((one) => one.kind === 'step2');
    this.#client = client;
  }

  /** Ties a knot of its own every few ms. */
  begin(ms: number): void {
    this.#stop = everyMs(ms, () => {
      const client = this.#client;
      if (client === null || client.socket.readyState !== 1) return;
      const before = Y.encodeStateVector(this.doc);
      this.made += 1;
      this.doc.getMap('meta').set(`${this.name}:${this.made}`, this.made);
      client.send(message(0, 2, Y.encodeStateAsUpdate(this.doc, before)));
      client.mark(this.made);
    });
  }

  /** Makes no more edits but stays. */
  pause(): void {
    this.#stop?.();
    this.#stop = null;
  }

  /** Fulfils when the server has read everything made so far. */
  async reached(): Promise<void> {
    await this.#client?.reached();
  }

  end(): void {
    this.pause();
    this.#client?.close();
    this.#client = null;
  }
}

type Headers = Readonly<Record<string, string>>;

async function newcomer(server: ChildServer, board: string, headers: Headers): Promise<Y.Doc> {
  const client = await new RawClient(`${server.ws}/${board}/design`, { headers }).join();
  client.close();
  return client.doc;
}

export async function runChaos(options: ChaosOptions): Promise<ChaosResult> {
  const random = seededRandom(options.seed);
  const began = performance.now();
  const { env } = options;
  let server = await startChild(env);
  const makers: Maker[] = [];
  const boards = new Map<string, Headers>();
  for (let b = 0; b < options.boards; b += 1) {
    const { id, headers } = await makeOwnBoard(server, '{"strings":8,"rows":12}');
    boards.set(id, headers);
    for (let m = 0; m < options.makers; m += 1) makers.push(new Maker(id, `b${b}m${m}`, headers));
  }
  const sum = (which: 'made' | 'acknowledged'): number =>
    makers.reduce((total, maker) => total + maker[which], 0);
  let lost = 0;
  let unreadable = 0;
  const look = async (isEnd: boolean): Promise<boolean> => {
    let isAllThere = true;
    for (const [board, headers] of boards) {
      const file = await ask(`${server.http}/api/boards/${board}/file`, { headers });
      if (file.status !== 200) unreadable += 1;
      const chaos = (await newcomer(server, board, headers)).getMap('meta');
      for (const maker of makers.filter((one) => one.board === board)) {
        for (let n = 1; n <= maker.acknowledged; n += 1) if (chaos.get(`${maker.name}:${n}`) !== n) lost += 1;
        if (isEnd)
          for (let n = 1; n <= maker.made; n += 1) isAllThere &&= chaos.get(`${maker.name}:${n}`) === n;
      }
    }
    return isAllThere;
  };
  let isAllThere = false;
  try {
    for (let kill = 0; kill < options.kills; kill += 1) {
      await Promise.all(makers.map((maker) => maker.connect(server)));
      for (const maker of makers) maker.begin(2 + Math.floor(random() * 8));
      const [made, acknowledged] = [sum('made'), sum('acknowledged')];
      const more = 50 + Math.floor(random() * 1500);
      await until(
        'some edits are under way and some acknowledged',
        () => sum('made') >= made + more && sum('acknowledged') > acknowledged + 20,
      );
      await server.stop('SIGKILL');
      for (const maker of makers) maker.end();
      server = await startChild(env);
      await look(false);
    }
    // Everybody comes back with what they hold: now nothing at all may be missing.
    await Promise.all(makers.map((maker) => maker.connect(server)));
    await Promise.all(makers.map((maker) => maker.reached()));
    for (const maker of makers) maker.end();
    const code = await server.stop('SIGTERM');
    if (code !== 0) throw new Error(`the server stopped with ${code}: ${server.output()}`);
    server = await startChild(env);
    isAllThere = await look(true);
  } finally {
    for (const maker of makers) maker.end();
    await server.stop('SIGKILL');
  }
  return {
    kills: options.kills,
    edits: sum('made'),
    acknowledged: sum('acknowledged'),
    lost,
    unreadable,
    isAllThere,
    seconds: Math.round((performance.now() - began) / 1000),
  };
}
