import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import { machineClock } from '../../../server/index.ts';
import { HandClock } from '../../support/hand-clock.ts';
import { until } from '../../support/until.ts';
import { message, presenceMessage, RawClient } from '../raw-client.ts';
import { makeBoard, startTestServer, stockMaker, type TestServer } from '../test-server.ts';

let server: TestServer;
let board: string;
const clients: RawClient[] = [];
const providers: { destroy(): void }[] = [];

function client(part = 'design', id = board): RawClient {
  const made = new RawClient(`${server.ws}/${id}/${part}`);
  clients.push(made);
  return made;
}

beforeEach(async () => {
  server = await startTestServer();
  board = await makeBoard(server);
});

afterEach(async () => {
  for (const provider of providers.splice(0)) provider.destroy();
  for (const one of clients.splice(0)) one.close();
  await server.close();
});

describe('any y-websocket client', () => {
  it('[V20] two stock providers join and have the same document', async () => {
    const a = stockMaker(server, `${board}/design`);
    const b = stockMaker(server, `${board}/design`);
    providers.push(a.provider, b.provider);
    await until('both synced', () => a.provider.synced && b.provider.synced);
    expect(a.doc.getMap('meta').size).toBeGreaterThan(0);
    a.doc.getMap('meta').set('fromA', 1);
    b.doc.getMap('meta').set('fromB', 2);
    await until('both edits everywhere', () =>
      [a, b].every(
        ({ doc }) => doc.getMap('meta').get('fromA') === 1 && doc.getMap('meta').get('fromB') === 2,
      ),
    );
    expect(Y.encodeStateVector(a.doc)).toEqual(Y.encodeStateVector(b.doc));
  });

  it('[V20] edits made offline come in with the reconnection', async () => {
    const a = stockMaker(server, `${board}/design`);
    const b = stockMaker(server, `${board}/design`);
    providers.push(a.provider, b.provider);
    await until('both synced', () => a.provider.synced && b.provider.synced);
    a.provider.disconnect();
    const before = a.doc.getArray('rowPairs').length;
    a.doc.getArray('rowPairs').push(['made.offline']);
    b.doc.getArray('rowPairs').push(['made.meanwhile']);
    a.provider.connect();
    await until('the same rows', () =>
      [a, b].every(({ doc }) => doc.getArray('rowPairs').length === before + 2),
    );
    expect(a.doc.getArray('rowPairs').toJSON()).toEqual(b.doc.getArray('rowPairs').toJSON());
  });

  it('[V21] names are shown to the others and go with the socket', async () => {
    const a = stockMaker(server, `${board}/design`);
    const b = stockMaker(server, `${board}/design`);
    providers.push(a.provider, b.provider);
    a.provider.awareness.setLocalState({ person: { id: 'a', name: 'Ada', hex: '#112233' } });
    await until('b sees a', () => b.provider.awareness.getStates().has(a.doc.clientID));
    a.provider.destroy();
    await until('b sees a gone', () => !b.provider.awareness.getStates().has(a.doc.clientID));
  });

  it('[V22] edits of one turn of the event loop reach the others as one frame', async () => {
    const [a, b] = [await client().join(), await client().join()];
    const before = b.heard.length;
    // One TCP packet: all frames are read in one turn.
    (a.socket as unknown as { _socket: { cork(): void; uncork(): void } })._socket.cork();
    for (let i = 0; i < 20; i += 1) a.edit((doc) => doc.getMap('meta').set(`k${i}`, i));
    (a.socket as unknown as { _socket: { cork(): void; uncork(): void } })._socket.uncork();
    await until('b has all', () => b.doc.getMap('meta').get('k19') === 19);
    const frames = b.heard.slice(before).filter((one) => one.kind === 'update');
    expect(frames.length).toBeLessThanOrEqual(3);
  });
});

