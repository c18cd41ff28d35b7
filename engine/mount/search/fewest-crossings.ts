/**
 * Few crossings when no neat plan exists and the places are too many to be sure.
 *
 * Whether they are the fewest is proven in the tests alone (tests/reference/mount-proof.ts): no page shows it, proofs took over a third of
 * the search, and of 769 random orders of 26 to 200 places that pairs of colours do not settle they bettered one, by one crossing.
 */
import { Annealing } from './anneal.ts';
import { numberColours } from './colour-numbers.ts';
import { crossingBound } from './crossing-bound.ts';
import { countCrossings } from './neat-order.ts';
import { reduceWord } from './reduced-word.ts';
import { settle } from './settle.ts';
import type { Tell } from './tell.ts';

/** Rounds of annealing, and the steps of each for each letter left. */
const EFFORTS: Readonly<Record<Effort, { readonly rounds: number; readonly stepsALetter: number }>> = {
  full: { rounds: 2, stepsALetter: 4_000 },
  annealed: { rounds: 1, stepsALetter: 2_000 },
  quick: { rounds: 1, stepsALetter: 40 },
};

export interface FewestCrossings {
  readonly pairs: readonly [number, number][];
  /** No plan that leaves one single for each colour of odd count has fewer crossings. */
  readonly lowerBound: number;
}

/** `'full'` for an order that is mounted; `'annealed'`, mostly as good, to compare orders; `'quick'` to sort out the best of many. */
export type Effort = 'full' | 'annealed' | 'quick';

/**
 * Pairs the places with one single for each colour of odd count and few crossings.
 * @param colours colour number of each place, numbers from 0 without gaps, for which no neat plan exists
 * @returns the same pairs in the same steps for the same order, however fast the machine. Rules M5, M6.
 */
export function pairWithFewestCrossings(
  colours: readonly number[],
  effort: Effort = 'full',
  tell: Tell = () => {},
): FewestCrossings {
  const { pairs: neighbours, places } = reduceWord(colours);
  const word = numberColours(places.map((place) => colours[place]!));
  const lowerBound = Math.max(1, crossingBound(word));
  const annealing = new Annealing(word, foldInTurn(word));
  let crossings = countCrossings(annealing.pairs);
  const { rounds, stepsALetter } = EFFORTS[effort];
  // Short words need fewer steps for each letter, too.
  const share = effort === 'quick' ? 1 : Math.min(1, word.length / 100);
  const steps = Math.ceil(word.length * stepsALetter * share);
  for (let round = 0; round < rounds && crossings > lowerBound; round++)
    crossings = annealing.cool(crossings, steps, lowerBound, (part) => tell((round + part) / rounds));
  const pairs = settle(word, annealing.pairs).map(
    ([left, right]) => [places[left]!, places[right]!] as const,
  );
  return { pairs: settle(colours, [...neighbours, ...pairs]), lowerBound };
}

/** Each colour's places folded two by two from the left; of an odd count the last is single. */
function foldInTurn(colours: readonly number[]): [number, number][] {
  const open = new Map<number, number>();
  const pairs: [number, number][] = [];
  colours.forEach((colour, place) => {
    const left = open.get(colour);
    if (left === undefined) open.set(colour, place);
    else {
      pairs.push([left, place]);
      open.delete(colour);
    }
  });
  return pairs;
}
