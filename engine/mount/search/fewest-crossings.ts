/** Few crossings when no neat plan exists and the places are too many to be sure: a good plan beside a proven bound. */
import { Annealing } from './anneal.ts';
import { cancelSearch } from './cancel-search.ts';
import { crossingBound } from './crossing-bound.ts';
import { groupBound } from './group-bound.ts';
import { countCrossings } from './neat-order.ts';
import { type Tell, tellOfPart } from '../progress.ts';
import { reduceWord } from './reduced-word.ts';
import { settle } from './settle.ts';

/** Words of open folds looked at for a proof, and for the bound by groups of colours where there is none. */
const PROOF_ROOM = 30_000;
const GROUP_ROOM = 150_000;
/** Steps of annealing for each letter left. */
const STEPS_A_LETTER: Readonly<Record<Effort, number>> = { full: 4_000, annealed: 2_000, quick: 40 };
const ROUNDS = 2;

export interface FewestCrossings {
  readonly pairs: readonly [number, number][];
  /** No plan that leaves one single for each colour of odd count has fewer crossings. */
  readonly lowerBound: number;
}

/**
 * `'full'`: as {@link pairWithFewestCrossings} says; `'annealed'`: as good a plan, a bound only by pairs of colours; `'quick'`: that
 * after a short annealing.
 */
export type Effort = 'full' | 'annealed' | 'quick';

/**
 * Pairs the places with one single for each colour of odd count and few crossings.
 * @param colours colour number of each place, numbers from 0 without gaps, for which no neat plan exists
 * @returns the same pairs in the same steps for the same order, however fast the machine. Rules M5, M19.
 */
export function pairWithFewestCrossings(
  colours: readonly number[],
  effort: Effort = 'full',
  tell: Tell = () => {},
): FewestCrossings {
  const { pairs: neighbours, places } = reduceWord(colours);
  const letters = places.map((place) => colours[place]!);
  const known = [...new Set(letters)];
  const word = letters.map((colour) => known.indexOf(colour));
  const part = (from: number, to: number): Tell => tellOfPart({ onProgress: tell }, from, to);
  let lowerBound = Math.max(1, crossingBound(word));
  const annealing = new Annealing(word, foldInTurn(word));
  let crossings = countCrossings(annealing.pairs);
  const rounds = effort === 'full' ? ROUNDS : 1;
  // Short words need fewer steps for each letter, too.
  const share = effort === 'quick' ? 1 : Math.min(1, word.length / 100);
  const steps = Math.ceil(word.length * STEPS_A_LETTER[effort] * share);
  for (let round = 0; round < rounds && crossings > lowerBound; round++) {
    const to = part((0.6 * round) / rounds, (0.6 * (round + 1)) / rounds);
    crossings = annealing.cool(crossings, steps, lowerBound, to);
  }
  let settled = settle(word, annealing.pairs);
  if (effort === 'full' && settled.crossings > lowerBound) {
    // With even counts alone the number of crossings goes by twos.
    const stride = known.every((colour) => letters.filter((one) => one === colour).length % 2 === 0) ? 2 : 1;
    const fewer = cancelSearch(word, settled.crossings - stride, PROOF_ROOM, part(0.6, 0.75));
    if (fewer.pairs !== null) settled = settle(word, fewer.pairs);
    if (fewer.complete) lowerBound = settled.crossings;
    else {
      lowerBound = Math.max(lowerBound, groupBound(word, settled.pairs, GROUP_ROOM, part(0.75, 1)));
      if (stride === 2 && (lowerBound & 1) !== (settled.crossings & 1)) lowerBound++;
    }
  }
  const pairs = settled.pairs.map(([left, right]) => [places[left]!, places[right]!] as const);
  return { pairs: settle(colours, [...neighbours, ...pairs]).pairs, lowerBound };
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
