/** What is to be said about each colourway of a set before anybody cuts a string. */
import { checkPalette, type HardPair } from '../colour/index.ts';
import type { MountPlan } from '../mount/index.ts';
import {
  type Board,
  type ColourId,
  type Colourway,
  dressBoard,
  paletteIn,
  threadsIn,
} from '../pattern/index.ts';
import { type ColourMeetings, colourMeetings } from './meetings.ts';

/** Two threads of a colourway that are hard to tell apart, and how often they lie side by side. */
export interface AlikePair extends HardPair {
  /** Neighbouring knots in the pattern, as it stands once. */
  readonly meetings: number;
}

/** One colourway as it will be made. */
export interface ColourwayMarks {
  /** The board as one keychain in these colours; see `dressBoard`. */
  readonly board: Board;
  /** How it mounts, colours of one hex being one; null where that is not known. */
  readonly plan: MountPlan | null;
  /** Colours whose bars will show on the back, each once. */
  readonly showing: readonly ColourId[];
  /**
   * When colours that became one make the order cross more than the board's own colours do: what mounting them as the
   * two they are on the board comes to instead. Else null.
   */
  readonly apart: { readonly crossings: number; readonly furtherSingles: number } | null;
  /** Palette colours on strings that the colourway does not name: they look as on the board. */
  readonly missing: readonly ColourId[];
  /** Palette colours on strings that became one thread, by two or more. */
  readonly joined: readonly (readonly ColourId[])[];
  /** Worst first. */
  readonly alike: readonly AlikePair[];
  /** Whether none of the above is to be looked at. */
  readonly isFine: boolean;
}

/**
 * The marks of each colourway, null being the board's own colours. What the pattern alone decides is computed once for all.
 * @param planOf how a colourway's board is mounted, as by `planBoard`; null where that is not known
 * @throws RangeError when a string's colour is not in the palette
 * O(rows x strings + colourways x colours²), and a plan for each. Rules E2 to E4.
 */
export function markColourways(
  board: Board,
  colourways: readonly (Colourway | null)[],
  planOf: (board: Board) => MountPlan | null,
): readonly ColourwayMarks[] {
  const meetings = colourMeetings(board.pattern);
  const used = [...new Set(board.pattern.colours)];
  return colourways.map((colourway) => {
    const dressed = dressBoard(board, colourway);
    const plan = planOf(dressed);
    const threads = threadsIn(board, colourway);
    const missing = paletteIn(board.palette, colourway)
      .filter(({ id, isMissing }) => isMissing && used.includes(id))
      .map(({ id }) => id);
    const groups = new Map<ColourId, ColourId[]>();
    for (const { id } of board.palette)
      if (used.includes(id)) groups.set(threads.get(id)!, [...(groups.get(threads.get(id)!) ?? []), id]);
    const joined = [...groups.values()].filter((group) => group.length > 1);
    const alike = alikeIn(dressed, groups, meetings);
    const own = joined.length === 0 ? plan : planOf(board);
    const apart =
      plan !== null && own !== null && plan.crossings.length > own.crossings.length
        ? { crossings: own.crossings.length, furtherSingles: own.singles.length - plan.singles.length }
        : null;
    return {
      board: dressed,
      plan,
      showing: [...new Set(plan?.faults.map(({ colour }) => colour))],
      apart,
      missing,
      joined,
      alike,
      isFine: plan?.neat === true && missing.length === 0 && joined.length === 0 && alike.length === 0,
    };
  });
}

function alikeIn(
  { palette, pattern }: Board,
  groups: ReadonlyMap<ColourId, readonly ColourId[]>,
  meetings: ColourMeetings,
): readonly AlikePair[] {
  const onStrings = new Set(pattern.colours);
  return checkPalette(palette.filter(({ id }) => onStrings.has(id))).pairs.map((pair) => {
    const [one, two] = pair.colours.map((thread) => groups.get(thread) ?? []) as [ColourId[], ColourId[]];
    let count = 0;
    for (const a of one) for (const b of two) count += meetings(a, b);
    return { ...pair, meetings: count };
  });
}
