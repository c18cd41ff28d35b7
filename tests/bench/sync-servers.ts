/** The servers that are compared, each as its own process. */
import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { readdirSync, readFileSync } from 'node:fs';
import { connect } from 'node:net';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'vite';
import WebSocket from 'ws';
import { freePort } from '../server/child-server.ts';
import { ask } from '../support/ask.ts';
import { until } from '../support/until.ts';

/** `other`: this server as built in another checkout, an earlier release say. */
export type ServerName = 'relay' | 'peer' | 'ours' | 'other';

const OTHER = process.env.SYNC_BENCH_OTHER;
export const SERVER_NAMES: readonly ServerName[] = [
  'relay',
  'peer',
  'ours',
  ...(OTHER === undefined ? [] : (['other'] as const)),
];

/** Whether it is this product, which stores, and tells of itself. */
export function isOurs(name: ServerName): boolean {
  return name === 'ours' || name === 'other';
}

export interface BenchServer {
  readonly name: ServerName;
  readonly pid: number;
  /** Address of a room by number; `isDocument`: one that can hold a document. */
  roomUrl(index: number, isDocument?: boolean): Promise<string>;
  /** Waits until it has let go of all but so many sockets; ours of their rooms too, with all that is done when one has become empty. */
  untilLeft(staying: number): Promise<void>;
  /** Waits until nothing is left to be stored. Only ours stores. */
  untilStored(): Promise<void>;
  /** Resident memory in KiB once collecting garbage gives nothing more back, where it was started as `isCollectable`. */
  settledKiB(): Promise<number>;
  stop(): Promise<void>;
}

const ROOT = fileURLToPath(new URL('../..', import.meta.url));
const BUILT = join(ROOT, 'dist', 'bench');

/** Compiles the relay, so that its process holds nothing but the relay. */
export async function buildRelay(): Promise<void> {
  await build({
    root: ROOT,
    configFile: false,
    logLevel: 'error',
    build: { ssr: 'tests/bench/sync-relay.ts', outDir: BUILT, emptyOutDir: true },
  });
}

/** Has a process collect its garbage on a signal and say that it did, whatever program it runs. */
const COLLECTABLE = [
  '--expose-gc',
  '--import',
  'data:text/javascript,process.on("SIGUSR2",()=>{for(let i=0;i<3;i+=1)gc();process.send("collected")})',
];
/**
 * What was collected goes back to the system beside the program, seconds later: memory stands still when it was the same, but for so many
 * KiB, at so many looks in a row.
 */
const SAME_LOOKS = 300;
const SAME_KIB = 64;

/** With what `npm start` of a checkout runs Node. */
function flagsOfStart(folder: string): readonly string[] {
  const { scripts } = JSON.parse(readFileSync(join(folder, 'package.json'), 'utf8')) as {
    readonly scripts: { readonly start: string };
  };
  return scripts.start.split(' ').filter((word) => word.startsWith('--'));
}

function start(name: ServerName, port: number, options: BenchOptions): ChildProcess {
  const { folder, docFile } = options;
  const flags = options.isCollectable ? COLLECTABLE : [];
  const env = {
    NODE_ENV: 'production',
    PATH: process.env.PATH ?? '',
    PORT: String(port),
    HOST: '127.0.0.1',
    DOC_FILE: docFile,
  };
  const stdio: ('ignore' | 'inherit' | 'ipc')[] = ['ignore', 'ignore', 'inherit'];
  if (options.isCollectable) stdio.push('ipc');
  const how = { cwd: name === 'other' ? OTHER : ROOT, stdio };
  const run = (file: string, more = {}, own: readonly string[] = []): ChildProcess =>
    spawn(process.execPath, [...own, ...flags, file], { ...how, env: { ...env, ...more } });
  switch (name) {
    case 'relay':
      return run(join(BUILT, 'sync-relay.js'));
    case 'peer':
      return run('node_modules/@y/websocket-server/src/server.js');
    case 'ours':
    case 'other': {
      const lifted = {
        DATA_DIR: join(folder, name),
        // The peers know no links; who may come in is asked once a socket, never for a message.
        ACCESS: 'address',
        LOG_LEVEL: 'warn',
        MAX_MESSAGES_PER_SECOND: '1000000',
        MAX_BYTES_PER_SECOND: '1000000000',
        MAX_CONNECTIONS_PER_ADDRESS: '100000',
        MAX_NEW_PER_ADDRESS: '100000',
        MAX_CONNECTIONS_OF_NEWCOMERS: '100000',
        REQUEST_TIMES: '1000',
        MAX_BOARDS_PER_HOUR: '100000',
      };
      return run('dist/server/main.js', lifted, flagsOfStart(how.cwd ?? ROOT));
    }
  }
}

export interface BenchOptions {
  /** The document that the relay answers with. */
  readonly docFile: string;
  /** Where each of ours keeps its data, in a folder of its name. */
  readonly folder: string;
  /** Boards made there, by server and the number of the room; grows. */
  readonly boards: Map<string, string>;
  readonly isCollectable?: boolean;
}

