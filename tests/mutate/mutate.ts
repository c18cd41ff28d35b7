/**
 * `npm run mutate -- --seed N [--places 60] [--tree PATH] [--out FILE] [--only ID,ID] [--files PREFIX,PREFIX]`
 * Changes the product one place at a time and says which changes `npm test` catches. How to read it: README.md beside this file.
 */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { parseArgs } from 'node:util';
import { draw } from './draw.ts';
import { allPlaces, type Place } from './places.ts';
import { type Lane, mapReach, share } from './reach-map.ts';
import { hashOf, RunRecord } from './record.ts';
import { listTestFiles } from './run-tests.ts';
import { lineOf, summaryOf } from './summary.ts';
import { TreeCopy } from './tree-copy.ts';
import { tryPlace } from './try-place.ts';
import { Turns } from './turns.ts';

const LANES = 2;

const { values } = parseArgs({
  // Node was started with -e, so that there is no name of a script to leave out.
  args: process.argv.slice(1),
  options: {
    seed: { type: 'string' },
    places: { type: 'string', default: '60' },
    tree: { type: 'string', default: '.' },
    out: { type: 'string' },
    only: { type: 'string', multiple: true },
    files: { type: 'string', multiple: true },
  },
});

const say = (line: string): void => {
  process.stdout.write(`${new Date().toISOString().slice(11, 19)} ${line}\n`);
};
const listed = (given: readonly string[] | undefined): string[] | null =>
  given?.flatMap((some) => some.split(',').map((one) => one.trim())) ?? null;

/** A whole number from 0. @throws RangeError */
function wholeNumber(name: string, given: string | undefined): number {
  if (given === undefined || !/^\d+$/.test(given))
    throw new RangeError(`--${name} needs a whole number, not ${given}`);
  return Number(given);
}

const tree = resolve(values.tree);
const only = listed(values.only);
const prefixes = listed(values.files);
const candidates = allPlaces(tree);

/** The places named, or else those of the seed. */
function turnsOf(): Turns {
  if (only === null)
    return new Turns([
      ...draw(candidates, wholeNumber('seed', values.seed), wholeNumber('places', values.places)).values(),
    ]);
  const places = only.map((id): Place => {
    const place = candidates.find((one) => one.id === id);
    if (place === undefined) throw new RangeError(`no such place in ${tree}: ${id}`);
    return place;
  });
  return new Turns([{ wanted: places.length, places }]);
}

const turns = turnsOf();
const folder = mkdtempSync(join(tmpdir(), 'larkboard-mutate-'));
// What was ended a moment ago may still be writing there.
process.on('exit', () => rmSync(folder, { recursive: true, force: true, maxRetries: 10 }));
for (const signal of ['SIGINT', 'SIGTERM'] as const) process.on(signal, () => process.exit(1));

say(`${turns.places.length} of ${candidates.length} places of ${tree}, copied to ${folder}`);
const lanes: Lane[] = Array.from({ length: LANES }, (_, i) => ({
  copy: new TreeCopy(tree, join(folder, `tree-${i}`)),
  log: join(folder, `reached-${i}`),
}));
const testFiles = (await listTestFiles(lanes[0]!.copy.root)).filter(
  (file) => prefixes === null || prefixes.some((prefix) => file.startsWith(prefix)),
);
if (testFiles.length === 0) throw new RangeError('no test file is left to run');

const out = resolve(
  values.out ?? join(tree, 'dist', 'mutation', only === null ? `seed-${values.seed}.json` : 'only.json'),
);
const record = new RunRecord(out, {
  seed: only === null ? Number(values.seed) : null,
  places: turns.places.map(({ id }) => id),
  testFiles,
  product: hashOf(tree, /^(?:engine|server|web)\/.*\.ts$/),
  tree: hashOf(tree, /./),
});
await mapReach(lanes, turns.places, record, say);
say('every test file is known; now the places');

for (const [id, { outcome }] of Object.entries(record.results))
  turns.note(id, outcome === 'does not compile');
await share(
  lanes,
  () => turns.next(),
  async ({ copy }, place) => {
    const result = await tryPlace(copy, place, record.tests);
    record.noteResult(place.id, result);
    turns.note(place.id, result.outcome === 'does not compile');
    say(lineOf(place.id, result));
  },
);
const sourceLine = ({ file, start }: Place): string => {
  const text = lanes[0]!.copy.original(file);
  return text.slice(text.lastIndexOf('\n', start) + 1, text.indexOf('\n', start)).trim();
};
process.stdout.write(`\n${summaryOf(record.results, turns.places, sourceLine)}\n\n${out}\n`);
