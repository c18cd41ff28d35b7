/**
 * `npm run coverage`: how many branches of each product file that is no element the tests take that need no browser, and whether any
 * file is below the bar that is not listed in below.ts. Engine and page are measured as vitest runs them; the server as Node does, from
 * `dist`, its threads and processes included. A file counts by whichever of these took more of it.
 */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, relative } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { mergeProcessCovs, type ProcessCov } from '@bcoe/v8-coverage';
import convert from 'ast-v8-to-istanbul';
import { parseAst } from 'vite';
import { BELOW } from './below.ts';
import { type Branches, isMeasured, LEAST, shareOf, tellOf } from './branches.ts';

const ROOT = process.cwd();
/** Parts of the page that need a server, and no browser. */
const PAGE_WITH_SERVER = ['tests/server/sync/aside-line.test.ts', 'tests/server/sync/full-line.test.ts'];

interface Measured {
  readonly b: Readonly<Record<string, readonly number[]>>;
}

const folder = mkdtempSync(join(tmpdir(), 'larkboard-coverage-'));
const found = new Map<string, Branches>();

function run(args: readonly string[], env: Readonly<Record<string, string>> = {}): void {
  const { status } = spawnSync('npx', ['vitest', 'run', '--reporter=dot', ...args], {
    cwd: ROOT,
    // The vite that this runs in has set another, under which yjs freezes what it is given.
    env: { ...process.env, NODE_ENV: 'test', ...env },
    stdio: 'inherit',
  });
  if (status !== 0) throw new Error(`vitest ended with ${status}: figures of tests that fail mean nothing`);
}

function note(files: Readonly<Record<string, Measured>>): void {
  for (const [file, { b }] of Object.entries(files)) {
    const path = relative(ROOT, file);
    if (!isMeasured(path, readFileSync(file, 'utf8'))) continue;
    const counts = Object.values(b).flat();
    const branches = { taken: counts.filter((count) => count > 0).length, all: counts.length };
    const before = found.get(path);
    if (before === undefined || shareOf(branches) > shareOf(before)) found.set(path, branches);
  }
}

/** What vitest runs from source. */
function measureSource(name: string, args: readonly string[]): void {
  const out = join(folder, name);
  run([
    ...args,
    '--coverage.enabled',
    '--coverage.reporter=json',
    `--coverage.reportsDirectory=${out}`,
    ...['engine', 'web'].map((tree) => `--coverage.include=${tree}/**/*.ts`),
  ]);
  note(JSON.parse(readFileSync(join(out, 'coverage-final.json'), 'utf8')) as Record<string, Measured>);
}

/** What Node runs from `dist`, in every process and thread. A process that is killed leaves nothing, or half a file. */
async function measureDist(): Promise<void> {
  const out = join(folder, 'processes');
  run(['--project', 'server'], { NODE_V8_COVERAGE: out });
  const dist = ['engine', 'server'].map((tree) => pathToFileURL(join(ROOT, 'dist', tree, '/')).href);
  let merged: ProcessCov = { result: [] };
  for (const file of readdirSync(out)) {
    const text = readFileSync(join(out, file), 'utf8');
    if (!text.endsWith('}')) continue;
    const { result } = JSON.parse(text) as ProcessCov;
    const ours = result.filter(({ url }) => dist.some((start) => url.startsWith(start)));
    merged = mergeProcessCovs([merged, { result: ours }]);
  }
  for (const { url, functions } of merged.result) {
    const code = readFileSync(fileURLToPath(url), 'utf8');
    const map = JSON.parse(readFileSync(`${fileURLToPath(url)}.map`, 'utf8'));
    const sources = map.sources.map((source: string) => new URL(source, url).href);
    const coverage = { url, functions };
    note(await convert({ code, sourceMap: { ...map, sources }, ast: parseAst(code) as never, coverage }));
  }
}

try {
  measureSource('source', ['--project', 'engine', '--project', 'page']);
  measureSource('page-with-server', ['--project', 'server', ...PAGE_WITH_SERVER]);
  await measureDist();
} finally {
  rmSync(folder, { recursive: true });
}
const { text, isGood } = tellOf(found, BELOW);
process.stdout.write(text);
process.stdout.write(`\n${found.size} files measured; the bar is ${LEAST * 100} % of branches.\n`);
if (!isGood) process.exitCode = 1;
