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
async function enterAll(server: BenchServer, rooms: number): Promise<WebSocket[]> {
  const sockets: WebSocket[] = [];
  for (let i = 0; i < rooms; i += 1) {
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
  return sockets;
}

async function leaveAll(sockets: readonly WebSocket[]): Promise<void> {
  for (const socket of sockets) socket.terminate();
  await new Promise((resolve) => setTimeout(resolve, 800));
}

/**
 * Resident memory of a server that has just been started, before and after; its rooms were made by an earlier process.
 * What closed rooms leave behind shows when they are opened again and again: the first times only fill the heap's free space.
 */
export async function measureIdle(server: BenchServer, rooms: number, quietMs: number): Promise<IdleResult> {
  const atFirst = residentKiB(server.pid);
  const sockets = await enterAll(server, rooms);
  await new Promise((resolve) => setTimeout(resolve, quietMs));
  const perOpenRoomKiB = (residentKiB(server.pid) - atFirst) / rooms;
  await leaveAll(sockets);
  for (let i = 0; i < 3; i += 1) await leaveAll(await enterAll(server, rooms));
  const before = residentKiB(server.pid);
  for (let i = 0; i < 5; i += 1) await leaveAll(await enterAll(server, rooms));
  return { perOpenRoomKiB, perClosedRoomKiB: (residentKiB(server.pid) - before) / (5 * rooms) };
}
