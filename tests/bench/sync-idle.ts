/** What rooms take in memory: open and quiet, and after everybody has left. */
import WebSocket from 'ws';
import { message, presenceMessage } from '../server/raw-client.ts';
import { type BenchServer, residentKiB } from './sync-servers.ts';

/** Number of the first room used here; other rows use lower ones. */
export const FIRST_IDLE_ROOM = 1_000;

export interface IdleResult {
  readonly perOpenRoomKiB: number;
  readonly perClosedRoomKiB: number;
}

/** Opens each room with one client, who asks for the document and shows who they are, as stock clients do. */
async function enterAll(server: BenchServer, from: number, to: number): Promise<WebSocket[]> {
  const sockets: WebSocket[] = [];
  for (let i = from; i < to; i += 1) {
    const socket = new WebSocket(await server.roomUrl(FIRST_IDLE_ROOM + i), { perMessageDeflate: false });
    socket.on('message', () => {});
    await new Promise((resolve, reject) => {
      socket.once('open', resolve);
      socket.once('error', reject);
    });
    socket.send(message(0, 0, new Uint8Array([0])));
    socket.send(
      presenceMessage([{ client: 1 + i, clock: 1, state: `{"person":{"id":"p${i}","name":"P"}}` }]),
    );
    sockets.push(socket);
  }
  // Who was turned away would take no memory.
  const closed = sockets.filter((socket) => socket.readyState !== WebSocket.OPEN).length;
  if (closed > 0) throw new Error(`${server.name} closed ${closed} of ${sockets.length} sockets`);
  return sockets;
}

async function leaveAll(sockets: readonly WebSocket[]): Promise<void> {
  for (const socket of sockets) socket.terminate();
  await new Promise((resolve) => setTimeout(resolve, 800));
}

/** Resident memory once the garbage was collected. */
async function collectedKiB(server: BenchServer): Promise<number> {
  await server.collect();
  await server.collect();
  return residentKiB(server.pid);
}

/**
 * Resident memory of a server, before and after; its rooms were made by an earlier process. What a room takes is read between
 * the first third of them and all: what a server takes once, for code and for the space its heap works in, is there by then. The
 * garbage is collected before each reading, since when it is otherwise is up to the moment.
 * What closed rooms leave behind shows when they are opened again and again: the first times only fill the heap's free space.
 */
export async function measureIdle(server: BenchServer, rooms: number, quietMs: number): Promise<IdleResult> {
  const quiet = (): Promise<void> => new Promise((resolve) => setTimeout(resolve, quietMs));
  const third = Math.floor(rooms / 3);
  const sockets = await enterAll(server, 0, third);
  await quiet();
  const atFirst = await collectedKiB(server);
  sockets.push(...(await enterAll(server, third, rooms)));
  await quiet();
  const perOpenRoomKiB = ((await collectedKiB(server)) - atFirst) / (rooms - third);
  await leaveAll(sockets);
  for (let i = 0; i < 3; i += 1) await leaveAll(await enterAll(server, 0, third));
  const before = await collectedKiB(server);
  for (let i = 0; i < 5; i += 1) await leaveAll(await enterAll(server, 0, third));
  return { perOpenRoomKiB, perClosedRoomKiB: ((await collectedKiB(server)) - before) / (5 * third) };
}
