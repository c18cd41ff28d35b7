import { connect } from 'node:net';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import { CLOSE_CODES, encodeCopyPiece, LIMITS, readDesign } from '../../../engine/document/index.ts';
import { machineClock } from '../../../server/index.ts';
import { ask } from '../../support/ask.ts';
import { bulk } from '../../support/bulk.ts';
import { HandClock } from '../../support/hand-clock.ts';
import { until } from '../../support/until.ts';
import { message, presenceMessage, RawClient } from '../raw-client.ts';
import { makeBoard, startTestServer, type TestServer } from '../test-server.ts';

let clock: HandClock;
let server: TestServer;
let board: string;
let honest: RawClient;
let before: string;
const clients: RawClient[] = [];

function client(part = 'design', id = board): RawClient {
  const made = new RawClient(`${server.ws}/${id}/${part}`);
  clients.push(made);
  return made;
}

async function state(): Promise<string> {
  const doc = new Y.Doc();
  for (const row of await server.store.load({ board, part: 'design' })) Y.applyUpdate(doc, row.bytes);
  return JSON.stringify([Buffer.from(Y.encodeStateVector(doc)).toString('hex'), readDesign(doc)]);
}

/** The server lives, the board is as it was, and the honest client's socket is open and works. */
async function expectUntouched(): Promise<void> {
  expect((await ask(`${server.http}/healthz`)).status).toBe(200);
  honest.mark(1);
  await honest.savedMark(1);
  expect(honest.closeCode).toBeNull();
  expect(honest.heard.filter((one) => one.kind === 'update')).toEqual([]);
  expect(await state()).toBe(before);
  const late = await client().join();
  expect(Y.encodeStateVector(late.doc)).toEqual(Y.encodeStateVector(honest.doc));
  expect(late.doc.store.pendingStructs).toBeNull();
}

/** An update of a document unknown to the server, which holds a title and one change of it. */
function otherUpdates(): readonly [Uint8Array, Uint8Array] {
  const doc = new Y.Doc();
  const updates: Uint8Array[] = [];
  doc.on('update', (update: Uint8Array) => updates.push(update));
  doc.getMap('meta').set('title', 'first');
  doc.getMap('meta').set('title', 'second');
  return [updates[0]!, updates[1]!];
}

beforeEach(async () => {
  clock = new HandClock(machineClock);
  server = await startTestServer({ clock, env: { MAX_RESYNC_MS: '50' } });
  board = await makeBoard(server);
  before = await state();
  honest = await client().join();
});

afterEach(async () => {
  for (const one of clients.splice(0)) one.close();
  await server.close();
});

