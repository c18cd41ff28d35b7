/** Runs test files of a tree and says which of them fail. */
import { existsSync, readFileSync, rmSync } from 'node:fs';
import { join, relative, sep } from 'node:path';
import { fileURLToPath } from 'node:url';
import { runNode } from './run-command.ts';

/** What the reporter writes. */
export type OutcomeLine =
  | { readonly kind: 'begun' | 'passed'; readonly file: string }
  | { readonly kind: 'failed'; readonly file: string; readonly test: string; readonly why: string }
  /** An error outside of any test; the run fails by it. */
  | { readonly kind: 'unhandled'; readonly why: string };

export interface Failure {
  /** Null when it belongs to no file: an error outside of any test. */
  readonly file: string | null;
  readonly test: string;
  readonly why: string;
}

export interface TestRun {
  readonly hangs: boolean;
  readonly passed: readonly string[];
  /** Begun and neither passed nor failed. */
  readonly unfinished: readonly string[];
  /** The first failure, at which the run stops. */
  readonly failure: Failure | null;
}

const VITEST = 'node_modules/vitest/vitest.mjs';
const REPORTER = fileURLToPath(new URL('./outcome-reporter.js', import.meta.url));

/** The test files that `npm test` runs, sorted. */
export async function listTestFiles(root: string): Promise<string[]> {
  const { code, output } = await runNode([VITEST, 'list', '--filesOnly', '--json'], {
    cwd: root,
    limitMs: 120_000,
  });
  if (code !== 0) throw new Error(`the test files of ${root} cannot be listed: ${output}`);
  const found = JSON.parse(output.slice(output.indexOf('['))) as { readonly file: string }[];
  return [...new Set(found.map(({ file }) => relative(root, file).split(sep).join('/')))].sort();
}

/** One test file after the other, up to the first failure. @throws Error when the runner itself breaks */
export async function runTests(
  root: string,
  files: readonly string[],
  limitMs: number,
  env: NodeJS.ProcessEnv = {},
): Promise<TestRun> {
  const outcome = join(root, 'dist', 'mutate-outcome.jsonl');
  rmSync(outcome, { force: true });
  const args = ['run', ...files, '--bail=1', '--maxWorkers=1', `--reporter=${REPORTER}`];
  const end = await runNode([VITEST, ...args], {
    cwd: root,
    limitMs,
    env: { ...env, MUTATE_OUTCOME: outcome },
  });
  const text = existsSync(outcome) ? readFileSync(outcome, 'utf8') : '';
  const lines = text
    .split('\n')
    .filter((line) => line !== '')
    .map((line) => JSON.parse(line) as OutcomeLine);
  const failures = lines.flatMap((line): Failure[] => {
    if (line.kind === 'failed') return [line];
    return line.kind === 'unhandled' ? [{ file: null, test: 'outside of any test', why: line.why }] : [];
  });
  const of = (kind: OutcomeLine['kind']): string[] =>
    lines.flatMap((line) => (line.kind === kind && 'file' in line ? [line.file] : []));
  const ended = new Set([...of('passed'), ...of('failed')]);
  const run: TestRun = {
    hangs: end.hangs,
    passed: of('passed'),
    unfinished: of('begun').filter((file) => !ended.has(file)),
    failure: failures[0] ?? null,
  };
  const isExplained =
    end.hangs || (end.code === 0 ? files.every((file) => ended.has(file)) : run.failure !== null);
  if (!isExplained)
    throw new Error(`the test runner ended with ${end.code} in ${root}: ${end.output.slice(-4000)}`);
  return run;
}
