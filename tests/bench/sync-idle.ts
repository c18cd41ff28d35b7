/** What rooms take in memory: open and quiet, and after everybody has left. */
import WebSocket from 'ws';
import { message, presenceMessage } from '../server/raw-client.ts';
import { until } from '../support/until.ts';
import type { BenchServer } from './sync-servers.ts';

/** Number of the first room used here; other rows use lower ones. */
export const FIRST_IDLE_ROOM = 1_000;

export interface IdleResult {
  readonly perOpenRoomKiB: number;
  readonly perClosedRoomKiB: number;
}

interface Guest {
  readonly socket: WebSocket;
  /** Whether the server has said the word that keeps a line open on which nothing was said for long. */
  hasHeardSilence: boolean;
}

/** Presence of nobody, which is that word: nobody here asks for presence, and each shows somebody. */
const SILENCE = Buffer.from(presenceMessage([]));

/** Opens each room with one client, who asks for the document and shows who they are, as stock clients do. */
async function enterAll(server: BenchServer, from: number, to: number): Promise<Guest[]> {
  const guests: Guest[] = [];
  for (let i = from; i < to; i += 1) {
    const socket = new WebSocket(await server.roomUrl(FIRST_IDLE_ROOM + i), { perMessageDeflate: false });
    const guest: Guest = { socket, hasHeardSilence: false };
    socket.on('message', (data: Buffer) => {
      guest.hasHeardSilence ||= SILENCE.equals(data);
    });
    await new Promise((resolve, reject) => {
      socket.once('open', resolve);
      socket.once('error', reject);
    });
    socket.send(message(0, 0, new Uint8Array([0])));
    socket.send(
      presenceMessage([{ client: 1 + i, clock: 1, state: `{"person":{"id":"p${i}","name":"P"}}` }]),
    );
    guests.push(guest);
  }
  requireOpen(server, guests);
  return guests;
}

/** Who was turned away would take no memory. */
function requireOpen(server: BenchServer, guests: readonly Guest[]): void {
  const closed = guests.filter(({ socket }) => socket.readyState !== WebSocket.OPEN).length;
  if (closed > 0) throw new Error(`${server.name} closed ${closed} of ${guests.length} sockets`);
}

async function leaveAll(server: BenchServer, guests: readonly Guest[]): Promise<void> {
  for (const { socket } of guests) socket.terminate();
  await server.untilLeft(0);
}

/**
 * Waits until the rooms are quiet. Ours does something about that: it keeps a document that nobody edits only encoded, and has done so
 * by the time it breaks the silence, with default limits. The others do nothing more once they have answered.
 */
async function untilQuiet(server: BenchServer, guests: readonly Guest[]): Promise<void> {
  if (server.name !== 'ours') return;
  await until('the server has kept each line open', () => {
    requireOpen(server, guests);
    return guests.every(({ hasHeardSilence }) => hasHeardSilence);
  });
}

/**
 * Resident memory of a server, before and after; its rooms were made by an earlier process. What a room takes is read between
 * the first third of them and all: what a server takes once, for code and for the space its heap works in, is there by then. The
 * garbage is collected before each reading, since when it is otherwise is up to the moment.
 * What closed rooms leave behind shows when they are opened again and again: the first times only fill the heap's free space.
 */
export async function measureIdle(server: BenchServer, rooms: number): Promise<IdleResult> {
  const third = Math.floor(rooms / 3);
  const guests = await enterAll(server, 0, third);
  await untilQuiet(server, guests);
  const atFirst = await server.settledKiB();
  guests.push(...(await enterAll(server, third, rooms)));
  await untilQuiet(server, guests);
  const perOpenRoomKiB = ((await server.settledKiB()) - atFirst) / (rooms - third);
  await leaveAll(server, guests);
  for (let i = 0; i < 3; i += 1) await leaveAll(server, await enterAll(server, 0, third));
  const before = await server.settledKiB();
  for (let i = 0; i < 5; i += 1) await leaveAll(server, await enterAll(server, 0, third));
  return { perOpenRoomKiB, perClosedRoomKiB: ((await server.settledKiB()) - before) / (5 * third) };
}
