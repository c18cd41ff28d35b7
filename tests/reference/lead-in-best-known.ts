/**
 * Betters lead-in-best-known.json: for each of the 200 orders the fewest lead-in rows that two unrelated searches have found, and how long
 * each has looked in all. It takes up where it was left, each time from other seeds, writes after every order and may be ended at any time:
 * SECONDS=60 node -e "import('vite').then(({ runnerImport }) => runnerImport('./tests/reference/lead-in-best-known.ts'))"
 * `SECONDS` for each order, half for each search; `ROUNDS` (1) over all orders. What is proven is left alone.
 *
 * `walk` is the engine's own (engine/mount/search/neat-walk.ts), each time from another order and far longer than on the page; `prefix` is that
 * of lead-in-prefix.ts, which shares nothing with it.
 */
import { existsSync, readFileSync, renameSync, writeFileSync } from 'node:fs';
import { NeatWalk } from '../../engine/mount/search/neat-walk.ts';
import { seededRandom } from '../support/seeded-random.ts';
import { rowsFrom } from '../support/staggered-rows.ts';
import { LEAD_IN_ORDERS, type LeadInOrder, leadInColours } from './lead-in-orders.ts';
import { searchPrefixes } from './lead-in-prefix.ts';

export interface BestLeadIn extends LeadInOrder {
  /** Fewest rows found by either. */
  readonly rows: number;
  /** Rows below which the search of beginnings, nothing left out, has shown that there is no lead-in. */
  readonly atLeast: number;
  /** Fewest rows each has found; null where it found none yet. */
  readonly walk: number | null;
  readonly prefix: number | null;
  /** Seconds each has looked in all, and how often; the next time begins with the seed after. */
  readonly walkSeconds: number;
  readonly walkRuns: number;
  readonly prefixSeconds: number;
  readonly prefixRuns: number;
  /** The order mounted, as places of the order asked, parted by blanks, from which `rows` rows lead to it. */
  readonly from: string;
}

const FILE = new URL('lead-in-best-known.json', import.meta.url);
const SECONDS = Number(process.env.SECONDS ?? 10);
const ROUNDS = Number(process.env.ROUNDS ?? 1);

/** Steps of one cooling. */
const STEPS = 1_000_000;
const WARM = [1.5, 3, 5];
const WEIGHTS = [
  { exchanges: 1, crossings: 0, left: 5 },
  { exchanges: 0, crossings: 0, left: 4 },
  { exchanges: 1, crossings: 1, left: 4 },
  { exchanges: 0, crossings: 2, left: 4 },
  { exchanges: 1, crossings: 0, left: 7 },
];

/** Folds every colour's neighbours, over and over all in a row: neat, however far away. */
function sortedByColour(colours: readonly number[]): { kinds: number[]; pairs: [number, number][] } {
  const kinds = [...colours].sort((a, b) => a - b);
  const pairs: [number, number][] = [];
  for (let at = 0; at + 1 < kinds.length; at++)
    if (kinds[at] === kinds[at + 1]) {
      pairs.push([at, at + 1]);
      at++;
    }
  return { kinds, pairs };
}

/** Walks from the colours sorted, then ever anew at one row less than this search has. */
function walk(colours: readonly number[], known: BestLeadIn, seconds: number): BestLeadIn {
  const { kinds, pairs } = sortedByColour(colours);
  const begun = performance.now();
  let now = known;
  while (performance.now() - begun < seconds * 1000 && (now.walk === null || now.walk > now.atLeast)) {
    const run = now.walkRuns;
    const one = new NeatWalk(colours, now.start, run + 1);
    one.stand(kinds, pairs);
    const warm = WARM[run % WARM.length]!;
    let found = one.rows;
    do {
      if (now.walk === null || found < now.walk) now = { ...now, walk: found };
      if (found < now.rows) now = { ...now, rows: found, from: one.string.join(' ') };
      one.want(found - 1);
      found = one.cool(found > now.walk! ? STEPS / 5 : STEPS, warm) ? one.rows : 0;
    } while (found > 0);
    now = { ...now, walkRuns: run + 1 };
  }
  return { ...now, walkSeconds: addSeconds(now.walkSeconds, begun) };
}

/** From as few rows as are not ruled out upwards, each time wider and with other weights, every other time mirrored. */
function prefix(colours: readonly number[], known: BestLeadIn, seconds: number): BestLeadIn {
  const n = colours.length;
  const begun = performance.now();
  const isOver = (): boolean => performance.now() - begun >= seconds * 1000;
  let now = known;
  while (!isOver() && (now.prefix === null || now.prefix > now.atLeast)) {
    const run = now.prefixRuns;
    const isMirrored = run % 2 === 1;
    const random = seededRandom(run + 1);
    const options = {
      width: Math.min(1600, 25 << (run >> 3)),
      weights: WEIGHTS[run % WEIGHTS.length]!,
      random: () => (run < WEIGHTS.length ? 0 : 2 * random.next()),
    };
    const order = isMirrored ? colours.toReversed() : colours;
    // Mirrored, the first row begins where the last place of the row was.
    const start = isMirrored ? (((n - now.start) & 1) as 0 | 1) : now.start;
    for (let rows = now.atLeast; rows < (now.prefix ?? n + 2) && !(isOver() && now.prefix !== null); rows++) {
      const found = searchPrefixes(order, start, rows, options);
      if (found.order === null) {
        if (found.isWhole && rows === now.atLeast) now = { ...now, atLeast: rows + 1 };
        continue;
      }
      const from = isMirrored ? found.order.map((place) => n - 1 - place).reverse() : found.order;
      const needed = rowsFrom(from, now.start);
      now = { ...now, prefix: needed };
      if (needed < now.rows) now = { ...now, rows: needed, from: from.join(' ') };
    }
    now = { ...now, prefixRuns: run + 1 };
  }
  return { ...now, prefixSeconds: addSeconds(now.prefixSeconds, begun) };
}

function addSeconds(before: number, begun: number): number {
  return Math.round((before + (performance.now() - begun) / 1000) * 10) / 10;
}

function newlyKnown(order: LeadInOrder): BestLeadIn {
  const from = leadInColours(order)
    .map((colour, place) => ({ colour, place }))
    .sort((a, b) => a.colour - b.colour || a.place - b.place)
    .map(({ place }) => place);
  const none = { walk: null, walkRuns: 0, walkSeconds: 0, prefix: null, prefixRuns: 0, prefixSeconds: 0 };
  return { ...order, rows: rowsFrom(from, order.start), atLeast: 0, ...none, from: from.join(' ') };
}

const known: BestLeadIn[] = existsSync(FILE)
  ? JSON.parse(readFileSync(FILE, 'utf8'))
  : LEAD_IN_ORDERS.map(newlyKnown);
for (let round = 0; round < ROUNDS; round++)
  for (const [at, one] of known.entries()) {
    // What is proven cannot be bettered.
    if (one.rows === one.atLeast && one.walk === one.rows && one.prefix === one.rows) continue;
    const colours = leadInColours(one);
    const now = walk(colours, prefix(colours, one, SECONDS / 2), SECONDS / 2);
    known[at] = now;
    process.stdout.write(
      `${at} ${now.order} ${now.strings}/${now.kinds}: ${now.rows} (walk ${now.walk}, prefix ${now.prefix}, at least ${now.atLeast})\n`,
    );
    const text = `${JSON.stringify(known, null, 2)}\n`;
    const beside = new URL('lead-in-best-known.json.new', import.meta.url);
    writeFileSync(beside, text);
    renameSync(beside, FILE);
  }
