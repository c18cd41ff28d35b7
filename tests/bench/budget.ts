/**
 * Fails when a page of `dist/web`, or what is fetched later, takes more JavaScript or more requests than `tests/bench/budgets.json` allows.
 * Run after the build.
 */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { chunksOfPage, laterParts } from './bundle-size.ts';

/** At most so much JavaScript, each file compressed by gzip, in so many files. */
interface Budget {
  readonly gzipBytes: number;
  readonly requests: number;
}

interface Budgets {
  readonly pages: readonly (Budget & {
    /** Page below the folder. */
    readonly page: string;
    /** The page itself, compressed by gzip, with the styles and the script that stand in it. */
    readonly htmlGzipBytes: number;
    /** Beginnings of the names of chunks loaded dynamically that the page cannot do without. */
    readonly alsoLoads: readonly string[];
    /** What it fetches later, beside what it has by then: by the name of the file it begins with. */
    readonly later: Readonly<Record<string, Budget>>;
  })[];
}

const FOLDER = 'dist/web';
if (!existsSync(FOLDER))
  throw new RangeError(`${FOLDER} does not exist: build the page first (npm run build)`);

function fail(why: string): void {
  process.stderr.write(`${why}\n`);
  process.exitCode = 1;
}

/** Says what is taken, and fails where it is more than is allowed. */
function hold(what: string, taken: Budget, most: Budget): void {
  const line = `${String(taken.gzipBytes).padStart(8)} bytes gzip of ${most.gzipBytes}, ${taken.requests} requests of ${most.requests}`;
  process.stdout.write(`${line}  ${what}\n`);
  if (taken.gzipBytes > most.gzipBytes)
    fail(`${what} is ${taken.gzipBytes - most.gzipBytes} bytes over its budget`);
  if (taken.requests > most.requests)
    fail(`${what} is ${taken.requests - most.requests} requests over its budget`);
}

const budgets = JSON.parse(readFileSync('tests/bench/budgets.json', 'utf8')) as Budgets;
const builtFiles = readdirSync(FOLDER, { recursive: true, encoding: 'utf8' });
for (const { page, alsoLoads, later, htmlGzipBytes, ...most } of budgets.pages) {
  const html = gzipSync(readFileSync(join(FOLDER, page)), { level: 9 }).length;
  hold(`${page} itself`, { gzipBytes: html, requests: 1 }, { gzipBytes: htmlGzipBytes, requests: 1 });
  const chunks = chunksOfPage(FOLDER, page, alsoLoads, builtFiles);
  for (const chunk of chunks) process.stdout.write(`${String(chunk.gzipBytes).padStart(8)}  ${chunk.file}\n`);
  const gzipBytes = chunks.reduce((sum, chunk) => sum + chunk.gzipBytes, 0);
  hold(page, { gzipBytes, requests: chunks.length }, most);
  const parts = laterParts(
    FOLDER,
    chunks.map(({ file }) => file),
  );
  for (const { name, ...taken } of parts) {
    const allowed = later[name];
    if (allowed === undefined) fail(`${name} is fetched later and has no budget (${JSON.stringify(taken)})`);
    else hold(name, taken, allowed);
  }
  for (const name of Object.keys(later))
    if (!parts.some((part) => part.name === name)) fail(`${name} has a budget and is fetched by nobody`);
}