/** Starts one and waits until it has taken a socket. */
export async function startBenchServer(name: ServerName, options: BenchOptions): Promise<BenchServer> {
  const { boards } = options;
  const port = await freePort();
  const child = start(name, port, options);
  const exited = new Promise<void>((resolve) => child.once('exit', () => resolve()));
  const roomUrl = async (index: number, isDocument = false): Promise<string> => {
    if (!isOurs(name)) return `ws://127.0.0.1:${port}/${isDocument ? 'doc' : 'room'}-${index}`;
    let id = boards.get(`${name} ${index}`);
    if (id === undefined) {
      const made = await ask(`http://127.0.0.1:${port}/api/boards`, { method: 'POST', body: '{}' });
      if (made.status !== 201) throw new Error(`board not made: ${made.status} ${await made.text()}`);
      id = ((await made.json()) as { id: string }).id;
      boards.set(`${name} ${index}`, id);
    }
    return `ws://127.0.0.1:${port}/sync/${id}/design`;
  };
  const requireRunning = (): void => {
    if (child.exitCode !== null || child.signalCode !== null) throw new Error(`${name} has ended`);
  };
  await until(`${name} listens`, () => {
    requireRunning();
    return isTaken(port);
  });
  const probe = new WebSocket(await roomUrl(-1));
  await once(probe, 'open');
  const pid = child.pid!;
  // The probe is one of them, since it was answered.
  const ownFiles = openFiles(pid) - 1;
  probe.terminate();
  const gauges = async (): Promise<string> => (await ask(`http://127.0.0.1:${port}/metrics`)).text();
  return {
    name,
    pid,
    roomUrl,
    untilLeft: (staying) =>
      until(`${name} has let go of all but ${staying}`, async () => {
        if (!isOurs(name)) return openFiles(pid) - ownFiles <= staying;
        const text = await gauges();
        return (
          gaugeIn(text, 'larkboard_connections') <= staying && gaugeIn(text, 'larkboard_rooms') <= staying
        );
      }),
    untilStored: async () => {
      if (!isOurs(name)) return;
      if (/^larkboard_unsaved_bytes /m.test(await gauges()))
        await until('all is stored', async () => gaugeIn(await gauges(), 'larkboard_unsaved_bytes') === 0);
      else await standsStill(async () => committedIn(await gauges()));
    },
    settledKiB: async () => {
      if (!options.isCollectable) throw new TypeError('started without isCollectable');
      const collect = async (): Promise<number> => {
        const collected = once(child, 'message');
        child.kill('SIGUSR2');
        await Promise.race([collected, exited]);
        requireRunning();
        return stillKiB(pid);
      };
      let last = await collect();
      await until(
        () => `another collection gives nothing back: ${last} KiB`,
        async () => {
          const before = last;
          last = await collect();
          return last >= before - SAME_KIB;
        },
      );
      return last;
    },
    stop: async () => {
      child.kill('SIGTERM');
      await exited;
    },
  };
}

/** Whether somebody listens at a port. */
async function isTaken(port: number): Promise<boolean> {
  const socket = connect(port, '127.0.0.1');
  try {
    await once(socket, 'connect');
    return true;
  } catch (cause) {
    if ((cause as NodeJS.ErrnoException).code === 'ECONNREFUSED') return false;
    throw cause;
  } finally {
    socket.destroy();
  }
}

/** Files and sockets that a process has open. */
function openFiles(pid: number): number {
  return readdirSync(`/proc/${pid}/fd`).length;
}

/** A value of the moment among those that our server tells of itself. */
function gaugeIn(text: string, name: string): number {
  const value = new RegExp(`^${name} (\\d+)$`, 'm').exec(text)?.[1];
  if (value === undefined) throw new Error(`the server does not tell ${name}: ${text.slice(0, 200)}`);
  return Number(value);
}

/**
 * Processor seconds of each thread of a process, in steps of a nanosecond (Linux, Documentation/scheduler/sched-stats.rst: the
 * first field of a task's schedstat). The fields of proc(5) stat count in steps of 10 ms, which is a third of what a relay
 * needs in five seconds of the smallest load.
 */
export function threadSeconds(pid: number): ReadonlyMap<string, number> {
  const tasks = `/proc/${pid}/task`;
  const seconds = new Map<string, number>();
  for (const task of readdirSync(tasks))
    try {
      const [ran] = readFileSync(`${tasks}/${task}/schedstat`, 'utf8').split(' ', 1);
      seconds.set(task, Number(ran) / 1e9);
    } catch (cause) {
      // It ended since the folder was read.
      if (!['ENOENT', 'ESRCH'].includes((cause as NodeJS.ErrnoException).code ?? '')) throw cause;
    }
  return seconds;
}

/** Processor seconds used between two readings; of a thread that has ended meanwhile the rest is not known and left out. */
export function secondsBetween(
  before: ReadonlyMap<string, number>,
  after: ReadonlyMap<string, number>,
): number {
  let sum = 0;
  for (const [task, seconds] of after) sum += seconds - (before.get(task) ?? 0);
  return sum;
}

/** Resident memory in KiB once it moves no more. */
async function stillKiB(pid: number): Promise<number> {
  let [at, looks] = [residentKiB(pid), 0];
  await until(
    () => `memory stands still: ${at} KiB`,
    () => {
      const now = residentKiB(pid);
      looks = Math.abs(now - at) <= SAME_KIB ? looks + 1 : 0;
      if (looks === 0) at = now;
      return looks >= SAME_LOOKS;
    },
  );
  return residentKiB(pid);
}

/** Resident memory in KiB (proc(5), status). */
function residentKiB(pid: number): number {
  return Number(/VmRSS:\s+(\d+)/.exec(readFileSync(`/proc/${pid}/status`, 'utf8'))?.[1]);
}

/** Rows that were committed, as a release tells them that does not tell what is unsaved; null before the first. */
function committedIn(text: string): string | null {
  return /^larkboard_committed_rows_total.*$/m.exec(text)?.[0] ?? null;
}

/** Waits until a figure was the same at {@link SAME_LOOKS} looks in a row. */
async function standsStill(look: () => Promise<unknown>): Promise<void> {
  let [at, looks] = [await look(), 0];
  await until('it stands still', async () => {
    const now = await look();
    looks = now === at ? looks + 1 : 0;
    at = now;
    return looks >= SAME_LOOKS;
  });
}
