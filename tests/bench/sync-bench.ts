/**
 * This server against a plain relay and a peer (@y/websocket-server 0.1.1, which stores nothing), each as its own process,
 * the clients here. All three run at the same time and are measured in turn, warmed up, over several rounds; the figures
 * are the medians, as ratios to the relay. `SYNC_BENCH_WRITE=1` also writes sync-bench.md with each bound, held or not.
 * `SYNC_BENCH_OTHER` names the folder of another checkout, built, whose server is measured in the same rounds.
 */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type WebSocket from 'ws';
import { FIRST_IDLE_ROOM, measureIdle } from './sync-idle.ts';
import { bringDocument, timeJoins, wornDocument } from './sync-join.ts';
import { Load, type LoadResult, mostEdits } from './sync-load.ts';
import { writeResult } from './sync-results.ts';
import {
  type BenchServer,
  buildRelay,
  isOurs,
  SERVER_NAMES,
  type ServerName,
  startBenchServer,
} from './sync-servers.ts';
import { BOUNDS, Table } from './sync-table.ts';

const ROUNDS = Number(process.env.SYNC_BENCH_ROUNDS ?? 5);
const SECONDS = Number(process.env.SYNC_BENCH_SECONDS ?? 2.5);
const IDLE_ROOMS = Number(process.env.SYNC_BENCH_ROOMS ?? 3000);
/** Of the parts that take longest. */
const FEW = 2;
/** Which parts to run, by their first letters: idle, loads, most, joins. */
const PARTS = process.env.SYNC_BENCH_PARTS ?? 'ilmj';

const table = new Table();
const say = (text: string): void => {
  process.stdout.write(`${text}\n`);
};

/** Starts one of each, lets them be used, and stops them. */
async function withServers(
  options: { readonly docFile: string; readonly rooms?: number; readonly isCollectable?: boolean },
  use: (servers: readonly BenchServer[]) => Promise<void>,
): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), 'larkboard-bench-'));
  const boards = new Map<string, string>();
  const open = (name: ServerName): Promise<BenchServer> =>
    startBenchServer(name, { ...options, folder, boards });
  if (options.rooms !== undefined) {
    // The rooms are made by a process of their own, so that the one that is measured has only ever held them open.
    for (const name of SERVER_NAMES.filter(isOurs)) {
      const maker = await open(name);
      for (let i = 0; i < options.rooms; i += 1) await maker.roomUrl(FIRST_IDLE_ROOM + i);
      await maker.stop();
    }
  }
  const servers: BenchServer[] = [];
  try {
    for (const name of SERVER_NAMES) servers.push(await open(name));
    await use(servers);
  } finally {
    for (const server of servers) await server.stop();
    rmSync(folder, { recursive: true, force: true });
  }
}

async function idle(docFile: string): Promise<void> {
  for (let round = 0; round < FEW; round += 1)
    await withServers({ docFile, rooms: IDLE_ROOMS, isCollectable: true }, async (servers) => {
      for (const [name, { perOpenRoomKiB, perClosedRoomKiB }] of await measureIdle(servers, IDLE_ROOMS)) {
        table.note('rss-open', name, perOpenRoomKiB);
        table.note('rss-closed', name, perClosedRoomKiB);
      }
      say(`idle rooms, round ${round + 1}`);
    });
}

interface LoadPlan {
  readonly rooms: number;
  readonly perRoom: number;
  /** Number of its first room; no two loads share one. */
  readonly first: number;
  readonly rate: number;
  readonly seconds: number;
  /** What it is warmed up with: enough edits that the hot paths are compiled on every server. */
  readonly warmRate: number;
  readonly note: (name: ServerName, load: LoadResult) => void;
}

/** Notes how long an edit takes to the others, and processor time of each delivery in µs. */
function noteWaits(row: '30' | '50'): LoadPlan['note'] {
  return (name, load) => {
    table.note(`p50-${row}`, name, load.p50Ms);
    table.note(`cpu-${row}`, name, (load.cpuSeconds / load.deliveries) * 1e6);
  };
}

const LOADS: readonly LoadPlan[] = [
  {
    rooms: 1,
    perRoom: 30,
    first: 0,
    rate: 20,
    seconds: 2 * SECONDS,
    warmRate: 400,
    note: noteWaits('30'),
  },
  {
    rooms: 50,
    perRoom: 4,
    first: 100,
    rate: 500,
    seconds: SECONDS,
    warmRate: 1000,
    note: noteWaits('50'),
  },
  {
    rooms: 1,
    perRoom: 4,
    first: 200,
    rate: 4000,
    seconds: SECONDS,
    warmRate: 4000,
    note: (name, load) => table.note('busy-4', name, load.deliveries / load.cpuSeconds),
  },
];
const WARM_SECONDS = 12;

