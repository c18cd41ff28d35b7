/**
 * Prints how many random orders `recolour` proves within 1, 10 and 60 seconds of processor time; kept in recolour-proofs.md. Up to an hour:
 * node -e "import('vite').then(({ runnerImport }) => runnerImport('./tests/reference/recolour-proofs.ts'))"
 */
import { RecolourSearch } from '../../engine/mount/search/recolour-search.ts';
import { reduceWord } from '../../engine/mount/search/reduced-word.ts';
import { seededRandom } from '../support/seeded-random.ts';

const RUNS = 40;
const LIMITS_MS = [1_000, 10_000, 60_000] as const;

function numbered(colours: readonly number[]): number[] {
  const known = [...new Set(colours)];
  return colours.map((colour) => known.indexOf(colour));
}

/** Milliseconds of processor time until the order of drawn colours is proven; null when the last limit is not enough. */
function msToProof(places: number, run: number): number | null {
  const kinds = 2 + (run % 11);
  const random = seededRandom(places * 1000 + run);
  const colours = numbered(Array.from({ length: places }, () => random.below(kinds)));
  const word = numbered(reduceWord(colours).places.map((place) => colours[place]!));
  const { user, system } = process.cpuUsage();
  const used = (): number => {
    const now = process.cpuUsage();
    return (now.user + now.system - user - system) / 1000;
  };
  if (word.length === 0) return used();
  const search = new RecolourSearch(word, kinds);
  while (search.step()) if (used() > LIMITS_MS[2]) return null;
  return search.lowerBound === search.best.price ? used() : null;
}

for (const places of [60, 100, 140, 200]) {
  const times = Array.from({ length: RUNS }, (_, run) => msToProof(places, run));
  const within = LIMITS_MS.map((limit) => times.filter((ms) => ms !== null && ms <= limit).length);
  process.stdout.write(`| ${places} | ${RUNS} | ${within.join(' | ')} |\n`);
}
