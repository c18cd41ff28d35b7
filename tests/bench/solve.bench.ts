/** Pictures: how soon possible ones are met, and how near others come. */
import { solvePicture } from '../../engine/index.ts';
import { keptLeast, pictureOf } from '../reference/solve-kept.ts';
import { changedPicture, POSSIBLE_KINDS, possiblePicture } from '../support/pictures.ts';
import type { BenchRow } from './bench-row.ts';
import { minAndMedian } from './measure.ts';

const BOARDS = 500;

type Target = Parameters<typeof solvePicture>[0];

interface Solved {
  readonly ms: number;
  readonly wrong: number;
}

function timed(target: Target, steps?: number): Solved {
  const began = performance.now();
  const found = solvePicture(target, steps === undefined ? {} : { steps });
  if (!found.ok) throw new Error(found.error.message);
  return { ms: performance.now() - began, wrong: found.wrong };
}

/** The slowest of many possible boards, against the three seconds that the default steps may take. */
function possibleRow(strings: number, rows: number, colours: number): BenchRow {
  const solved = Array.from({ length: BOARDS }, (_, i) =>
    timed(possiblePicture(i + 1, { strings, rows, colours }, POSSIBLE_KINDS[i % 4]!).target),
  );
  const slowest = Math.max(...solved.map(({ ms }) => ms));
  const unmet = solved.filter(({ wrong }) => wrong > 0).length;
  if (unmet > 0)
    throw new Error(`${unmet} possible boards of ${strings} x ${rows} x ${colours} were not met`);
  return {
    name: 'solvePicture, possible, slowest',
    size: strings * rows,
    unit: 'ms',
    value: slowest,
    ...minAndMedian(solved.map(({ ms }) => ms)),
    ratioTo: { name: '3 s', ratio: slowest / 3000, bound: 1 },
    note: `${strings} x ${rows} x ${colours}, ${BOARDS} boards, all met; size = places`,
  };
}

/** Wrong cells of pictures that HiGHS settled, in all, against the fewest. */
function impossibleRow(): BenchRow {
  const settled = keptLeast().filter(({ least, bound }) => least !== null && bound > 0);
  const solved = settled.map((entry) => timed(pictureOf(entry)));
  const wrong = solved.reduce((sum, one) => sum + one.wrong, 0);
  const least = settled.reduce((sum, one) => sum + one.least!, 0);
  return {
    name: 'solvePicture, impossible, 14 x 30 x 4',
    size: settled.length,
    unit: 'ms',
    value: minAndMedian(solved.map(({ ms }) => ms)).median,
    ...minAndMedian(solved.map(({ ms }) => ms)),
    ratioTo: { name: 'the fewest wrong cells, in all', ratio: wrong / least, bound: 1.05 },
    note: `size = pictures; ${wrong} wrong cells, ${least} at least by HiGHS`,
  };
}

/** A large board with 2 % of its cells changed, within ten seconds. */
function largeRow(): BenchRow {
  const target = changedPicture(1, { strings: 60, rows: 200, colours: 8 }, 0.02);
  const cells = target.rows.flat().length;
  const began = performance.now();
  let wrong = cells;
  const ended = solvePicture(target, {
    steps: 1e9,
    isCancelled: () => performance.now() - began > 10_000,
    onBest: (best) => {
      if (performance.now() - began <= 10_000) wrong = best.wrong;
    },
  });
  const ms = performance.now() - began;
  if (!ended.ok) throw new Error(ended.error.message);
  return {
    name: 'solvePicture, 60 x 200 x 8, 2 % changed',
    size: cells,
    unit: 'ms',
    value: ms,
    min: ms,
    median: ms,
    ratioTo: { name: 'wrong cells of all after 10 s', ratio: wrong / cells, bound: 0.03 },
    note: `size = cells; ${wrong} wrong`,
  };
}

export function benchSolve(): readonly BenchRow[] {
  return [possibleRow(14, 30, 4), possibleRow(24, 60, 6), impossibleRow(), largeRow()];
}