/** Each load on servers of its own, with no sockets open but those of the load. */
async function loads(docFile: string): Promise<void> {
  for (const plan of LOADS)
    await withServers({ docFile }, async (servers) => {
      const all: { readonly server: BenchServer; readonly load: Load }[] = [];
      for (const server of servers)
        all.push({ server, load: await Load.open(server, plan.rooms, plan.perRoom, plan.first) });
      for (const { load } of all) await load.run(plan.warmRate, WARM_SECONDS);
      for (let round = 0; round < ROUNDS; round += 1) {
        // Who comes first changes, so that nobody always follows the same.
        for (const { server, load } of all.map((_, index) => all[(index + round) % all.length]!)) {
          await load.run(plan.rate, 0.5);
          plan.note(server.name, await load.run(plan.rate, plan.seconds));
        }
        say(`${plan.rooms} rooms x ${plan.perRoom}, round ${round + 1} of ${ROUNDS}`);
      }
      for (const { load } of all) await load.close();
    });
}

async function most(docFile: string): Promise<void> {
  for (let round = 0; round < FEW; round += 1)
    await withServers({ docFile }, async (servers) => {
      for (const server of servers) {
        const one = await Load.open(server, 1, 30, 0);
        await one.run(200, 1);
        table.note('most-30', server.name, await mostEdits(one, 500, 1));
        await one.close();
        const four = await Load.open(server, 1, 4, 200);
        await four.run(500, 1);
        table.note('most-4', server.name, await mostEdits(four, 2000, 1));
        await four.close();
      }
      say(`most edits, round ${round + 1}`);
    });
}

async function joins(docFile: string, worn: Uint8Array): Promise<void> {
  for (let round = 0; round < FEW; round += 1)
    await withServers({ docFile }, async (servers) => {
      const urls = new Map<ServerName, string>();
      const keepers: { readonly server: BenchServer; readonly socket: WebSocket }[] = [];
      for (const server of servers) {
        const url = await server.roomUrl(900, true);
        urls.set(server.name, url);
        keepers.push({ server, socket: await bringDocument(server, url, worn) });
      }
      const join = (server: BenchServer, staying: number, crowds: number): ReturnType<typeof timeJoins> =>
        timeJoins(server, urls.get(server.name)!, staying, 30, crowds);
      for (const server of servers) await join(server, 1, 1);
      for (const server of servers) {
        const { one, crowdMs } = await join(server, 1, 3);
        table.note('kept-ms', server.name, one.ms);
        table.note('kept-bytes', server.name, one.bytes);
        table.note('kept-30', server.name, crowdMs);
      }
      // Everybody leaves; whoever renews documents does it now. The peer stores nothing and would have no document then.
      const stay = ({ name }: BenchServer): number => (name === 'peer' ? 1 : 0);
      for (const { server, socket } of keepers) if (stay(server) === 0) socket.terminate();
      for (const server of servers) await server.untilLeft(stay(server));
      for (const server of servers) await join(server, stay(server), 1);
      for (let turn = 0; turn < 2; turn += 1)
        for (const server of servers) {
          const { one, crowdMs } = await join(server, stay(server), 3);
          table.note('join-ms', server.name, one.ms);
          table.note('join-bytes', server.name, one.bytes);
          table.note('join-30', server.name, crowdMs);
        }
      say(`joins, round ${round + 1}`);
    });
}

const { worn, fresh } = wornDocument(Number(process.env.SYNC_BENCH_OVERWRITES ?? 50_000));
const docFile = join(tmpdir(), `larkboard-bench-doc-${process.pid}`);
writeFileSync(docFile, fresh);
say(`worn document ${worn.length} bytes, the same board without its past ${fresh.length} bytes`);
await buildRelay();
if (PARTS.includes('l')) await loads(docFile);
if (PARTS.includes('m')) await most(docFile);
if (PARTS.includes('j')) await joins(docFile, worn);
if (PARTS.includes('i')) await idle(docFile);
rmSync(docFile);

const lines = table.lines();
say(lines.join('\n'));
if (process.env.SYNC_BENCH_WRITE === '1')
  writeResult('sync-bench', 'Sync server against a plain relay and a peer', [
    `medians of ${ROUNDS} interleaved rounds of ${SECONDS} s (${FEW} for rooms, most edits and joins); ours with its SQLite store on (WAL, synchronous FULL), everything else as by default but for the limits a socket`,
    'peer: @y/websocket-server 0.1.1, without a store',
    `worn document ${worn.length} bytes, the same board without its past ${fresh.length} bytes; the relay answers with the latter, whoever is there`,
    ...lines,
    `bounds held: ${BOUNDS.filter(({ row }) => table.isHeld(row)).length} of ${BOUNDS.length}`,
  ]);
process.exit(0);
