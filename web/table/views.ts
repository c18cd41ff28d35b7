/** How the work is seen and from which end it is begun; each named by what comes out. */
import { nothing } from 'lit';
import { type Board, type Half, knotsInRow, mirrorPattern, rowParity, weave } from '../../engine/index.ts';
import type { Cord } from './cords.ts';

/** The same band; the same begun from the right; its mirror image; the same seen by who sits opposite. Rule N71. */
export const VIEWS = ['same', 'from-right', 'mirror', 'opposite'] as const;
export type View = (typeof VIEWS)[number];

/** What a view does to words and drawings. */
export interface Sight {
  /** Side of the band from which strings are counted. */
  readonly from: Half;
  /** Whether the band is seen turned by half: what the maker has on the left is on the right. */
  readonly isTurned: boolean;
}

/** From which half one begins in a view. */
export function firstHalfIn(view: View): Half {
  return view === 'from-right' || view === 'mirror' ? 'right' : 'left';
}

export function sightOf(view: View): Sight {
  return { from: firstHalfIn(view), isTurned: view === 'opposite' };
}

/** A side of the band as it is called in a view. Rule N72. */
export function sideSeen(side: Half, { isTurned }: Sight): Half {
  if (!isTurned) return side;
  return side === 'left' ? 'right' : 'left';
}

/** Number of a place, from 1, and the side from which it is counted, as seen. Rule N72. */
export function placeSeen(
  place: number,
  strings: number,
  sight: Sight,
): { readonly number: number; readonly from: Half } {
  const number = sight.from === 'left' ? place + 1 : strings - place;
  return { number, from: sideSeen(sight.from, sight) };
}

/** Places in the order in which they are counted in a view. Rule N102. */
export function placesCounted(strings: number, { from }: Sight): readonly number[] {
  return Array.from({ length: strings }, (_, at) => (from === 'left' ? at : strings - 1 - at));
}

/** Number of a knot in its row, from 1, counted as its strings are. Rule N102. */
export function knotSeen(
  { row, k }: { readonly row: number; readonly k: number },
  { colours, start }: Pick<Board['pattern'], 'colours' | 'start'>,
  { from }: Sight,
): number {
  return from === 'left' ? k + 1 : knotsInRow(colours.length, rowParity(start, row)) - k;
}

/** A cord with left and right as they are seen. Rule N102. */
export function cordSeen<C extends Pick<Cord, 'right' | 'longer' | 'cutMm' | 'foldAtMm'>>(
  cord: C,
  sight: Sight,
): C {
  if (!sight.isTurned || cord.right === null || cord.foldAtMm === 0) return cord;
  const longer = cord.longer === null ? null : sideSeen(cord.longer, sight);
  return { ...cord, longer, foldAtMm: cord.cutMm - cord.foldAtMm };
}

/** What turns a drawing by half about its middle, or nothing; and the same for the one number in it. */
export function turned(isTurned: boolean, x: number, y: number): string | typeof nothing {
  return isTurned ? `rotate(180 ${x} ${y})` : nothing;
}

/** The board whose band is the mirror image of a board's. Twice: the board itself. */
export function mirrorBoard(board: Board): Board {
  return { ...board, pattern: mirrorPattern(board.pattern) };
}

/** How the picture of the mirror image differs. */
export interface MirrorDifference {
  /** Knots that show another colour than the board does at their place. */
  readonly differ: number;
  readonly knots: number;
}

/** Of one repeat. Under an odd number of strings every knot has another place. O(knots). Rule N73. */
export function mirrorDifference({ pattern, palette }: Board): MirrorDifference {
  const shown = weave(pattern).shown;
  const hexes = pattern.colours.map((colour) => palette.find(({ id }) => id === colour)?.hex.toLowerCase());
  const isOdd = pattern.colours.length % 2 === 1;
  let [differ, knots] = [0, 0];
  for (const row of shown)
    for (const [k, own] of row.entries()) {
      if (own < 0) continue;
      knots++;
      const other = row[row.length - 1 - k]!;
      if (isOdd || other < 0 || hexes[own] !== hexes[other]) differ++;
    }
  return { differ, knots };
}
