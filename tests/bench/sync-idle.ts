/** What rooms take in memory: open and quiet, and after everybody has left. */
import WebSocket from 'ws';
import { message, presenceMessage } from '../server/raw-client.ts';
import { until } from '../support/until.ts';
import type { BenchServer, ServerName } from './sync-servers.ts';

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

/** Those who are in the rooms of a server. */
interface Visit {
  readonly server: BenchServer;
  readonly guests: Guest[];
}

async function leaveAll({ server, guests }: Visit): Promise<void> {
  for (const { socket } of guests.splice(0)) socket.terminate();
  await server.untilLeft(0);
}

/**
 * Waits until the rooms are quiet on all servers. Ours does something about that: it keeps a document that nobody edits only encoded, and
 * has done so by the time it breaks the silence, with default limits. The others do nothing more, and are left alone for as long.
 */
async function untilQuiet(visits: readonly Visit[]): Promise<void> {
  await until('our server has kept each line open', () => {
    for (const { server, guests } of visits) requireOpen(server, guests);
    return visits.every(
      ({ server, guests }) =>
        server.name !== 'ours' || guests.every(({ hasHeardSilence }) => hasHeardSilence),
    );
  });
}

/** Opens the first rooms and leaves them, and reads the memory, as often as `isEnough` lets it. @returns the highest reading */
async function highestOf(
  visit: Visit,
  rooms: number,
  isEnough: (readings: readonly number[]) => boolean,
): Promise<number> {
  const readings: number[] = [];
  do {
    visit.guests.push(...(await enterAll(visit.server, 0, rooms)));
    await leaveAll(visit);
    readings.push(await visit.server.settledKiB());
  } while (!isEnough(readings));
  return Math.max(...readings);
}

/** How often rooms are closed for what they leave behind. */
const TIMES = 5;
/** Memory that still grows after so many times is not that of free space. */
const MOST_TIMES = 12;

/** Whether the last reading is no higher than one before. */
function isFull(readings: readonly number[]): boolean {
  const last = readings.at(-1)!;
  return readings.length >= MOST_TIMES || readings.slice(0, -1).some((earlier) => earlier >= last);
}

/**
 * Resident memory of servers, before and after; their rooms were made by an earlier process. What a room takes is read between
 * the first third of them and all: what a server takes once, for code and for the space its heap works in, is there by then. The
 * garbage is collected before each reading, since when it is otherwise is up to the moment.
 * What closed rooms leave behind shows when they are opened again and again: the first times only fill the heap's free space, until a reading is
 * no higher than those before. It goes up and down by some MB from time to time, so the highest readings are compared.
 */
export async function measureIdle(
  servers: readonly BenchServer[],
  rooms: number,
): Promise<ReadonlyMap<ServerName, IdleResult>> {
  const third = Math.floor(rooms / 3);
  const visits = servers.map((server): Visit => ({ server, guests: [] }));
  const onEach = <T>(act: (visit: Visit) => Promise<T>): Promise<T[]> => Promise.all(visits.map(act));
  const enter = (from: number, to: number): Promise<unknown> =>
    onEach(async ({ server, guests }) => guests.push(...(await enterAll(server, from, to))));
  const read = (): Promise<number[]> => onEach(({ server }) => server.settledKiB());

  await enter(0, third);
  await untilQuiet(visits);
  const atFirst = await read();
  await enter(third, rooms);
  await untilQuiet(visits);
  const withAll = await read();
  await onEach(leaveAll);
  const before = await onEach((visit) => highestOf(visit, third, isFull));
  const after = await onEach((visit) => highestOf(visit, third, ({ length }) => length === TIMES));
  return new Map(
    servers.map(({ name }, i) => [
      name,
      {
        perOpenRoomKiB: (withAll[i]! - atFirst[i]!) / (rooms - third),
        perClosedRoomKiB: (after[i]! - before[i]!) / (TIMES * third),
      },
    ]),
  );
}
