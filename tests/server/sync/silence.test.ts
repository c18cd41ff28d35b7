import { subscribe, unsubscribe } from 'node:diagnostics_channel';
import type { Socket } from 'node:net';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { HandClock } from '../../support/hand-clock.ts';
import { until } from '../../support/until.ts';
import type { RawClient } from '../raw-client.ts';
import { RawClient as Client, message } from '../raw-client.ts';
import { makeBoard, startTestServer, type TestServer } from '../test-server.ts';

let server: TestServer;
let board: string;
let now = 1_000_000;

beforeAll(async () => {
  // Its clock stands still: rooms look after nobody but when a test does.
  server = await startTestServer({ clock: new HandClock(), now: () => now });
  board = await makeBoard(server);
});

afterAll(async () => {
  await server.close();
});

/** What the rooms do every five seconds. */
function tick(afterMs: number): void {
  now += afterMs;
  for (const connection of server.rooms.connections) connection.tick();
}

async function join(): Promise<{ client: RawClient; pings: () => number }> {
  const client = await new Client(`${server.ws}/${board}/design`).join();
  let pings = 0;
  client.socket.on('ping', () => {
    pings += 1;
  });
  return { client, pings: () => pings };
}

/** Fulfils when everything the server has sent so far is here. */
async function settled(client: RawClient, mark: number): Promise<void> {
  client.mark(mark);
  await client.savedMark(mark);
}

it('[V190] who says something is not asked whether they are there; who is silent for 16 s is, and may answer', async () => {
  const { client, pings } = await join();
  for (let step = 1; step <= 8; step += 1) {
    tick(5_000);
    await settled(client, step);
  }
  expect(pings()).toBe(0);
  tick(5_000);
  tick(5_000);
  tick(7_000);
  await until('the ping', () => pings() === 1);
  // `ws` answers by itself; then nothing is amiss for another 16 s.
  await settled(client, 9);
  tick(15_000);
  await settled(client, 10);
  expect([pings(), client.closeCode]).toEqual([1, null]);
  client.close();
  await until('the room is empty', () => server.rooms.connections.size === 0);
});

it('[V190] who does not answer for 15 s is cut off', async () => {
  const { client } = await join();
  // Whoever's machine sleeps hears nothing and answers nothing, and the line stays open.
  (client.socket as unknown as { _socket: { pause(): void } })._socket.pause();
  tick(17_000);
  tick(14_000);
  expect(server.rooms.connections.size).toBe(1);
  tick(2_000);
  await until('the line is cut', () => server.rooms.connections.size === 0);
  expect(server.metrics.valueOf('larkboard_terminated_total', { reason: 'unanswered' })).toBe(1);
  client.close();
});

it('[V190] a reader to whom nothing was said for 20 s hears an empty presence, which stock clients count as life', async () => {
  const { client } = await join();
  const before = client.heard.length;
  for (let step = 0; step < 4; step += 1) tick(5_000);
  await until('a word', () => client.heard.length > before);
  expect(client.heard.slice(before)).toEqual([{ kind: 'presence', entries: [] }]);
  client.send(message(3));
  await settled(client, 1);
  client.close();
  await until('the room is empty', () => server.rooms.connections.size === 0);
});

it('[V335] who is silent is asked and cut off also when the clock was set back meanwhile', async () => {
  const { client, pings } = await join();
  now -= 1_000_000;
  tick(0);
  tick(17_000);
  await until('the ping', () => pings() === 1);
  (client.socket as unknown as { _socket: { pause(): void } })._socket.pause();
  await until('the answer to it was heard', () => {
    tick(17_000);
    return server.rooms.connections.size === 0;
  });
});

it('[V190] who is sending a message that takes its time is not silent, until nothing of it comes any more', async () => {
  const ends: Socket[] = [];
  const note = (message: unknown): unknown => ends.push((message as { readonly socket: Socket }).socket);
  subscribe('net.server.socket', note);
  const { client, pings } = await join();
  unsubscribe('net.server.socket', note);
  const own = (client.socket as unknown as { _socket: Socket })._socket;
  const end = ends.find(({ remotePort }) => remotePort === own.localPort)!;
  const sendSome = async (bytes: Uint8Array): Promise<void> => {
    const before = end.bytesRead;
    own.write(bytes);
    await until('it has come', () => end.bytesRead >= before + bytes.length);
  };
  // The head of a frame of 60,000 bytes (RFC 6455, 5.2), with a mask of noughts.
  await sendSome(Uint8Array.of(0x82, 0xfe, 60_000 >> 8, 60_000 & 0xff, 0, 0, 0, 0));
  for (let times = 0; times < 12; times += 1) {
    tick(5_000);
    await sendSome(new Uint8Array(100));
  }
  expect([pings(), client.closeCode]).toEqual([0, null]);
  // It stops; the answer to the ping would stand behind the message, and is waited for as long as that goes on.
  tick(5_000);
  for (let times = 0; times < 4; times += 1) tick(5_000);
  await until('the ping', () => pings() === 1);
  for (let times = 0; times < 4; times += 1) {
    await sendSome(new Uint8Array(100));
    tick(10_000);
  }
  expect(server.rooms.connections.size).toBe(1);
  for (let times = 0; times < 4; times += 1) tick(5_000);
  await until('the line is cut', () => server.rooms.connections.size === 0);
  client.close();
});