describe('saved marks', () => {
  it('[V23] a mark is answered, and the edit before it is in the store then', async () => {
    const a = await client().join();
    a.edit((doc) => doc.getMap('meta').set('title', 'saved'));
    a.mark(7);
    await a.savedMark(7);
    const stored = new Y.Doc();
    for (const row of await server.store.load({ board, part: 'design' })) Y.applyUpdate(stored, row.bytes);
    expect(stored.getMap('meta').get('title')).toBe('saved');
  });

  it('[V23] a mark with nothing to save is answered too', async () => {
    const a = await client().join();
    a.mark(1);
    await a.savedMark(1);
  });

  it('[V24] clients that use no kind of ours hear none', async () => {
    const a = await client().join();
    a.edit((doc) => doc.getMap('meta').set('x', 1));
    await until('stored', async () => (await server.store.load({ board, part: 'design' })).length > 1);
    expect(a.heard.some((one) => one.kind === 'saved' || one.kind === 'notice')).toBe(false);
  });

  it('[V25] edits made before the first exchange are asked for, not refused, and the mark waits for them', async () => {
    const a = client();
    await a.opened;
    a.answers = false;
    a.doc.getMap('meta').set('offline', 'kept');
    // The second edit builds on the first, which the server has not got yet.
    a.edit((doc) => doc.getMap('meta').set('offline', 'kept 2'));
    a.mark(1);
    await a.waitFor((one) => one.kind === 'step1');
    await until('asked again', () => a.heard.filter((one) => one.kind === 'step1').length >= 2);
    expect(a.heard.some((one) => one.kind === 'saved')).toBe(false);
    a.send(message(0, 1, Y.encodeStateAsUpdate(a.doc)));
    await a.savedMark(1);
    const other = await client().join();
    expect(other.doc.getMap('meta').get('offline')).toBe('kept 2');
    expect(a.closeCode).toBeNull();
  });
});

describe('rooms', () => {
  it('[V26] a room is gone when the last has left, and the next one finds everything', async () => {
    const a = await client().join();
    a.edit((doc) => doc.getMap('meta').set('left', 'behind'));
    a.mark(1);
    await a.savedMark(1);
    expect(server.rooms.size).toBe(1);
    a.close();
    await until('no room open', () => server.rooms.size === 0 && server.rooms.connections.size === 0);
    const b = await client().join();
    expect(b.doc.getMap('meta').get('left')).toBe('behind');
  });

  it('[V26] edits not yet stored when the last leaves are stored all the same', async () => {
    const a = await client().join();
    a.edit((doc) => doc.getMap('meta').set('hasty', true));
    a.socket.close();
    await until('no room open', () => server.rooms.size === 0);
    const b = await client().join();
    expect(b.doc.getMap('meta').get('hasty')).toBe(true);
  });

  it('[V27] a long log becomes one snapshot when the room closes', async () => {
    const a = await client().join();
    for (let i = 0; i < 30; i += 1) {
      a.edit((doc) => doc.getMap('meta').set('n', i));
      a.mark(i);
      await a.savedMark(i);
    }
    expect((await server.store.load({ board, part: 'design' })).length).toBeGreaterThan(20);
    a.close();
    await until('no room open', () => server.rooms.size === 0);
    expect(await server.store.load({ board, part: 'design' })).toHaveLength(1);
    const b = await client().join();
    expect(b.doc.getMap('meta').get('n')).toBe(29);
  });

  it('[V32] a quiet room keeps only the encoded document, and works as before when somebody comes or edits', async () => {
    const clock = new HandClock(machineClock);
    const quiet = await startTestServer({ clock, env: { ASIDE_MS: '4000' } });
    const id = await makeBoard(quiet);
    const a = await new RawClient(`${quiet.ws}/${id}/design`).join();
    const hold = await quiet.rooms.hold({ board: id, part: 'design' });
    a.edit((doc) => doc.getMap('meta').set('n', 1));
    a.mark(1);
    await a.savedMark(1);
    expect(hold.room.isAside).toBe(true);
    // Also a room that needed no Y.Doc yet lets go of what it knows of the document; it reads that anew for the next edit.
    clock.turn(5_000);
    expect(hold.room.isAside).toBe(true);
    const b = await new RawClient(`${quiet.ws}/${id}/design`).join();
    expect(hold.room.isAside).toBe(true);
    expect(Y.encodeStateAsUpdate(b.doc)).toEqual(Y.encodeStateAsUpdate(a.doc));
    b.edit((doc) => doc.getMap('meta').set('n', 2));
    b.mark(1);
    await b.savedMark(1);
    expect(hold.room.isAside).toBe(true);
    expect(a.doc.getMap('meta').get('n')).toBe(2);
    expect(hold.room.doc.getMap('meta').get('n')).toBe(2);
    expect(hold.room.isAside).toBe(false);
    a.edit((doc) => doc.getMap('meta').set('n', 3));
    a.mark(2);
    await a.savedMark(2);
    expect(hold.room.isAside).toBe(false);
    // Rooms are looked after every five seconds.
    clock.turn(5_000);
    expect(hold.room.isAside).toBe(true);
    const c = await new RawClient(`${quiet.ws}/${id}/design`).join();
    expect(c.doc.getMap('meta').get('n')).toBe(3);
    c.close();
    hold.release();
    a.close();
    b.close();
    await quiet.close();
  });

  it('[V32] a document that was worked out for somebody who only came back is let go of as well', async () => {
    const clock = new HandClock(machineClock);
    const quiet = await startTestServer({ clock, env: { ASIDE_MS: '4000' } });
    const id = await makeBoard(quiet);
    const hold = await quiet.rooms.hold({ board: id, part: 'design' });
    for (const time of ['the first time', 'once more']) {
      // What somebody holds is compared with the document itself.
      hold.room.answerStep1(hold.room.stateVector());
      expect(hold.room.isAside, time).toBe(false);
      clock.turn(5_000);
      expect(hold.room.isAside, time).toBe(true);
    }
    hold.release();
    await quiet.close();
  });

  it('[V28] an unknown board and an unknown part are refused', async () => {
    expect(await client('design', 'no-such-board').closed).toBe(4404);
    // A board has no document of a lesson, and no class any more.
    expect(await client('lesson').closed).toBe(4404);
    for (const part of ['secrets', 'class']) await expect(client(part).opened).rejects.toThrow('404');
  });

  it('[V29] the documents of a board are apart', async () => {
    const design = await client('design').join();
    const other = await client('talk').join();
    design.edit((doc) => doc.getMap('meta').set('remark', 1));
    design.mark(1);
    await design.savedMark(1);
    other.mark(1);
    await other.savedMark(1);
    expect(other.doc.getMap('meta').has('remark')).toBe(false);
  });
});

