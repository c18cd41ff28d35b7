/** Beginnings that are like one, and yet others. */
import { planMount } from '../mount/index.ts';
import type { Board, PaletteColour } from '../pattern/index.ts';
import { symmetry } from '../symmetry/index.ts';
import { beginBoard } from './begin.ts';
import { type StartDifference, startDifferences } from './differences.ts';
import { drawsFrom, shuffled } from './draws.ts';
import { type EndlessPicture, endlessOf, isSameFigure, shareThatDiffers } from './likeness.ts';
import { choicesOf, fitShape, type Shape } from './shape.ts';

/** One of them, with what differs. */
interface Variation {
  readonly shape: Shape;
  readonly board: Board;
  /** Share of knots that show another colour, however one is laid on the other. */
  readonly share: number;
  readonly differs: readonly StartDifference[];
}

/** What may be asked for. */
interface MoreLikeOptions {
  /** Another seed, other variations first; default 1. */
  readonly seed?: number;
  /** At most so many; default 6. */
  readonly count?: number;
}

/** Share of knots that has to differ from the first. */
export const LEAST_SHARE = 0.08;

/**
 * Variations of a beginning on as many strings, so that the same bar fits: they keep every symmetry of the endless band that it has, mount
 * as neatly, and differ from it in 8 % of their knots at least; no two of them, nor one and the first, are mirrors, shifts or recolourings
 * of each other.
 * @param palette as for `beginBoard`; a variation uses no more colours than it has
 * @returns those found, in the order of the seed; there may be fewer than asked for, or none
 * Same seed, same variations. O(shapes x rows² x strings). Rules J30 to J32.
 */
export function moreLike(
  shape: Shape,
  palette: readonly PaletteColour[],
  { seed = 1, count = 6 }: MoreLikeOptions = {},
): readonly Variation[] {
  const numberOf = new Map(palette.map(({ id }, i) => [id, i + 1]));
  const first = beginBoard(shape, palette);
  const picture = endlessOf(first.pattern, numberOf);
  const { band } = symmetry(first.pattern);
  const taken: EndlessPicture[] = [picture];
  const found: Variation[] = [];
  for (const other of shuffled(nearbyShapes(shape, palette.length), drawsFrom(seed))) {
    if (found.length >= count) break;
    const board = beginBoard(other, palette);
    const seen = endlessOf(board.pattern, numberOf);
    const share = shareThatDiffers(picture, seen);
    if (share < LEAST_SHARE || taken.some((one) => isSameFigure(one, seen))) continue;
    const plan = planMount(board.pattern.colours);
    if (!plan.neat || plan.singles.length > shape.strings % 2) continue;
    const kept = symmetry(board.pattern).band;
    if ((Object.keys(band) as (keyof typeof band)[]).some((motion) => band[motion] && !kept[motion]))
      continue;
    const differs = startDifferences(first, board);
    // What cannot be said in words is no variation that a maker could choose by them.
    if (differs.length === 0) continue;
    taken.push(seen);
    found.push({ shape: other, board, share, differs });
  }
  return found;
}

/** Shapes of the figure that are other in one or two values. */
function nearbyShapes(shape: Shape, mostColours: number): readonly Shape[] {
  const near = new Map<string, Shape>();
  const add = (wish: Partial<Shape>, from: Shape): Shape => {
    const fitted = fitShape(shape.kind, shape.strings, { ...from, ...wish });
    if (fitted.colours <= mostColours) near.set(JSON.stringify(fitted), fitted);
    return fitted;
  };
  const single = (from: Shape): readonly Shape[] => {
    const { across, size, lines, colours, width } = choicesOf(from);
    return [
      ...across.map((one) => add({ across: one }, from)),
      ...size.map((one) => add({ size: one }, from)),
      ...lines.map((one) => add({ lines: one }, from)),
      ...colours.map((one) => add({ colours: one }, from)),
      ...width.map((one) => add({ width: one }, from)),
    ];
  };
  for (const one of single(shape)) if (one.colours <= mostColours) single(one);
  near.delete(JSON.stringify(shape));
  return [...near.values()];
}
