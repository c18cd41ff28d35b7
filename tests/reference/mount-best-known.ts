/**
 * Writes mount-best-known.json: for each of the large orders the fewest crossings that long annealing runs find, with
 * their seeds and steps. Takes about half an hour of one core:
 * node -e "import('vite').then(({ runnerImport }) => runnerImport('./tests/reference/mount-best-known.ts'))"
 */
import { writeFileSync } from 'node:fs';
import { Annealing } from '../../engine/mount/search/anneal.ts';
import { anneal } from './mount-anneal.ts';
import { coloursOf, LARGE_ORDERS, type LargeOrder } from './mount-orders.ts';

export interface BestKnown extends LargeOrder {
  /** What each run found, by its seed: 1, 2, 3, with so many steps. */
  readonly annealed: readonly number[];
  readonly steps: number;
  /** What the engine's own annealing finds in long runs. */
  readonly longer: number;
}

const STEPS = 8_000_000;
/** Steps of the engine's annealing, five times over. */
const LONGER = 8_000_000;
/** Fewer for the two orders that take longest. */
const stepsFor = ({ places, kinds, order }: LargeOrder): number =>
  places === 200 && (order === 'stirred' || kinds === 12) ? 1_000_000 : STEPS;
const SEEDS = [1, 2, 3];

function annealLonger(colours: readonly number[]): number {
  const open = new Map<number, number>();
  const pairs: [number, number][] = [];
  colours.forEach((colour, place) => {
    const left = open.get(colour);
    if (left === undefined) open.set(colour, place);
    else pairs.push([left, place]);
    if (left !== undefined) open.delete(colour);
  });
  const annealing = new Annealing(colours, pairs);
  let crossings = pairs.flatMap(([a, b]) => pairs.filter(([c, d]) => a < c && c < b && b < d)).length;
  for (let round = 0; round < 5; round++) crossings = annealing.cool(crossings, LONGER, 0, () => {});
  return crossings;
}

const found: BestKnown[] = [];
for (const order of LARGE_ORDERS) {
  const colours = coloursOf(order);
  const annealed = SEEDS.map((seed) => anneal(colours, seed, stepsFor(order)));
  const longer = annealLonger(colours);
  process.stdout.write(`${JSON.stringify({ ...order, annealed, longer })}\n`);
  found.push({ ...order, annealed, steps: stepsFor(order), longer });
}
writeFileSync(
  new URL('mount-best-known.json', import.meta.url),
  `[\n${found.map((one) => `  ${JSON.stringify(one)}`).join(',\n')}\n]\n`,
);