describe('presence', () => {
  const state = (id: string): string => JSON.stringify({ person: { id, name: id, hex: '#000000' } });

  it('[V30] a socket has one id; forged ids are passed over', async () => {
    const [a, b] = [await client().join(), await client().join()];
    a.send(presenceMessage([{ client: 1, clock: 1, state: state('a') }]));
    const forged = Array.from({ length: 500 }, (_, i) => ({ client: 1000 + i, clock: 1, state: state('x') }));
    a.send(presenceMessage(forged));
    b.send(presenceMessage([{ client: 2, clock: 1, state: state('b') }]));
    await a.waitFor((one) => one.kind === 'presence' && one.entries.some((entry) => entry.client === 2));
    const late = await client().join();
    late.send(message(3));
    const heard = await late.waitFor((one) => one.kind === 'presence' && one.entries.length >= 2);
    expect(heard.kind === 'presence' && heard.entries.map((entry) => entry.client).sort()).toEqual([1, 2]);
  });

  it('[V30] nobody removes or replaces another', async () => {
    const [a, b] = [await client().join(), await client().join()];
    a.send(presenceMessage([{ client: 1, clock: 1, state: state('a') }]));
    await b.waitFor((one) => one.kind === 'presence' && one.entries.some((entry) => entry.client === 1));
    b.send(presenceMessage([{ client: 1, clock: 99, state: 'null' }]));
    b.send(presenceMessage([{ client: 1, clock: 99, state: state('b speaking for a') }]));
    b.send(presenceMessage([{ client: 2, clock: 1, state: state('b') }]));
    await a.waitFor((one) => one.kind === 'presence' && one.entries.some((entry) => entry.client === 2));
    const late = await client().join();
    const heard = await late.waitFor((one) => one.kind === 'presence' && one.entries.length === 2);
    const first = heard.kind === 'presence' ? heard.entries.find((entry) => entry.client === 1) : null;
    expect(first?.state).toEqual(JSON.parse(state('a')));
  });

  it('[V31] a state too large or not JSON closes the socket', async () => {
    const a = await client().join();
    a.send(presenceMessage([{ client: 1, clock: 1, state: JSON.stringify({ x: 'y'.repeat(5000) }) }]));
    expect(await a.closed).toBe(4413);
    const b = await client().join();
    b.send(presenceMessage([{ client: 1, clock: 1, state: '{"x":' }]));
    expect(await b.closed).toBe(4400);
  });
});
