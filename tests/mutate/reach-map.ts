/** Which test file reaches which place: every test file is run once on sources that tell. */
import { existsSync, readFileSync, rmSync } from 'node:fs';
import { instrument, SAID } from './instrument.ts';
import type { Place } from './places.ts';
import type { RunRecord, TestFile } from './record.ts';
import { runTests, type TestRun } from './run-tests.ts';
import type { TreeCopy } from './tree-copy.ts';

/** Longest time for one test file alone. */
const LIMIT_MS = 1_200_000;
const HOOK = new URL('./reach-hook.js', import.meta.url).href;

/** One copy of the tree, in which one thing runs at a time. */
export interface Lane {
  readonly copy: TreeCopy;
  /** File to which its instrumented sources append. */
  readonly log: string;
}

/** Has every lane take the next item until none is left. */
export async function share<T>(
  lanes: readonly Lane[],
  next: () => T | undefined,
  work: (lane: Lane, item: T) => Promise<void>,
): Promise<void> {
  const drive = async (lane: Lane): Promise<void> => {
    for (let item = next(); item !== undefined; item = next()) await work(lane, item);
  };
  await Promise.all(lanes.map(drive));
}

/** Ids of the places that a log names, by number, and of those whose source was read as text. */
export function reachedPlaces(log: string, places: readonly Place[]): Pick<TestFile, 'reaches' | 'reads'> {
  const lines = new Set(log.split('\n'));
  const ids = (holds: (place: Place, i: number) => boolean): string[] =>
    places.filter(holds).map(({ id }) => id);
  return {
    reaches: ids((_, i) => lines.has(String(i))),
    reads: ids(({ file }) => lines.has(`read ${file}`)),
  };
}

function whyOf(run: TestRun): string | null {
  if (run.hangs) return 'it does not end';
  return run.failure === null ? null : `${run.failure.test}: ${run.failure.why}`;
}

/** Builds every copy. @throws Error when the tree does not build as it is */
async function buildAll(lanes: readonly Lane[]): Promise<void> {
  for (const { copy } of lanes) {
    const fault = await copy.build();
    if (fault !== null) throw new Error(`${fault.step} of ${copy.root} do not build: ${fault.output}`);
  }
}

/** Completes the record with every test file. Afterwards the copies are as the tree is, and built. */
export async function mapReach(
  lanes: readonly Lane[],
  places: readonly Place[],
  record: RunRecord,
  say: (line: string) => void,
): Promise<void> {
  const numbered = new Map<string, (readonly [Place, number])[]>();
  for (const [i, place] of places.entries())
    numbered.set(place.file, [...(numbered.get(place.file) ?? []), [place, i]]);
  const missing = record.key.testFiles.filter((file) => record.tests[file] === undefined);
  if (missing.length > 0) {
    for (const { copy, log } of lanes)
      for (const [file, own] of numbered) copy.write(file, instrument(copy.original(file), own, log));
    await buildAll(lanes);
  }
  const queue = [...missing];
  await share(
    lanes,
    () => queue.shift(),
    async ({ copy, log }, file) => {
      rmSync(log, { force: true });
      const began = performance.now();
      const run = await runTests(copy.root, [file], LIMIT_MS, {
        NODE_OPTIONS: `${process.env.NODE_OPTIONS ?? ''} --import=${HOOK}`,
        MUTATE_REACHED: log,
        MUTATE_ROOT: copy.root,
        MUTATE_SAID: SAID,
      });
      const seconds = Math.round(performance.now() - began) / 1000;
      const { reaches, reads } = reachedPlaces(existsSync(log) ? readFileSync(log, 'utf8') : '', places);
      const why = whyOf(run);
      record.noteTest(file, {
        state: why === null ? 'passed' : 'partly',
        seconds,
        reaches,
        reads,
        ...(why !== null && { why }),
      });
      say(`${file} reaches ${reaches.length}${why === null ? '' : `, but fails here: ${why}`}`);
    },
  );
  for (const { copy } of lanes) for (const file of numbered.keys()) copy.restore(file);
  await buildAll(lanes);
  // What fails only because it is watched is told apart from what fails anyway; `checked` keeps that from being asked twice.
  const doubtful = Object.entries(record.tests).filter(
    ([, test]) => test.state === 'partly' && !isChecked(test.why),
  );
  await share(
    lanes,
    () => doubtful.shift(),
    async ({ copy }, [file, test]) => {
      const why = whyOf(await runTests(copy.root, [file], LIMIT_MS));
      record.noteTest(file, {
        ...test,
        state: why === null ? 'partly' : 'failing',
        why: why ?? `${CHECKED}${test.why}`,
      });
      if (why !== null) say(`${file} is left out, it fails on the unchanged sources: ${why}`);
    },
  );
}

const CHECKED = 'only while watched: ';
const isChecked = (why: string | undefined): boolean => why?.startsWith(CHECKED) ?? false;
