/** The cords of a keychain in the order in which they go on the ring, and what hands do with each. */
import type { CutList } from '../../engine/index.ts';

/** A cord to cut and to hang; lengths in mm. */
export interface Cord {
  /** Place at the top of its left end; of a cord with one long end, of that end. It names the cord. */
  readonly left: number;
  /** Place of its right end; null where it has one long end. */
  readonly right: number | null;
  readonly colour: string;
  readonly cutMm: number;
  /** Where it is folded, from the end that becomes the left one; of one with a single long end, from the short end. */
  readonly foldAtMm: number;
  /** Which of its two ends is longer; null where they are alike, or there is one. */
  readonly longer: 'left' | 'right' | null;
}

/** Folds by their turns, then those with one long end. Rule N10. */
export function cordsOf({ folds, singles }: Pick<CutList, 'folds' | 'singles'>): readonly Cord[] {
  const folded = [...folds]
    .sort((a, b) => a.turn - b.turn)
    .map(({ left, right, colour, cutMm, foldAtMm }): Cord => {
      const more = foldAtMm - (cutMm - foldAtMm);
      const longer = more === 0 ? null : more > 0 ? 'left' : 'right';
      return { left, right, colour, cutMm, foldAtMm, longer };
    });
  const rest = singles.map(
    ({ place, colour, cutMm, shortMm }): Cord => ({
      left: place,
      right: null,
      colour,
      cutMm,
      foldAtMm: shortMm,
      longer: null,
    }),
  );
  return [...folded, ...rest];
}

/** A cord as a bar: shares of the longest cord and, for the fold, of its own length. */
export interface CordBar {
  readonly cord: Cord;
  readonly length: number;
  readonly fold: number;
}

/** All cords on one scale. Rule N11. */
export function barsOf(cords: readonly Cord[]): readonly CordBar[] {
  const most = Math.max(1, ...cords.map(({ cutMm }) => cutMm));
  return cords.map((cord) => ({
    cord,
    length: cord.cutMm / most,
    fold: cord.cutMm === 0 ? 0 : cord.foldAtMm / cord.cutMm,
  }));
}

/** What hands do at one moment of mounting. */
export type MountMove =
  | { readonly kind: 'fix' }
  | { readonly kind: 'pull' }
  | { readonly kind: 'compare' }
  | { readonly kind: 'cord'; readonly cord: Cord; readonly turn: number };

/** Fix the ring, hang cord by cord, pull tight and turn over, compare. Rule N12. */
export function mountMoves(cords: readonly Cord[]): readonly MountMove[] {
  return [
    { kind: 'fix' },
    ...cords.map((cord, at): MountMove => ({ kind: 'cord', cord, turn: at + 1 })),
    { kind: 'pull' },
    { kind: 'compare' },
  ];
}

/** What comes of comparing what must hang with what hangs. */
export type HangingCheck =
  | { readonly kind: 'going-on' | 'same' }
  /** The first place, from 0, where another colour hangs; `further` is the next place to the right where that one belongs, if any. */
  | { readonly kind: 'differs'; readonly place: number; readonly further: number | null };

/**
 * Compares the colours that must hang, left to right, with those tapped in so far.
 * Rule N13.
 */
export function compareHanging(must: readonly string[], hangs: readonly string[]): HangingCheck {
  const place = hangs.findIndex((colour, at) => colour !== must[at]);
  if (place >= 0) {
    const found = must.indexOf(hangs[place]!, place + 1);
    return { kind: 'differs', place, further: found < 0 ? null : found };
  }
  return { kind: hangs.length === must.length ? 'same' : 'going-on' };
}