describe('bytes that are not the protocol', () => {
  const cases: readonly (readonly [string, Uint8Array])[] = [
    ['an empty frame', new Uint8Array(0)],
    ['random bytes', new Uint8Array([250, 17, 99, 3, 200, 4])],
    ['an unknown kind', message(77)],
    ['an unknown sync message', message(0, 9, new Uint8Array([0]))],
    ['a length beyond the frame', new Uint8Array([0, 2, 250, 250, 3, 1, 2])],
    ['a huge varint', new Uint8Array([0, 2, 255, 255, 255, 255, 255, 255, 255, 255, 255, 255, 1])],
    ['a state vector cut off', message(0, 0, new Uint8Array([3, 1]))],
    ['an update that does not decode', message(0, 2, new Uint8Array([1, 1, 1, 255, 3, 7, 7, 7]))],
    ['a step 2 that does not decode', message(0, 1, new Uint8Array([9, 9, 9, 9, 9]))],
    [
      'an update that claims 2^50 structs',
      message(0, 2, new Uint8Array([1, 255, 255, 255, 255, 255, 255, 63, 1, 0])),
    ],
    ['presence cut off', message(1, new Uint8Array([5, 1, 2]))],
    ['presence that is a list', presenceMessage([{ client: 1, clock: 1, state: '[1]' }])],
  ];
  it.each(cases)('[V40] %s closes the socket as malformed and touches nothing', async (_name, bytes) => {
    const hostile = await client().join();
    hostile.send(bytes);
    expect(await hostile.closed).toBe(4400);
    await expectUntouched();
  });

  it('[V40] text is refused', async () => {
    const hostile = await client().join();
    hostile.socket.send('hello');
    expect(await hostile.closed).toBe(4400);
    await expectUntouched();
  });

  it('[V40] every cut of a valid update is refused or changes nothing', async () => {
    const [update] = otherUpdates();
    const other = await makeBoard(server);
    const held = async (): Promise<Uint8Array> =>
      Y.encodeStateVector((await client('design', other).join()).doc);
    const was = await held();
    for (let length = 1; length < update.length; length += 1) {
      const hostile = await client('design', other).join();
      hostile.send(message(0, 2, update.subarray(0, length)));
      expect(await hostile.closed, `cut to ${length} bytes`).toBe(4400);
    }
    expect(await held()).toEqual(was);
    await expectUntouched();
  });

  it('[V41] a frame with reserved bits set ends that socket alone', async () => {
    const raw = connect(server.port, '127.0.0.1');
    const ended = new Promise((resolve) => raw.once('close', resolve));
    raw.write(
      `GET /sync/${board}/design HTTP/1.1\r\nHost: 127.0.0.1:${server.port}\r\nUpgrade: websocket\r\nConnection: Upgrade\r\n` +
        'Sec-WebSocket-Version: 13\r\nSec-WebSocket-Key: dGhlIHNhbXBsZSBub25jZQ==\r\n\r\n',
    );
    await new Promise((resolve) => raw.once('data', resolve));
    raw.write(Buffer.from([0xf2, 0x81, 0, 0, 0, 0, 1]));
    raw.resume();
    await ended;
    await expectUntouched();
  });

  it('[V41] a reset during the handshake ends nothing', async () => {
    for (let i = 0; i < 20; i += 1) {
      const raw = connect(server.port, '127.0.0.1');
      raw.on('error', () => {});
      raw.write(
        `GET /sync/${board}/design HTTP/1.1\r\nHost: x\r\nUpgrade: websocket\r\nConnection: Upgrade\r\n` +
          'Sec-WebSocket-Version: 13\r\nSec-WebSocket-Key: dGhlIHNhbXBsZSBub25jZQ==\r\n\r\n',
      );
      await new Promise((resolve) => raw.once('connect', resolve));
      raw.resetAndDestroy();
    }
    await until('only the honest socket is left', () => server.rooms.connections.size === 1);
    await expectUntouched();
  });

  it('[V42] a message of 20 MB is refused', async () => {
    const hostile = await client().join();
    hostile.socket.on('error', () => {});
    hostile.send(new Uint8Array(20 * 1024 * 1024));
    expect([4413, 1006]).toContain(await hostile.closed);
    await expectUntouched();
  });
});

describe('updates that must not come in', () => {
  it('[V43] an update whose beginning is missing is asked for, and the socket closed when it does not come', async () => {
    const hostile = await client().join();
    hostile.answers = false;
    hostile.send(message(0, 2, otherUpdates()[1]));
    await until('asked', () => hostile.heard.filter((one) => one.kind === 'step1').length === 2);
    clock.turn(5_000);
    expect(await hostile.closed).toBe(4400);
    await expectUntouched();
  });

  it('[V43] a step 2 with gaps closes the socket at once', async () => {
    const hostile = await client().join();
    hostile.send(message(0, 1, otherUpdates()[1]));
    expect(await hostile.closed).toBe(4400);
    await expectUntouched();
  });

  it('[V43] deletions of what is not there are refused', async () => {
    const doc = new Y.Doc();
    doc.getMap('meta').set('x', 1);
    const vector = Y.encodeStateVector(doc);
    doc.getMap('meta').delete('x');
    const hostile = await client().join();
    hostile.send(message(0, 1, Y.encodeStateAsUpdate(doc, vector)));
    expect(await hostile.closed).toBe(4400);
    await expectUntouched();
  });

  it('[V43] a struct that builds on itself is refused (found by fuzzing, seed 797578)', async () => {
    for (const kind of [1, 2]) {
      const hostile = await client().join();
      hostile.send(
        message(0, kind, Buffer.from('0101c890bac90b00a8c890bac90b00017702673101c890bac90b010001', 'hex')),
      );
      expect(await hostile.closed).toBe(4400);
    }
    await expectUntouched();
  });

  it('[V44] the whole of another board is refused', async () => {
    const other = await client('design', await makeBoard(server)).join();
    const hostile = await client().join();
    hostile.send(message(0, 2, Y.encodeStateAsUpdate(other.doc)));
    expect(await hostile.closed).toBe(4400);
    await expectUntouched();
  });

  it('[V44] the whole of another part of the same board is refused', async () => {
    const talk = await client('talk').join();
    const hostile = await client().join();
    hostile.send(message(0, 1, Y.encodeStateAsUpdate(talk.doc)));
    expect(await hostile.closed).toBe(4400);
    await expectUntouched();
  });

  it('[V44] the name of a document is neither replaced nor removed', async () => {
    const changes: readonly ((doc: Y.Doc) => void)[] = [
      (doc) => doc.getMap('identity').set('name', `${board}/talk`),
      (doc) => doc.getMap('identity').set('name', `${board}/design`),
      (doc) => doc.getMap('identity').set('other', 1),
      (doc) => doc.getMap('identity').delete('name'),
    ];
    for (const change of changes) {
      const hostile = await client().join();
      expect(hostile.doc.getMap('identity').get('name')).toBe(`${board}/design`);
      hostile.edit(change);
      expect(await hostile.closed, change.toString()).toBe(4400);
    }
    await expectUntouched();
  });

  it('[V45] more messages than a person makes close the socket', async () => {
    const hostile = await client().join();
    for (let i = 0; i < 4000; i += 1) hostile.send(message(3));
    expect(await hostile.closed).toBe(4529);
    await expectUntouched();
  });

  it('[V46] a board that would grow beyond the limit is full, for that socket', async () => {
    const small = await startTestServer({ env: { MAX_DOCUMENT_BYTES: '20000' } });
    try {
      const id = await makeBoard(small);
      const one = new RawClient(`${small.ws}/${id}/design`);
      await one.join();
      one.edit((doc) => doc.getMap('knots').set('big', bulk(30_000)));
      expect(await one.closed).toBe(4509);
      const two = await new RawClient(`${small.ws}/${id}/design`).join();
      expect(two.doc.getMap('knots').has('big')).toBe(false);
      two.close();
    } finally {
      await small.close();
    }
  });
});

