/** Faults of our own, or of what we build on, in the middle of a room's work: one room is given up, and nothing else happens. */
// Before the server is loaded.
import { armed } from '../../support/faulty-yjs.ts';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import type { Relay } from '../../../server/relay/index.ts';
import { MemoryRelayHub } from '../../../server/relay/memory-relay.ts';
import type { DocumentAddress } from '../../../server/store/index.ts';
import { MemoryStore } from '../../../server/store/memory-store.ts';
import { machineClock } from '../../../server/index.ts';
import { ask } from '../../support/ask.ts';
import { HandClock } from '../../support/hand-clock.ts';
import { until } from '../../support/until.ts';
import { message, RawClient } from '../raw-client.ts';
import { makeBoard, startTestServer, type TestServer } from '../test-server.ts';

/** A store whose appends to one board wait, or fail in a way that no store should. */
class OddStore extends MemoryStore {
  /** The board whose appends are odd. */
  odd: string | null = null;
  readonly #bytes = new Map<string, Uint8Array[]>();
  isHeld = false;
  readonly #waiting: (() => void)[] = [];

  letGo(): void {
    this.isHeld = false;
    for (const go of this.#waiting.splice(0)) go();
  }

  override append: MemoryStore['append'] = async (address: DocumentAddress, ...rest) => {
    if (address.board === this.odd) {
      if (armed.fault === 'append') {
        armed.thrown += 1;
        throw new TypeError('append fails');
      }
      if (this.isHeld) await new Promise<void>((resolve) => this.#waiting.push(resolve));
    }
    const seq = await super.append(address, ...rest);
    this.#bytes.set(address.board, [...(this.#bytes.get(address.board) ?? []), rest[0]]);
    return seq;
  };

  /** Keys that were written to a board since it was made, also when the store is closed. */
  written(id: string): readonly string[] {
    const doc = new Y.Doc();
    for (const bytes of this.#bytes.get(id) ?? []) Y.applyUpdate(doc, bytes);
    return [...doc.getMap('meta').keys()];
  }
}

let clock: HandClock;
let store: OddStore;
let server: TestServer;
let board: string;
let others: string;
const clients: RawClient[] = [];

function join(id: string): Promise<RawClient> {
  const client = new RawClient(`${server.ws}/${id}/design`);
  clients.push(client);
  return client.join();
}

/** A relay to nobody, which fails for one board when told to. */
function oddRelay(): Relay {
  const relay = new MemoryRelayHub().node();
  const send = relay.send.bind(relay);
  relay.send = (room, sent) => {
    if (armed.fault === 'relay.send' && sent.kind === 'update' && room.startsWith(board)) {
      armed.thrown += 1;
      throw new TypeError('relay.send fails');
    }
    send(room, sent);
  };
  return relay;
}

beforeEach(async () => {
  clock = new HandClock(machineClock);
  store = new OddStore();
  server = await startTestServer({ clock, store, relay: oddRelay(), env: { ASIDE_MS: '1' } });
  [board, others] = [await makeBoard(server), await makeBoard(server)];
  store.odd = board;
});

afterEach(async () => {
  Object.assign(armed, { fault: null, thrown: 0 });
  store.letGo();
  for (const one of clients.splice(0)) one.close();
  await server.close();
});

interface Case {
  readonly fault: string;
  readonly where: string;
  /** Makes the fault happen. The maker has made an edit `k2` and asked for mark 2, or does so here. */
  readonly provoke: (maker: RawClient) => void | Promise<void>;
}

const edit = (client: RawClient, n: number): void => client.edit((doc) => doc.getMap('meta').set(`k${n}`, n));
/** Of two values: updates of one are put together without Yjs. */
const editTwo = (client: RawClient, n: number): void =>
  client.edit((doc) => {
    doc.getMap('meta').set(`k${n}`, n);
    doc.getMap('meta').set(`j${n}`, n);
  });
/** Asks for more than a made-up vector says: the room works its document out and encodes it. */
const askForMore = message(0, 0, Y.encodeStateVector(new Map([[5, 3]])));

const CASES: readonly Case[] = [
  {
    fault: 'applyUpdate',
    where: 'taking a step 2',
    provoke: (maker) => {
      maker.doc.getMap('meta').set('k2', 2);
      maker.send(message(0, 1, Y.encodeStateAsUpdate(maker.doc)));
      maker.mark(2);
    },
  },
  {
    fault: 'applyUpdate',
    where: 'working the document out',
    provoke: (maker) => {
      edit(maker, 2);
      maker.send(askForMore);
      maker.mark(2);
    },
  },
  {
    fault: 'encodeStateAsUpdate',
    where: 'answering a step 1',
    provoke: (maker) => {
      edit(maker, 2);
      maker.send(askForMore);
      maker.mark(2);
    },
  },
  {
    fault: 'encodeStateAsUpdate',
    where: 'a timer, when the room has become quiet',
    provoke: async (maker) => {
      armed.fault = null;
      maker.send(askForMore);
      edit(maker, 2);
      await until('the edit is stored', async () => (await store.load({ board, part: 'design' })).length > 2);
      armed.fault = 'encodeStateAsUpdate';
      clock.turn(10_000);
    },
  },
  {
    fault: 'mergeUpdates',
    where: 'putting together what gathered, in a turn or for the store',
    provoke: async (maker) => {
      store.isHeld = true;
      // Three behind the one that is held: however their turns fall, two come together.
      for (const n of [2, 3, 4, 5]) {
        editTwo(maker, n);
        await maker.reached();
      }
      maker.mark(2);
      await maker.reached();
      store.letGo();
    },
  },
  {
    fault: 'append',
    where: 'the store, with what is no error of a store',
    provoke: (maker) => {
      edit(maker, 2);
      maker.mark(2);
    },
  },
  {
    fault: 'mark',
    where: 'the call of a mark',
    provoke: (maker) => {
      edit(maker, 2);
      maker.mark(2);
    },
  },
  {
    fault: 'relay.send',
    where: 'telling the other nodes',
    provoke: (maker) => {
      edit(maker, 2);
      maker.mark(2);
    },
  },
];

describe('a fault', () => {
  it.each(CASES)(
    '[V252] of $fault, $where, gives up that room and nothing else',
    async ({ fault, provoke }) => {
      const [maker, reader, other] = [await join(board), await join(board), await join(others)];
      edit(maker, 1);
      maker.mark(1);
      await maker.savedMark(1);
      if (fault === 'mark') {
        const observe = server.metrics.observe.bind(server.metrics);
        server.metrics.observe = (...args) => {
          if (armed.fault === 'mark') {
            armed.thrown += 1;
            throw new TypeError('observe fails');
          }
          observe(...args);
        };
      }
      armed.fault = fault;
      await provoke(maker);
      // In a code that lets clients come back by themselves.
      expect(await Promise.all([maker.closed, reader.closed])).toEqual([4500, 4500]);
      expect(armed.thrown).toBeGreaterThan(0);
      armed.fault = null;
      expect(maker.heard.filter((one) => one.kind === 'saved').map((one) => one.mark)).toEqual([1]);
      expect(server.lines.filter((line) => line.includes('"room-broken"'))).toHaveLength(1);

      // The others go on as if nothing had been, on the same sockets.
      edit(other, 9);
      other.mark(9);
      await other.savedMark(9);
      expect(other.closeCode).toBeNull();
      expect((await ask(`${server.http}/healthz`)).status).toBe(200);

      // The maker comes back with what they hold, and nothing is lost of either edit.
      const back = new RawClient(`${server.ws}/${board}/design`);
      clients.push(back);
      Y.applyUpdate(back.doc, Y.encodeStateAsUpdate(maker.doc));
      await back.join();
      back.mark(3);
      await back.savedMark(3);
      const late = await join(board);
      expect([late.doc.getMap('meta').get('k1'), late.doc.getMap('meta').get('k2')]).toEqual([1, 2]);
      expect(Y.encodeStateVector(late.doc)).toEqual(Y.encodeStateVector(back.doc));
    },
  );

  it('[V252] while the server ends costs the other rooms nothing', async () => {
    const [maker, reader, other] = [await join(board), await join(board), await join(others)];
    store.isHeld = true;
    // The first is on its way to the disk. The others wait for it, each by itself: what came in one turn would be merged by now.
    for (const n of [1, 2, 3]) {
      editTwo(maker, n);
      await until('its turn is over', () => reader.doc.getMap('meta').get(`k${n}`) === n);
    }
    edit(other, 7);
    await other.reached();
    armed.fault = 'mergeUpdates';
    const closing = server.close();
    store.letGo();
    await closing;
    expect(armed.thrown).toBeGreaterThan(0);
    armed.fault = null;
    expect(other.closeCode ?? (await other.closed)).toBe(4500);
    expect(store.written(others)).toContain('k7');
  });

  it('[V252] of replacing a board over HTTP is answered as one that passes, and the board opens anew', async () => {
    const maker = await join(board);
    edit(maker, 1);
    maker.mark(1);
    await maker.savedMark(1);
    const address = `${server.http}/api/boards/${board}/file`;
    const body = await (await ask(address)).text();
    armed.fault = 'applyUpdate';
    expect((await ask(address, { method: 'PUT', body })).status).toBe(503);
    armed.fault = null;
    expect(await maker.closed).toBe(4500);
    expect((await ask(address)).status).toBe(200);
  });
});
