/** Colourways for a group: one pattern, each of its makers in colours of their own. */
import { differences, HARD_DIFFERENCE, labInEachSight, SIGHTS, type SightLabs } from '../colour/index.ts';
import type { Board, Colourway } from '../pattern/index.ts';
import { drawsFrom, shuffled } from './draws.ts';

/** A thread that may be taken, with the name it goes by. */
interface ThreadColour {
  readonly name: string;
  readonly hex: string;
}

interface GroupOptions {
  /** Default 1. */
  readonly seed?: number;
  /** Default 12. */
  readonly count?: number;
}

/** Colourways of a group. */
const GROUP = 12;
/** Draws for one colourway before fewer are given. */
const MOST_TRIES = 2000;

/**
 * Colourways of a board, each of as many threads as its strings have: within one every two threads can be told apart in every sight (C4), and
 * of any two colourways some colour can, in every sight, so that nobody takes another's keychain for their own.
 * @param threads to choose from; those that are hard to tell apart from others are of less use
 * @param nameOf  what the nth colourway is called, from 1
 * @returns as many as are found; the same for the same seed
 * @throws RangeError when a hex is not `#rrggbb`
 * Rule J42.
 */
export function groupColourways(
  board: Board,
  threads: readonly ThreadColour[],
  nameOf: (number: number) => string,
  { seed = 1, count = GROUP }: GroupOptions = {},
): readonly Colourway[] {
  const draw = drawsFrom(seed);
  const seen = threads.map((thread) => ({ thread, labs: labInEachSight(thread.hex) }));
  const used = new Set(board.pattern.colours);
  const ids = board.palette.map(({ id }) => id).filter((id) => used.has(id));
  const taken: (readonly SightLabs[])[] = [];
  const ways: Colourway[] = [];
  for (let tries = 0; ways.length < count && tries < MOST_TRIES; tries++) {
    const chosen: typeof seen = [];
    for (const one of shuffled(seen, draw)) {
      if (chosen.length === ids.length) break;
      if (chosen.every((other) => isTold(one.labs, other.labs))) chosen.push(one);
    }
    const labs = chosen.map((one) => one.labs);
    const isOwn = taken.every((other) => other.some((lab, i) => isTold(lab, labs[i]!)));
    if (chosen.length < ids.length || !isOwn) continue;
    taken.push(labs);
    const colours = ids.map((id, i) => {
      const { name, hex } = chosen[i]!.thread;
      return { id, name, hex };
    });
    ways.push({ id: `group-${ways.length + 1}`, name: nameOf(ways.length + 1), colours });
  }
  return ways;
}

function isTold(one: SightLabs, other: SightLabs): boolean {
  const deltaE = differences(one, other);
  return SIGHTS.every((sight) => deltaE[sight] >= HARD_DIFFERENCE);
}