describe('who only looks', () => {
  it('[V47] edits of a reader are dropped, never acknowledged, and the reader goes on reading', async () => {
    const looking = await startTestServer({
      authorize: async (asker) => ({
        role: asker.headers['x-role'] === 'maker' ? 'co-maker' : 'onlooker',
        canWrite: asker.headers['x-role'] === 'maker',
        personId: null,
        isAdmitted: true,
      }),
    });
    try {
      const id = await makeBoard(looking);
      const maker = await new RawClient(`${looking.ws}/${id}/design`, {
        headers: { 'x-role': 'maker' },
      }).join();
      const reader = await new RawClient(`${looking.ws}/${id}/design`).join();
      reader.edit((doc) => doc.getMap('meta').set('title', 'by the reader'));
      reader.send(message(0, 1, Y.encodeStateAsUpdate(reader.doc)));
      reader.mark(1);
      maker.edit((doc) => doc.getMap('meta').set('note', 'by the maker'));
      maker.mark(1);
      await maker.savedMark(1);
      await until('the reader reads on', () => reader.doc.getMap('meta').get('note') === 'by the maker');
      expect(maker.doc.getMap('meta').get('title')).not.toBe('by the reader');
      expect(reader.heard.some((one) => one.kind === 'saved')).toBe(false);
      expect(reader.closeCode).toBeNull();
      maker.close();
      reader.close();
    } finally {
      await looking.close();
    }
  });

  it('[V48] presence must carry the person the socket belongs to', async () => {
    const named = await startTestServer({
      authorize: async (asker) => ({
        role: 'co-maker',
        canWrite: true,
        personId: asker.headers['x-person'] ?? null,
        isAdmitted: true,
      }),
    });
    try {
      const id = await makeBoard(named);
      const url = `${named.ws}/${id}/design`;
      const ada = await new RawClient(url, { headers: { 'x-person': 'ada' } }).join();
      const bea = await new RawClient(url, { headers: { 'x-person': 'bea' } }).join();
      bea.send(presenceMessage([{ client: 5, clock: 1, state: '{"person":{"id":"ada"}}' }]));
      bea.send(presenceMessage([{ client: 5, clock: 2, state: '{"person":{"id":"bea"}}' }]));
      const heard = await ada.waitFor((one) => one.kind === 'presence' && one.entries.length > 0);
      expect(heard.kind === 'presence' && heard.entries[0]?.state).toEqual({ person: { id: 'bea' } });
      ada.close();
      bea.close();
    } finally {
      await named.close();
    }
  });

  it('[V49] a page of another origin opens no socket', async () => {
    const other = new RawClient(`${server.ws}/${board}/design`, { origin: 'https://elsewhere.example' });
    await expect(other.opened).rejects.toThrow('403');
    const own = new RawClient(`${server.ws}/${board}/design`, { origin: server.http });
    clients.push(own);
    await own.join();
  });
});

