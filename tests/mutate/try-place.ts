/** Changes one place and runs the tests that reach it, the nearest first, until one notices. */
import { mutate, type Place } from './places.ts';
import type { Result, TestFile } from './record.ts';
import { type Failure, runTests } from './run-tests.ts';
import type { TreeCopy } from './tree-copy.ts';

/** The first batch of test files takes about so long, each further one twice as long as the one before. */
const FIRST_BATCH_SECONDS = 6;
/** A batch hangs that takes so many times as long as on the unchanged sources, and longer than the least. */
const PATIENCE = 10;
const LEAST_PATIENCE_SECONDS = 120;

/**
 * Test files that reach a place, in the order in which they are run: first what is quick and reaches little else, because a test
 * that was written for the place does; last those of which only part is known.
 */
export function filesFor(id: string, tests: Readonly<Record<string, TestFile>>): string[] {
  const cost = ({ state, seconds, reaches, reads }: TestFile): number =>
    state === 'partly' ? Number.MAX_VALUE : seconds * (1 + reaches.length + reads.length);
  const isNear = ({ state, reaches, reads }: TestFile): boolean =>
    state === 'partly' || (state === 'passed' && (reaches.includes(id) || reads.includes(id)));
  return Object.entries(tests)
    .filter(([, test]) => isNear(test))
    .sort(([a, one], [b, other]) => cost(one) - cost(other) || (a < b ? -1 : 1))
    .map(([file]) => file);
}

/** Cuts a list of test files into batches that take longer and longer. */
export function batchesOf(files: readonly string[], seconds: (file: string) => number): string[][] {
  const batches: string[][] = [];
  let room = 0;
  for (const file of files) {
    if (room <= 0) {
      room = FIRST_BATCH_SECONDS * 2 ** batches.length;
      batches.push([]);
    }
    batches.at(-1)!.push(file);
    room -= seconds(file);
  }
  return batches;
}

type Verdict = Pick<Result, 'outcome' | 'by' | 'test' | 'why'>;

/** Runs batches until one notices; a failure counts when it comes again. */
async function verdictOf(
  root: string,
  batches: readonly (readonly string[])[],
  tests: Readonly<Record<string, TestFile>>,
  seen: { ran: number; readonly unsteady: Failure[] },
): Promise<Verdict> {
  const run = (files: readonly string[]): ReturnType<typeof runTests> => {
    const usual = files.reduce((sum, file) => sum + tests[file]!.seconds, 0);
    return runTests(root, files, 1000 * Math.max(LEAST_PATIENCE_SECONDS, PATIENCE * usual));
  };
  const hanging = (by: string | undefined): Verdict => ({
    outcome: 'hangs',
    by: by ?? null,
    test: '',
    why: '',
  });
  for (const batch of batches) {
    let left = [...batch];
    while (left.length > 0) {
      const first = await run(left);
      seen.ran += first.passed.length;
      if (first.hangs) return hanging(first.unfinished[0]);
      if (first.failure === null) break;
      const { file, test, why } = first.failure;
      const suspects = file === null ? left : [file];
      seen.ran += suspects.length;
      const again = await run(suspects);
      if (again.hangs) return hanging(again.unfinished[0]);
      if (again.failure !== null) return { outcome: 'caught', by: file, test, why };
      seen.unsteady.push(first.failure);
      left = left.filter((one) => !suspects.includes(one) && !first.passed.includes(one));
    }
  }
  return { outcome: 'survived', by: null, test: '', why: '' };
}

/** What becomes of one place. Leaves the copy with its sources as they were. */
export async function tryPlace(
  copy: TreeCopy,
  place: Place,
  tests: Readonly<Record<string, TestFile>>,
): Promise<Result> {
  const began = performance.now();
  const files = filesFor(place.id, tests);
  const seen = { ran: 0, unsteady: [] as Failure[] };
  copy.write(place.file, mutate(copy.original(place.file), place));
  const fault = await copy.build();
  const verdict: Verdict =
    fault === null
      ? await verdictOf(
          copy.root,
          batchesOf(files, (file) => tests[file]!.seconds),
          tests,
          seen,
        )
      : {
          outcome: fault.step === 'types' ? 'does not compile' : 'caught',
          by: fault.step,
          test: '',
          why: fault.output.trim().split('\n')[0]!,
        };
  copy.restore(place.file);
  const seconds = Math.round(performance.now() - began) / 1000;
  return {
    ...verdict,
    reaching: files.filter((file) => tests[file]!.reaches.includes(place.id)).length,
    ...seen,
    seconds,
  };
}
