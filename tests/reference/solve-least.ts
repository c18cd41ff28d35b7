/**
 * Asks HiGHS for the fewest wrong cells of pictures of 14 x 30 x 4, most of which cannot be, and keeps what it says in solve-least.json; what
 * is there already is not asked again. One process, ten minutes a picture at most:
 * nice -n 19 node -e "import('vite').then(({ runnerImport }) => runnerImport('./tests/reference/solve-least.ts'))"
 */
import { writeFileSync } from 'node:fs';
import { KEPT_LEAST, type KeptLeast, keptLeast, pictureOf } from './solve-kept.ts';
import { leastByHighs } from './solve-programme.ts';

const MOST_SECONDS = 600;
const SIZE = { strings: 14, rows: 30, colours: 4 } as const;
/** Share of changed cells, 0 for drawn shapes, and how many pictures of it. */
const WANTED: readonly (readonly [number, number])[] = [
  [0.03, 35],
  [0.1, 35],
  [0, 50],
  [0.01, 60],
];

const kept: KeptLeast[] = [...keptLeast()];
for (const [share, seeds] of WANTED)
  for (let seed = 1; seed <= seeds; seed++) {
    if (kept.some((entry) => entry.share === share && entry.seed === seed)) continue;
    const entry = { ...SIZE, share, seed };
    const found = await leastByHighs(pictureOf(entry), MOST_SECONDS);
    kept.push({ ...entry, ...found });
    writeFileSync(KEPT_LEAST, `[\n${kept.map((one) => `  ${JSON.stringify(one)}`).join(',\n')}\n]\n`);
    process.stderr.write(
      `${share} ${seed}: ${found.least ?? `at least ${found.bound}`} in ${found.seconds} s\n`,
    );
  }
