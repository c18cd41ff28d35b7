/** What a mutation run has found so far, kept in a file so that it goes on where it was interrupted. */
import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readdirSync, readFileSync, renameSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import type { Failure } from './run-tests.ts';

/** How a test file did on the unchanged sources. */
export interface TestFile {
  /**
   * `partly`: it fails while reach is recorded, though not otherwise, so it may reach more than it told and is run for every place.
   * `failing`: it fails on the unchanged sources and is not run at all, since nobody could say what its failure means.
   */
  readonly state: 'passed' | 'partly' | 'failing';
  /** From the start of the runner to its end. */
  readonly seconds: number;
  /** Ids of the places it runs. */
  readonly reaches: readonly string[];
  /** Ids of the places whose source it reads as text. */
  readonly reads: readonly string[];
  /** Why it failed. */
  readonly why?: string;
}

export interface Result {
  /** `caught` and `hangs` are what `npm test` notices; a place that does not compile is no place. */
  readonly outcome: 'caught' | 'hangs' | 'survived' | 'does not compile';
  /** Test file, or the step of the build, which noticed. */
  readonly by: string | null;
  readonly test: string;
  readonly why: string;
  /** Test files known to run the place. */
  readonly reaching: number;
  /** Test files that were run, those included which only read its source. */
  readonly ran: number;
  readonly seconds: number;
  /** Failures that did not come again with the same change; they count for nothing. */
  readonly unsteady: readonly Failure[];
}

/** Which run this is: two that differ here are not to be mixed. */
export interface RunKey {
  readonly seed: number | null;
  /** Ids of the places in the order of their turn, spares included. */
  readonly places: readonly string[];
  readonly testFiles: readonly string[];
  /** Of the product sources, by which two runs are comparable. */
  readonly product: string;
  /** Of the whole tree. */
  readonly tree: string;
}

const LEFT_OUT = /^(?:node_modules|\.git|dist|data)(?:\/|$)|\.md$/;

/** Hash of the files of a tree that a pattern fits. */
export function hashOf(root: string, fits: RegExp): string {
  const hash = createHash('sha256');
  const below = (folder: string): string[] =>
    readdirSync(join(root, folder), { withFileTypes: true }).flatMap((entry) => {
      const path = folder === '' ? entry.name : `${folder}/${entry.name}`;
      if (LEFT_OUT.test(path)) return [];
      return entry.isDirectory() ? below(path) : [path];
    });
  for (const path of below('').sort())
    if (fits.test(path)) hash.update(`${path}\n`).update(readFileSync(join(root, ...path.split('/'))));
  return hash.digest('hex').slice(0, 16);
}

export class RunRecord {
  readonly key: RunKey;
  readonly tests: Record<string, TestFile>;
  readonly results: Record<string, Result>;
  readonly #file: string;

  /** Goes on with what the file holds. @throws Error when it holds another run */
  constructor(file: string, key: RunKey) {
    this.#file = file;
    this.key = key;
    const held = existsSync(file)
      ? (JSON.parse(readFileSync(file, 'utf8')) as Pick<RunRecord, 'key' | 'tests' | 'results'>)
      : { key, tests: {}, results: {} };
    const other = Object.entries(key).filter(
      ([name, value]) => JSON.stringify(held.key[name as keyof RunKey]) !== JSON.stringify(value),
    );
    if (other.length > 0) {
      const names = other.map(([name]) => name).join(', ');
      throw new Error(`${file} holds a run with other ${names}: remove it or name another with --out`);
    }
    this.tests = held.tests;
    this.results = held.results;
  }

  noteTest(file: string, test: TestFile): void {
    this.tests[file] = test;
    this.#save();
  }

  noteResult(id: string, result: Result): void {
    this.results[id] = result;
    this.#save();
  }

  /** Whole or not at all, whenever the run is interrupted. */
  #save(): void {
    mkdirSync(dirname(this.#file), { recursive: true });
    const { key, tests, results } = this;
    writeFileSync(`${this.#file}.new`, `${JSON.stringify({ key, results, tests }, null, 1)}\n`);
    renameSync(`${this.#file}.new`, this.#file);
  }
}
