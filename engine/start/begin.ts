/** Lays a beginning out as a board. */
import {
  type Board,
  mirrorPattern,
  NONE,
  type PaletteColour,
  type Pattern,
  reversePattern,
} from '../pattern/index.ts';
import { depthInHeart, heartOf } from './heart.ts';
import { contourWord, lineWord } from './line-word.ts';
import {
  modulo,
  periodOf,
  type Steps,
  slotAt,
  startOf,
  straightOn,
  swayed,
  thereAndBack,
} from './ring-figure.ts';
import { firstInSight, partOf, type Shape, slotsOf } from './shape.ts';
import { workTwoTone } from './two-tone.ts';
import { unfold } from './unfold.ts';

/**
 * The board of a shape: one repeat that goes on without a seam, its order mirrored, so that it mounts from the outside in; under an odd
 * number of strings neighbours beside each other and one single.
 * @param shape of `fitShape`
 * @param palette the ground first; at least as many as the shape has colours
 * @throws RangeError when the palette has fewer colours than the shape
 * Same shape, same board. O(knots). Rules J3 to J12.
 */
export function beginBoard(shape: Shape, palette: readonly PaletteColour[]): Board {
  if (palette.length < shape.colours)
    throw new RangeError(`${palette.length} colours are fewer than the ${shape.colours} of the shape`);
  const ids = palette.map(({ id }) => id);
  return {
    title: '',
    palette: palette.slice(0, shape.colours),
    pattern: patternOf(shape, ids),
    piece: {},
    gauge: {},
    colourways: [],
  };
}

/** The pattern of a shape; see {@link beginBoard}. @param ids one a colour, the ground first */
function patternOf(shape: Shape, ids: readonly string[]): Pattern {
  switch (shape.kind) {
    case 'hearts':
      return turned(shape, heartsPattern(shape, ids));
    case 'diamonds':
    case 'windows':
      return contouredPattern(shape, ids);
    default:
      return turned(shape, linedPattern(shape, ids));
  }
}

function turned(shape: Shape, pattern: Pattern): Pattern {
  if (!shape.isTurned) return pattern;
  return shape.across === 1 ? mirrorPattern(pattern) : reversePattern(pattern);
}

/** Stripes, arrowheads, zigzag, waves. */
function linedPattern(shape: Shape, ids: readonly string[]): Pattern {
  const { strings, across } = shape;
  const part = partOf(strings, across);
  const slots = slotsOf(shape);
  const word = lineWord(slots, shape);
  // What never comes into sight is ground.
  const ring =
    across === 1
      ? wholeRing(word, strings)
      : Array.from({ length: part }, (_, slot) => word[modulo(slot + firstInSight(shape), part)] ?? 0);
  return ringPattern(shape, ids, { ring, steps: stepsOf(shape, ring), turn: 0 });
}

/** Of a band without a mirror the colours stand twice round its ring, or there and back where its strings are odd: either mounts neatly. */
function wholeRing(word: readonly number[], strings: number): number[] {
  return Array.from({ length: strings }, (_, slot) =>
    strings % 2 === 0 ? word[slot % word.length]! : word[Math.min(slot, strings - 1 - slot)]!,
  );
}

function stepsOf({ kind, size }: Shape, ring: readonly number[]): Steps {
  switch (kind) {
    case 'zigzag':
      return thereAndBack(size);
    case 'waves':
      return swayed(size);
    default:
      return straightOn(2 * periodOf(ring));
  }
}

/** Diamonds and windows: contours round the middle lines between the parts. */
function contouredPattern(shape: Shape, ids: readonly string[]): Pattern {
  const { strings, across, size, isTurned } = shape;
  const part = strings / across;
  const { colours, open } = contourWord(shape);
  // The middle of a diamond has a knot on the middle line.
  const turn = part % 2;
  const ring = Array.from({ length: part }, (_, slot) => {
    const contour = modulo(modulo((part - turn) / 2 - slot, part), size);
    return colours[Math.min(contour, size - contour)]!;
  });
  const there = thereAndBack(size);
  // From the row in which two lines cross, or, turned, from the middle of a diamond.
  const cut = isTurned ? there.length - 1 : size - 1;
  const steps = [...there.slice(cut), ...there.slice(0, cut)];
  const middleRow = isTurned ? 0 : size;
  const isOpen = (row: number, dist: number): boolean => dist + Math.abs(row - middleRow) < 2 * open;
  return ringPattern(shape, ids, { ring, steps, turn: isTurned ? turn : turn + size - 1, isOpen });
}

/** What a figure of turning strings is laid out from. */
interface RingWork {
  /** Colour of each slot of a part's ring. */
  readonly ring: readonly number[];
  readonly steps: Steps;
  /** How the ring stands before the first row. */
  readonly turn: number;
  /** Whether a knot so many places from the middle line is left untied. */
  readonly isOpen?: (row: number, dist: number) => boolean;
}

function ringPattern(shape: Shape, ids: readonly string[], work: RingWork): Pattern {
  const { ring, steps, turn, isOpen = () => false } = work;
  const strings = shape.strings / shape.across;
  const part = {
    strings,
    rows: steps.length,
    start: startOf(steps, turn),
    colours: Array.from({ length: strings }, (_, place) => ids[ring[slotAt(strings, turn, place)]!]!),
    knotAt: (row: number, place: number) => (isOpen(row, strings - 1 - place) ? NONE : steps[row]!),
  };
  return unfold(part, shape.across);
}

/** Hearts below each other on each middle line. */
function heartsPattern(shape: Shape, ids: readonly string[]): Pattern {
  const { strings, across, size, width, lines } = shape;
  const part = strings / across;
  const heart = heartOf(size);
  const gap = heart.rows % 2 === 0 ? 2 : 1;
  // Where a lobe's place and row add up to an even number there is a knot on the middle line.
  const above = gap >> 1;
  const yOf = (row: number): number => row - above + heart.notch;
  const start = modulo(part - 1 - yOf(0), 2) as 0 | 1;
  const work = workTwoTone({
    strings: part,
    rows: heart.rows + gap,
    start,
    isFigure: (row, dist) => {
      const depth = depthInHeart(heart, dist, yOf(row));
      return depth >= 0 && (lines === 1 || depth < width || depth > width);
    },
  });
  // A string of the figure that nowhere shows is ground.
  const colourAt = (place: number): number => (work.isFigure[place] && work.shown.has(place) ? 1 : 0);
  return unfold(
    {
      strings: part,
      rows: heart.rows + gap,
      start,
      colours: Array.from({ length: part }, (_, place) => ids[colourAt(place)]!),
      knotAt: work.knotAt,
    },
    across,
  );
}
