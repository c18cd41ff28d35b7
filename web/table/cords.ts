/** The cords of a keychain in the order in which they go on the ring or are laid out, and what hands do with each. */
import { type BeginKind, type Board, type CutList, headKnotOf } from '../../engine/index.ts';

/** A cord to cut and to hang; lengths in mm. */
export interface Cord {
  /** Place at the top of its left end; of a cord with one long end, of that end. It names the cord. */
  readonly left: number;
  /** Place of its right end; null where it has one long end. */
  readonly right: number | null;
  readonly colour: string;
  readonly cutMm: number;
  /** Where it is folded, from the end that becomes the left one; of one with a single long end, from the short end; 0 where it is not folded. */
  readonly foldAtMm: number;
  /** Which of its two ends is longer; null where they are alike, or there is one. */
  readonly longer: 'left' | 'right' | null;
}

/** Folds by their turns, where they have any, then those with one long end. Rule N10. */
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

/** All folded in the middle: each cord twice as long as its longer end. Rule N88. */
export function foldedInMiddle(cords: readonly Cord[]): readonly Cord[] {
  return cords.map((cord): Cord => {
    if (cord.right === null) return cord;
    const half = Math.max(cord.foldAtMm, cord.cutMm - cord.foldAtMm);
    return { ...cord, cutMm: 2 * half, foldAtMm: half, longer: null };
  });
}

/** How much thread that wastes, in mm. */
export function middleWaste(cords: readonly Cord[]): number {
  const sum = (list: readonly Cord[]): number => list.reduce((all, { cutMm }) => all + cutMm, 0);
  return sum(foldedInMiddle(cords)) - sum(cords);
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

/** What hands do at one moment of mounting, or of beginning without a ring. */
export type MountMove =
  /** `fix`, `pull`: the ring. `stick`: fix it. `gather`: all loose cords. `loop`: all cords, at their folds. `close`: what closes the loop. `lay`: spread the strings. */
  | { readonly kind: 'fix' | 'pull' | 'stick' | 'gather' | 'loop' | 'close' | 'lay' | 'compare' }
  | { readonly kind: 'cord'; readonly cord: Cord; readonly turn: number };

/**
 * On a ring: fix it, hang cord by cord, pull tight and turn over, compare. Over a stick: fix it, lay cord by cord, compare. Loose or with a
 * loop: take all together, close the loop, spread the strings, compare. Rules N12, B285.
 */
export function mountMoves(cords: readonly Cord[], piece: Board['piece'] = {}): readonly MountMove[] {
  const one = cords.map((cord, at): MountMove => ({ kind: 'cord', cord, turn: at + 1 }));
  const compare: MountMove = { kind: 'compare' };
  switch (piece.begin) {
    case 'loose':
      return [{ kind: 'gather' }, { kind: 'lay' }, compare];
    case 'loop':
      return [
        { kind: 'loop' },
        ...(headKnotOf(piece) === 'none' ? [] : [{ kind: 'close' } as const]),
        { kind: 'lay' },
        compare,
      ];
    case 'stick':
      return [{ kind: 'stick' }, ...one, compare];
    default:
      return [{ kind: 'fix' }, ...one, { kind: 'pull' }, compare];
  }
}

/** Whether all cords are there at once, so that none is hung by itself. */
export function isBundle(begin: BeginKind | undefined): boolean {
  return begin === 'loose' || begin === 'loop';
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
