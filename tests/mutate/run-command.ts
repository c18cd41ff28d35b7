/** Commands with a limit of time, of which nothing is left running. */
import { type ChildProcess, spawn } from 'node:child_process';

export interface CommandEnd {
  /** Exit code; null when it was ended. */
  readonly code: number | null;
  readonly output: string;
  /** It did not end within its limit. */
  readonly hangs: boolean;
}

const running = new Set<ChildProcess>();

/** Ends a command with all that it started and that is still in its group. */
function endGroup({ pid }: ChildProcess): void {
  if (pid === undefined) return;
  try {
    process.kill(-pid, 'SIGKILL');
  } catch (error) {
    // Its group is gone already.
    if ((error as NodeJS.ErrnoException).code !== 'ESRCH') throw error;
  }
}

process.on('exit', () => {
  for (const child of running) endGroup(child);
});

/** Runs Node with these arguments to the end, in an environment like that of `npm test`. What it leaves running is ended. */
export async function runNode(
  args: readonly string[],
  options: { readonly cwd: string; readonly limitMs: number; readonly env?: NodeJS.ProcessEnv },
): Promise<CommandEnd> {
  // The bundler set NODE_ENV when it loaded this tool; handed on, the page would be built for development.
  const { NODE_ENV: _, ...inherited } = process.env;
  const child = spawn(process.execPath, args, {
    cwd: options.cwd,
    env: { ...inherited, ...options.env },
    stdio: ['ignore', 'pipe', 'pipe'],
    detached: true,
  });
  running.add(child);
  const chunks: Buffer[] = [];
  for (const stream of [child.stdout, child.stderr]) stream.on('data', (chunk: Buffer) => chunks.push(chunk));
  let hangs = false;
  const timer = setTimeout(() => {
    hangs = true;
    endGroup(child);
  }, options.limitMs);
  const code = await new Promise<number | null>((resolve, reject) => {
    child.once('error', reject);
    child.once('exit', resolve);
  });
  clearTimeout(timer);
  endGroup(child);
  running.delete(child);
  return { code, output: Buffer.concat(chunks).toString(), hangs };
}
