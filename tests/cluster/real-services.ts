/** Real PostgreSQL and Redis servers on ports of their own, for tests; both as Debian installs them. */
import { type ChildProcess, spawn, spawnSync } from 'node:child_process';
import { chmodSync, existsSync, mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { connect } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import pg from 'pg';
import { afterAll, beforeAll } from 'vitest';
import { freePort } from '../server/child-server.ts';
import { until } from '../support/until.ts';

/** A PostgreSQL for all tests of a file. */
export interface FilePostgres {
  /** There inside tests. */
  readonly service: Service;
  /** Makes an empty database in it. @returns its address */
  freshUrl(): Promise<string>;
}

/** Starts it before the first test and disposes of it after the last. @param prefix what names of its databases begin with */
export function postgresOfFile(prefix: string): FilePostgres {
  let postgres: Service;
  let count = 0;
  beforeAll(async () => {
    postgres = await startPostgres();
  });
  afterAll(() => postgres.dispose());
  return {
    get service() {
      return postgres;
    },
    freshUrl: () => {
      count += 1;
      return makeDatabase(postgres, `${prefix}${count}`);
    },
  };
}

/** One service that can be stopped, started again on the same data, and frozen. */
export interface Service {
  readonly url: string;
  readonly port: number;
  start(): Promise<void>;
  /** Stops it, and waits. `kill` gives it no time. */
  stop(how?: 'kill'): Promise<void>;
  /** Stops it for good and removes its data. */
  dispose(): Promise<void>;
}

/** Makes an empty database in a running PostgreSQL. @returns its address */
async function makeDatabase(postgres: Service, name: string): Promise<string> {
  const client = new pg.Client(postgres.url);
  await client.connect();
  await client.query(`CREATE DATABASE ${name}`);
  await client.end();
  return postgres.url.replace(/\/postgres$/, `/${name}`);
}

const POSTGRES_ROOT = '/usr/lib/postgresql';

function postgresFolder(): string {
  const versions = existsSync(POSTGRES_ROOT) ? readdirSync(POSTGRES_ROOT).sort() : [];
  const version = versions.at(-1);
  if (version === undefined) throw new Error('PostgreSQL is not installed: apt-get install postgresql');
  return join(POSTGRES_ROOT, version, 'bin');
}

/** PostgreSQL refuses to run as root; then it runs as the user Debian made for it. */
function asPostgres(command: string, args: readonly string[]): { command: string; args: string[] } {
  return process.getuid?.() === 0
    ? { command: 'runuser', args: ['-u', 'postgres', '--', command, ...args] }
    : { command, args: [...args] };
}

async function waitForPort(port: number, what: string, log: () => string): Promise<void> {
  await until(
    () => `${what} listens: ${log()}`,
    () =>
      new Promise<boolean>((resolve) => {
        const socket = connect(port, '127.0.0.1');
        socket.once('connect', () => {
          socket.destroy();
          resolve(true);
        });
        socket.once('error', () => resolve(false));
      }),
  );
}

/** PostgreSQL listens before it answers. */
async function waitForAnswer(url: string, log: () => string): Promise<void> {
  let error: Error | null = null;
  await until(
    () => `PostgreSQL answers: ${error?.message}\n${log()}`,
    async () => {
      const client = new pg.Client(url);
      // A connection that is cut while it is being made says so here too.
      client.on('error', () => {});
      error = await client.connect().then(
        () => null,
        (cause: Error) => cause,
      );
      await client.end().catch(() => {});
      return error === null;
    },
  );
}

/** Runs a process and keeps what it says. */
class Child {
  #process: ChildProcess | null = null;
  #exited: Promise<void> = Promise.resolve();
  #output = '';

  run(command: string, args: readonly string[], cwd: string): void {
    const child = spawn(command, args, { cwd, stdio: ['ignore', 'pipe', 'pipe'] });
    for (const stream of [child.stdout, child.stderr])
      stream.on('data', (chunk: Buffer) => {
        this.#output = (this.#output + chunk.toString()).slice(-4000);
      });
    this.#process = child;
    this.#exited = new Promise((resolve) => child.once('exit', () => resolve()));
  }

  get output(): string {
    return this.#output;
  }

  async end(signal: NodeJS.Signals): Promise<void> {
    this.#process?.kill(signal);
    await this.#exited;
    this.#process = null;
  }
}

export async function startPostgres(): Promise<Service> {
  const bin = postgresFolder();
  const folder = mkdtempSync(join(tmpdir(), 'larkboard-pg-'));
  chmodSync(folder, 0o777);
  const data = join(folder, 'data');
  const port = await freePort();
  const init = asPostgres(join(bin, 'initdb'), [
    '-D',
    data,
    '-U',
    'larkboard',
    '--auth=trust',
    '-E',
    'UTF8',
    '--no-sync',
  ]);
  const made = spawnSync(init.command, init.args, { cwd: folder });
  if (made.status !== 0) throw new Error(`initdb failed: ${made.stderr.toString()}`);
  const child = new Child();
  const url = `postgres://larkboard@127.0.0.1:${port}/postgres`;
  const start = async (): Promise<void> => {
    const run = asPostgres(join(bin, 'postgres'), [
      ...['-D', data, '-p', String(port), '-k', folder],
      // The tests end processes, not the machine: what the system holds for the disk outlives them.
      ...[
        '-c',
        'fsync=off',
        '-c',
        'listen_addresses=127.0.0.1',
        '-c',
        'max_connections=60',
        '-c',
        'shared_buffers=32MB',
      ],
    ]);
    child.run(run.command, run.args, folder);
    await waitForAnswer(url, () => child.output);
  };
  // pg_ctl speaks to the server itself, also where it runs behind runuser.
  const stop = async (how?: 'kill'): Promise<void> => {
    const mode = how === 'kill' ? 'immediate' : 'fast';
    const ctl = asPostgres(join(bin, 'pg_ctl'), ['-D', data, '-m', mode, '-w', 'stop']);
    spawnSync(ctl.command, ctl.args, { cwd: folder });
    await child.end('SIGINT');
  };
  await start();
  return {
    url,
    port,
    start,
    stop,
    dispose: async () => {
      await stop('kill');
      rmSync(folder, { recursive: true, force: true });
    },
  };
}

export async function startRedis(): Promise<Service> {
  const folder = mkdtempSync(join(tmpdir(), 'larkboard-redis-'));
  const port = await freePort();
  const child = new Child();
  const start = async (): Promise<void> => {
    child.run(
      'redis-server',
      ['--port', String(port), '--bind', '127.0.0.1', '--save', '', '--appendonly', 'no', '--dir', folder],
      folder,
    );
    await waitForPort(port, 'Redis', () => child.output);
  };
  await start();
  return {
    url: `redis://127.0.0.1:${port}`,
    port,
    start,
    stop: (how) => child.end(how === 'kill' ? 'SIGKILL' : 'SIGTERM'),
    dispose: async () => {
      await child.end('SIGKILL');
      rmSync(folder, { recursive: true, force: true });
    },
  };
}
