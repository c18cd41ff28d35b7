/** The server as its own process, as `npm start` runs it, so that it can be killed. */
import { type ChildProcess, spawn } from 'node:child_process';
import { createServer } from 'node:net';
import { fileURLToPath } from 'node:url';
import { ask } from '../support/ask.ts';
import { until } from '../support/until.ts';

const MAIN = fileURLToPath(new URL('../../dist/server/main.js', import.meta.url));

/** A port nobody listens on now. */
export async function freePort(): Promise<number> {
  const server = createServer();
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  const address = server.address();
  await new Promise((resolve) => server.close(resolve));
  if (address === null || typeof address === 'string') throw new Error('no port');
  return address.port;
}

/** The cookie that an answer set, as a browser sends it back; empty when it set none. */
export function cookieOf(answer: Response): { readonly cookie: string } {
  return { cookie: answer.headers.get('set-cookie')?.split(';')[0] ?? '' };
}

/** Makes a board over HTTP. @returns its id and the headers of its owner */
export async function makeOwnBoard(
  server: { readonly http: string },
  body = '{}',
): Promise<{ readonly id: string; readonly headers: { readonly cookie: string } }> {
  const answer = await ask(`${server.http}/api/boards`, { method: 'POST', body });
  if (answer.status !== 201) throw new Error(`board not made: ${answer.status} ${await answer.text()}`);
  return { id: ((await answer.json()) as { id: string }).id, headers: cookieOf(answer) };
}

export interface ChildServer {
  readonly process: ChildProcess;
  readonly port: number;
  readonly http: string;
  readonly ws: string;
  /** Standard output and error so far. */
  output(): string;
  /** Ends it and waits. @returns exit code, or null when a signal ended it */
  stop(signal: NodeJS.Signals): Promise<number | null>;
}

/**
 * Starts the server and waits until it is ready.
 * @param env without `PORT` the server takes a free one itself; one that was looked for before may be taken by then
 * @param main what Node starts: the server that was built, or a copy of it
 * @throws Error with its output when it ends before it is ready
 */
export async function startChild(env: Readonly<Record<string, string>>, main = MAIN): Promise<ChildServer> {
  const child = spawn(process.execPath, [main], {
    env: { PATH: process.env.PATH ?? '', LOG_LEVEL: 'warn', PORT: '0', ...env },
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  const chunks: Buffer[] = [];
  child.stdout.on('data', (chunk: Buffer) => chunks.push(chunk));
  child.stderr.on('data', (chunk: Buffer) => chunks.push(chunk));
  const exited = new Promise<number | null>((resolve) => child.once('exit', (code) => resolve(code)));
  const output = (): string => Buffer.concat(chunks).toString();
  const listensAt = (): number =>
    Number(env.PORT ?? /^Larkboard is at \S+:(\d+)$/m.exec(output())?.[1] ?? Number.NaN);
  await until('the server is ready', async () => {
    if (child.exitCode !== null) throw new Error(`the server is not ready: ${output()}`);
    if (Number.isNaN(listensAt())) return false;
    // Nobody listens yet: it is looked again.
    return (await ask(`http://127.0.0.1:${listensAt()}/readyz`).catch(() => null))?.status === 200;
  });
  const port = listensAt();
  return {
    process: child,
    port,
    http: `http://127.0.0.1:${port}`,
    ws: `ws://127.0.0.1:${port}/sync`,
    output,
    stop: async (signal) => {
      child.kill(signal);
      return exited;
    },
  };
}
