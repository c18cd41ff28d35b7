/** Fails when a page of `dist/web` loads more JavaScript than `tests/bench/budgets.json` allows. Run after the build. */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { chunksOfPage } from './bundle-size.ts';

interface Budgets {
  readonly pages: readonly {
    /** Page below the folder. */
    readonly page: string;
    /** Beginnings of the names of chunks loaded dynamically that the page cannot do without. */
    readonly alsoLoads: readonly string[];
    /** Most bytes of all its JavaScript, each file compressed by gzip. */
    readonly gzipBytes: number;
  }[];
}

const FOLDER = 'dist/web';
if (!existsSync(FOLDER))
  throw new RangeError(`${FOLDER} does not exist: build the page first (npm run build)`);
const budgets = JSON.parse(readFileSync('tests/bench/budgets.json', 'utf8')) as Budgets;
const builtFiles = readdirSync(FOLDER, { recursive: true, encoding: 'utf8' });
for (const { page, alsoLoads, gzipBytes } of budgets.pages) {
  const chunks = chunksOfPage(FOLDER, page, alsoLoads, builtFiles);
  const total = chunks.reduce((sum, chunk) => sum + chunk.gzipBytes, 0);
  for (const chunk of chunks) process.stdout.write(`${String(chunk.gzipBytes).padStart(8)}  ${chunk.file}\n`);
  process.stdout.write(`${String(total).padStart(8)}  bytes gzip for ${page}, budget ${gzipBytes}\n`);
  if (total > gzipBytes) {
    process.stderr.write(`${page} is ${total - gzipBytes} bytes over its budget\n`);
    process.exitCode = 1;
  }
}
