/// <reference types="vite/client" />
/**
 * Runs every function named `bench…` of the `*.bench.ts` files and rewrites `tests/bench/results.md`.
 * With words after `npm run bench --`, only the files whose names contain one of them, printed and not written.
 * Ends with status 1 when a ratio is outside its bound.
 */
import { execFileSync } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import { cpus } from 'node:os';
import type { Bench, BenchRow } from './bench-row.ts';
import { formatReport, isHeld, type RunFacts } from './report.ts';

const files = import.meta.glob<Record<string, unknown>>('./*.bench.ts', { eager: true });

function git(...args: readonly string[]): string {
  return execFileSync('git', args, { encoding: 'utf8' }).trim();
}

function factsOfRun(): RunFacts {
  const isChanged =
    git('status', '--porcelain', '--', 'engine', 'tests/bench', ':!tests/bench/results.md') !== '';
  return {
    date: new Date().toISOString().slice(0, 10),
    commit: `${git('rev-parse', '--short', 'HEAD')}${isChanged ? ' with changes' : ''}`,
    cpu: cpus()[0]?.model ?? 'unknown CPU',
    cores: cpus().length,
    node: process.versions.node,
  };
}

const words = process.argv.slice(2);
const chosen = Object.entries(files).filter(
  ([path]) => words.length === 0 || words.some((word) => path.includes(word)),
);
if (chosen.length === 0) throw new RangeError(`no bench file is named like ${words.join(' or ')}`);
const rows: BenchRow[] = [];
for (const [path, exports] of chosen) {
  for (const [name, bench] of Object.entries(exports)) {
    if (!name.startsWith('bench') || typeof bench !== 'function') continue;
    process.stderr.write(`${path} ${name}\n`);
    rows.push(...(await (bench as Bench)()));
  }
}
const report = formatReport(rows, factsOfRun());
process.stdout.write(report);
if (words.length === 0) writeFileSync('tests/bench/results.md', report);
const broken = rows.filter((row) => !isHeld(row));
for (const row of broken) process.stderr.write(`not held: ${row.name}, size ${row.size}\n`);
if (broken.length > 0) process.exitCode = 1;