describe('more than there is room for', () => {
  it('[V52] sockets and boards beyond the limit are told so, and those inside go on', async () => {
    const small = await startTestServer({ env: { MAX_CONNECTIONS_PER_ADDRESS: '3', MAX_ROOMS: '1' } });
    const first = await makeBoard(small);
    const inside = await new RawClient(`${small.ws}/${first}/design`).join();
    const otherRoom = new RawClient(`${small.ws}/${first}/talk`);
    expect(await otherRoom.closed).toBe(4503);
    const more = await Promise.all([1, 2].map(() => new RawClient(`${small.ws}/${first}/design`).join()));
    expect(await new RawClient(`${small.ws}/${first}/design`).closed).toBe(4503);
    inside.mark(1);
    await inside.savedMark(1);
    for (const one of [inside, ...more]) one.close();
    await until('all are gone', () => small.rooms.connections.size === 0 && small.rooms.size === 0);
    const next = await new RawClient(`${small.ws}/${first}/talk`).join();
    next.close();
    await small.close();
  });

  it('[V52] an address that opens sockets faster than people do gets none', async () => {
    const small = await startTestServer({ env: { MAX_NEW_PER_ADDRESS: '5' } });
    const id = await makeBoard(small);
    const tries = Array.from({ length: 8 }, () => new RawClient(`${small.ws}/${id}/design`));
    const opened = await Promise.all(
      tries.map((one) =>
        one.opened.then(
          () => true,
          () => false,
        ),
      ),
    );
    expect(opened.filter(Boolean)).toHaveLength(5);
    for (const one of tries) one.close();
    await small.close();
  });

  it('[V41] an upgrade to an address that is none ends nothing', async () => {
    for (const target of ['//', '/sync/%%%/design', 'http://[', '/sync/../..', '*']) {
      const raw = connect(server.port, '127.0.0.1');
      raw.on('error', () => {});
      raw.write(
        `GET ${target} HTTP/1.1\r\nHost: x\r\nUpgrade: websocket\r\nConnection: Upgrade\r\n` +
          'Sec-WebSocket-Version: 13\r\nSec-WebSocket-Key: dGhlIHNhbXBsZSBub25jZQ==\r\n\r\n',
      );
      const answer = await new Promise<string>((resolve) =>
        raw.once('data', (data) => resolve(data.toString())),
      );
      expect(answer, target).toMatch(/^HTTP\/1.1 4/);
      raw.destroy();
    }
    await expectUntouched();
  });
});

describe('slow readers', () => {
  it('[V50] a reader that stops gets nothing more until it reads on, and then all of it', async () => {
    const slow = await client().join();
    const writer = await client().join();
    const socket = (slow.socket as unknown as { _socket: { pause(): void; resume(): void } })._socket;
    socket.pause();
    for (let i = 0; i < 12; i += 1) {
      writer.edit((doc) => doc.getMap('knots').set('big', bulk(700_000, i)));
      writer.mark(i + 1);
      await writer.savedMark(i + 1);
    }
    const queued = [...server.rooms.connections].length;
    expect(queued).toBeGreaterThan(0);
    expect(server.metrics.valueOf('larkboard_slow_readers_total')).toBe(1);
    socket.resume();
    await until(
      'it has the last edit',
      () => (slow.doc.getMap('knots').get('big') as { rows: number } | undefined)?.rows === 11,
    );
    // Fewer frames than edits: what was missed came as one.
    expect(slow.heard.filter((one) => one.kind === 'update').length).toBeLessThan(12);
    expect(slow.closeCode).toBeNull();
  });
});

it('[V45] a piece that was asked for takes nothing else with it past the limit of bytes', async () => {
  const other = await startTestServer({ env: { MAX_BYTES_PER_SECOND: '2048' } });
  const at = `${other.ws}/${await makeBoard(other)}/design`;
  const bring = async (padding: number): Promise<number | null> => {
    const one = new RawClient(at);
    clients.push(one);
    one.answers = false;
    await one.opened;
    // Somebody who holds another document, too large for a message.
    one.send(message(0, 0, Y.encodeStateVector(new Map([[5, 3]]))));
    for (let offset = 0; offset < 4; offset += 1) {
      const piece = encodeCopyPiece({ total: 100, offset, bytes: Uint8Array.of(0) });
      const more = offset === 0 ? new Uint8Array(0) : message(0, 2, new Uint8Array(padding));
      one.send(Buffer.concat([piece, more]));
      await one.reached();
    }
    return one.closeCode;
  };
  expect(await bring(100_000)).toBeNull();
  expect(await bring(LIMITS.copyPieceBytes + 100)).toBe(CLOSE_CODES.tooFast);
  await other.close();
});
