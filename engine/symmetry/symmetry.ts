/** What of a pattern is the same from both sides, and what breaks it. */
import { knotsInRow, MIRRORED_KNOT, type Pattern, rowParity, rowStride } from '../pattern/index.ts';
import { weave } from '../weave/index.ts';
import { type Frieze, type FriezeSymmetries, friezeOf, friezeSymmetries } from './frieze.ts';

/** A place where left and right differ; only the left one of two is named. Strings and knots from 0. */
export type SymmetryBreak =
  | { readonly of: 'order'; readonly place: number }
  | { readonly of: 'knots' | 'picture'; readonly row: number; readonly k: number };

/** What {@link symmetry} finds. */
export interface Symmetry {
  /** Left-right mirror of the order of the strings, of the knots (a knot on the middle line is exempt), of the picture. */
  readonly mirror: { readonly order: boolean; readonly knots: boolean; readonly picture: boolean };
  /** Frieze group of the picture repeated until the colours recur. */
  readonly frieze: Frieze;
  /** The symmetries behind the name of the group. */
  readonly band: FriezeSymmetries;
  /** Every place that breaks the left-right mirror; empty exactly when all three hold. */
  readonly breaks: readonly SymmetryBreak[];
}

/**
 * Symmetry of one repeat, and of the endless band.
 *
 * Under an odd number of strings the mirror exchanges the two staggers, so a row with knots is never its own mirror image:
 * then each tied knot breaks `knots` and `picture`, and the band can at best have a glide.
 * O(knots) for the mirror, O(knots x repeats until the colours recur) for the group while that is at most
 * 20,000,000 cells; see frieze.ts beyond. Rules S1 to S5.
 */
export function symmetry(pattern: Pattern): Symmetry {
  const breaks = mirrorBreaks(pattern);
  const band = friezeSymmetries(pattern);
  const isKept = (of: SymmetryBreak['of']): boolean => !breaks.some((found) => found.of === of);
  return {
    mirror: { order: isKept('order'), knots: isKept('knots'), picture: isKept('picture') },
    frieze: friezeOf(band),
    band,
    breaks,
  };
}

/** Every place that breaks the left-right mirror, as {@link symmetry} has them. O(knots). */
export function mirrorBreaks(pattern: Pattern): readonly SymmetryBreak[] {
  return [...orderBreaks(pattern), ...rowBreaks(pattern, 'knots'), ...rowBreaks(pattern, 'picture')];
}

function orderBreaks({ colours }: Pattern): SymmetryBreak[] {
  const breaks: SymmetryBreak[] = [];
  for (let place = 0; place < colours.length >> 1; place++)
    if (colours[place] !== colours[colours.length - 1 - place]) breaks.push({ of: 'order', place });
  return breaks;
}

/** Cells whose mirror image differs, in knots or in the colour that shows. */
function rowBreaks(pattern: Pattern, of: 'knots' | 'picture'): SymmetryBreak[] {
  const { colours, knots, rows, start } = pattern;
  const stride = rowStride(colours.length);
  const shown = of === 'picture' ? weave(pattern).shownFlat : null;
  const isOdd = colours.length % 2 === 1;
  const breaks: SymmetryBreak[] = [];
  for (let row = 0; row < rows; row++) {
    const count = knotsInRow(colours.length, rowParity(start, row));
    for (let k = 0; k < count; k++) {
      const other = count - 1 - k;
      const here = row * stride + k;
      if (isOdd) {
        if (knots[here] !== 0) breaks.push({ of, row, k });
        continue;
      }
      if (k > other || (k === other && of === 'knots')) continue;
      const there = row * stride + other;
      const isSame =
        shown === null
          ? knots[there] === MIRRORED_KNOT[knots[here]!]
          : colourOf(colours, shown[here]!) === colourOf(colours, shown[there]!);
      if (!isSame) breaks.push({ of, row, k });
    }
  }
  return breaks;
}

function colourOf(colours: readonly string[], string: number): string | null {
  return string < 0 ? null : colours[string]!;
}

/**
 * The pattern with one half mirrored onto the other: order, knots and so the picture read the same from both sides. A knot on
 * the middle line stays as it is.
 * @param keep which half stays
 * @throws RangeError under an odd number of strings, which have no such mirror
 * O(knots). Rule S6.
 */
export function repairMirror(pattern: Pattern, keep: 'left' | 'right' = 'left'): Pattern {
  const strings = pattern.colours.length;
  if (strings % 2 === 1)
    throw new RangeError(`${strings} strings are an odd number; their rows have no left-right mirror`);
  const from = (place: number): number => {
    const other = strings - 1 - place;
    return keep === 'left' ? Math.min(place, other) : Math.max(place, other);
  };
  const stride = rowStride(strings);
  const knots = new Uint8Array(pattern.knots);
  for (let row = 0; row < pattern.rows; row++) {
    const count = knotsInRow(strings, rowParity(pattern.start, row));
    for (let k = 0; k < count >> 1; k++) {
      const left = row * stride + k;
      const right = row * stride + count - 1 - k;
      if (keep === 'left') knots[right] = MIRRORED_KNOT[knots[left]!]!;
      else knots[left] = MIRRORED_KNOT[knots[right]!]!;
    }
  }
  return { ...pattern, colours: pattern.colours.map((_, place) => pattern.colours[from(place)]!), knots };
}
