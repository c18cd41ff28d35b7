/**
 * This server against a plain relay and a peer (@y/websocket-server 0.1.1, which stores nothing), one after the other in one run,
 * each as its own process, the clients here. Prints ratios to the relay; `SYNC_BENCH_WRITE=1` also writes sync-bench.md.
 */
import { writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import WebSocket from 'ws';
import { bringDocument, timeJoins, wornDocument } from './sync-join.ts';
import { Load, mostEdits } from './sync-load.ts';
import { writeResult } from './sync-results.ts';
import {
  type BenchServer,
  buildRelay,
  residentKiB,
  SERVER_NAMES,
  type ServerName,
  startBenchServer,
} from './sync-servers.ts';

const ROUNDS = Number(process.env.SYNC_BENCH_ROUNDS ?? 3);
const SECONDS = Number(process.env.SYNC_BENCH_SECONDS ?? 5);

/** What was measured, by row; each value of one round. */
const measured = new Map<string, Map<ServerName, number[]>>();

function note(row: string, name: ServerName, value: number): void {
  const values = measured.get(row) ?? new Map<ServerName, number[]>();
  measured.set(row, values);
  values.set(name, [...(values.get(name) ?? []), value]);
}

async function measureLoads(server: BenchServer): Promise<void> {
  const one = await Load.open(server, 1, 30, 0);
  await one.run(20, 1);
  const room = await one.run(20, SECONDS);
  note('1 room x 30, 20 edits/s: p50 ms', server.name, room.p50Ms);
  note('same: CPU us per delivery', server.name, (room.cpuSeconds / room.deliveries) * 1e6);
  note('1 room x 30: most edits/s', server.name, await mostEdits(one, 100, 1.5));
  await one.close();

  const many = await Load.open(server, 50, 4, 100);
  await many.run(500, 1);
  const rooms = await many.run(500, SECONDS);
  note('50 rooms x 4, 500 edits/s: p50 ms', server.name, rooms.p50Ms);
  note('same: CPU us per delivery, 50 x 4', server.name, (rooms.cpuSeconds / rooms.deliveries) * 1e6);
  await many.close();

  const four = await Load.open(server, 1, 4, 200);
  await four.run(500, 1);
  const busy = await four.run(4000, SECONDS);
  note('1 room x 4, 4000 edits/s: deliveries per CPU s', server.name, busy.deliveries / busy.cpuSeconds);
  note('1 room x 4: most edits/s', server.name, await mostEdits(four, 1000, 1.5));
  await four.close();
}

const IDLE_ROOMS = 1000;
/** A room is idle when nothing has happened in it for so long. */
const QUIET_MS = 22_000;

async function measureRooms(server: BenchServer): Promise<void> {
  const urls: string[] = [];
  for (let i = 0; i < IDLE_ROOMS; i += 1) urls.push(await server.roomUrl(1000 + i));
  const cycle = async (waitMs: number): Promise<number> => {
    const before = residentKiB(server.pid);
    const sockets: WebSocket[] = [];
    for (const url of urls) {
      const socket = new WebSocket(url, { perMessageDeflate: false });
      socket.on('message', () => {});
      await new Promise((resolve, reject) => {
        socket.once('open', resolve);
        socket.once('error', reject);
      });
      sockets.push(socket);
    }
    await new Promise((resolve) => setTimeout(resolve, waitMs));
    const open = residentKiB(server.pid) - before;
    for (const socket of sockets) socket.terminate();
    await new Promise((resolve) => setTimeout(resolve, 800));
    return open;
  };
  note('RSS per idle room, KiB', server.name, Math.max(0.1, (await cycle(QUIET_MS)) / IDLE_ROOMS));
  // What a cycle leaves behind shows when it is repeated; the first cycles only fill the heap's free space.
  for (let i = 0; i < 3; i += 1) await cycle(300);
  const before = residentKiB(server.pid);
  for (let i = 0; i < 4; i += 1) await cycle(300);
  note('RSS kept per closed room, KiB', server.name, (residentKiB(server.pid) - before) / (4 * IDLE_ROOMS));
}

function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[sorted.length >> 1]!;
}

const { worn, fresh } = wornDocument(Number(process.env.SYNC_BENCH_OVERWRITES ?? 50_000));
const docFile = join(tmpdir(), `larkboard-bench-doc-${process.pid}`);
writeFileSync(docFile, fresh);
process.stdout.write(
  `worn document ${worn.length} bytes, the same board without its past ${fresh.length} bytes\n`,
);

await buildRelay();
for (let round = 0; round < ROUNDS; round += 1)
  for (const name of SERVER_NAMES) {
    const server = await startBenchServer(name, docFile);
    try {
      await measureRooms(server);
      await measureLoads(server);
      const url = await server.roomUrl(900, true);
      const keeper = await bringDocument(url, worn);
      const before = await timeJoins(server, url, 30);
      note('join a worn document, people still in it: ms', name, before.one.ms);
      note('same: bytes', name, before.one.bytes);
      note('30 join it at once, people still in it: ms', name, before.crowdMs);
      // Everybody leaves; whoever renews documents does it now.
      keeper.terminate();
      await new Promise((resolve) => setTimeout(resolve, 2000));
      const stays = await bringDocument(url, new Uint8Array([0, 0]));
      const after = await timeJoins(server, url, 30);
      note('join it after all had left: ms', name, after.one.ms);
      note('same, bytes after all had left', name, after.one.bytes);
      note('30 join it at once after all had left: ms', name, after.crowdMs);
      stays.terminate();
    } finally {
      await server.stop();
    }
    process.stdout.write(`round ${round + 1} of ${ROUNDS}: ${name} done\n`);
  }

const lines: string[] = [];
for (const [row, values] of measured) {
  const base = median(values.get('relay') ?? []);
  const cells = SERVER_NAMES.map((name) => {
    const value = median(values.get(name) ?? []);
    return name === 'relay' ? `relay ${value.toPrecision(3)}` : `${name} ${(value / base).toFixed(2)} x`;
  });
  lines.push(`${row}: ${cells.join(', ')}`);
}
process.stdout.write(`${lines.join('\n')}\n`);
if (process.env.SYNC_BENCH_WRITE === '1')
  writeResult('sync-bench', 'Sync server against a plain relay and a peer', [
    `medians of ${ROUNDS} rounds; ours with its SQLite store on (WAL, synchronous FULL); peer @y/websocket-server 0.1.1, without a store`,
    `worn document ${worn.length} bytes, the same board without its past ${fresh.length} bytes; the relay answers with the latter`,
    ...lines,
  ]);
process.exit(0);
