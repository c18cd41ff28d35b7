/**
 * What a beginning is made of: a figure of the trade and how large, how fine, in how many colours. Which numbers go together depends on
 * the strings, so a shape that is asked for is fitted before it is laid out.
 */

/** Figures that makers have always tied: common practice, and all of them follow from how knots lead their strings. */
export const BEGINNING_KINDS = [
  'stripes',
  'arrowheads',
  'diamonds',
  'zigzag',
  'waves',
  'windows',
  'hearts',
] as const;
/** One of {@link BEGINNING_KINDS}. */
export type BeginningKind = (typeof BEGINNING_KINDS)[number];

/** Fewest and most strings of a beginning. */
const LEAST_START_STRINGS = 6;
const MOST_START_STRINGS = 200;
/** Most colours of a beginning, the ground included. */
const MOST_COLOURS = 6;
/** Fewest strings of one part of a band that is mirrored into parts. */
const LEAST_PART = 3;
/** A heart and a window need this many to be seen as one. */
const LEAST_FIGURE_PART = 4;

/** A figure with all that can be said of it. */
export interface Shape {
  readonly kind: BeginningKind;
  readonly strings: number;
  /** Colours on strings, the ground included, from 2. */
  readonly colours: number;
  /** How large the figure is, in places from its middle or from turn to turn; 1 where stripes go on for ever. */
  readonly size: number;
  /** Width of a line, in strings that show. */
  readonly width: number;
  /** Whether a line is drawn twice, with the ground between. */
  readonly lines: 1 | 2;
  /** Parts of equal width, each the mirror image of the one beside it; 1 = no mirror. */
  readonly across: number;
  /** Leaning the other way; upside down where the figure is mirrored. */
  readonly isTurned: boolean;
}

/** What a maker asks for; the rest is chosen. */
export type ShapeWish = Partial<Omit<Shape, 'kind' | 'strings'>>;

/** The values that go with the others of a shape, rising. One value alone cannot be chosen. */
export interface ShapeChoices {
  readonly across: readonly number[];
  readonly size: readonly number[];
  readonly lines: readonly (1 | 2)[];
  readonly colours: readonly number[];
  readonly width: readonly number[];
  readonly isTurned: readonly boolean[];
}

/** How many strings the figure takes where so many were asked for: one more where it has a mirror and they are odd. */
function stringsFor(kind: BeginningKind, strings: number): number {
  const least = kind === 'hearts' || kind === 'windows' ? 2 * LEAST_FIGURE_PART : LEAST_START_STRINGS;
  const enough = Math.min(MOST_START_STRINGS, Math.max(least, Math.round(strings)));
  return enough % 2 === 1 && !canBeOdd(kind) ? enough + 1 : enough;
}

/** Figures without a mirror go on any number of strings; an odd number mounts with one single. */
function canBeOdd(kind: BeginningKind): boolean {
  return kind === 'stripes' || kind === 'zigzag' || kind === 'waves';
}

/**
 * The nearest shape to what is asked for that so many strings can show.
 * @param strings 6 to 200; others are taken for the nearest, see {@link stringsFor}
 * Same wish, same shape. O(strings). Rule J1.
 */
export function fitShape(kind: BeginningKind, strings: number, wish: ShapeWish = {}): Shape {
  const many = stringsFor(kind, strings);
  const across = nearest(acrossOf(kind, many), wish.across ?? defaultAcross(kind));
  const part = partOf(many, across);
  const size = nearest(sizesOf(kind, part, across), wish.size ?? defaultSize(kind, part));
  const slots = slotsOf({ kind, strings: many, across, size });
  const lines = nearest(linesOf(kind, slots, size), wish.lines ?? 1) as 1 | 2;
  const colours = nearest(coloursOf(kind, slots, size, lines), wish.colours ?? 3);
  const width = nearest(widthsOf(kind, slots, size, lines, colours), wish.width ?? 1);
  const isTurned = kind !== 'windows' && wish.isTurned === true;
  return { kind, strings: many, colours, size, width, lines, across, isTurned };
}

/** What can be chosen of each, the others staying as they are. Rule J2. */
export function choicesOf(shape: Shape): ShapeChoices {
  const { kind, strings, across, size, lines, colours, width } = shape;
  const part = partOf(strings, across);
  const slots = slotsOf(shape);
  const fits = (wish: ShapeWish): boolean => {
    const fitted = fitShape(kind, strings, { ...shape, ...wish });
    return (
      fitted.size === (wish.size ?? size) &&
      fitted.lines === (wish.lines ?? lines) &&
      fitted.colours === (wish.colours ?? colours) &&
      fitted.width === (wish.width ?? width)
    );
  };
  return {
    across: acrossOf(kind, strings),
    size: sizesOf(kind, part, across).filter((one) => fits({ size: one })),
    lines: linesOf(kind, slots, size).filter((one) => fits({ lines: one })),
    colours: coloursOf(kind, slots, size, lines).filter((one) => fits({ colours: one })),
    width: widthsOf(kind, slots, size, lines, colours),
    isTurned: kind === 'windows' ? [false] : [false, true],
  };
}

/** Strings of one part; of a band without a mirror, those of half of it, since its colours stand there twice. */
export function partOf(strings: number, across: number): number {
  return across === 1 ? (strings + 1) >> 1 : strings / across;
}

/** Slots of a mirrored figure that turns back before all of its ring has come into sight: those left of where it begins. */
export function firstInSight({ kind, size }: Pick<Shape, 'kind' | 'size'>): number {
  if (kind === 'zigzag') return (size - 1) >> 1;
  return kind === 'waves' ? size >> 1 : 0;
}

/** Slots in which a figure's lines lie: those that come into sight. */
export function slotsOf({
  kind,
  strings,
  across,
  size,
}: Pick<Shape, 'kind' | 'strings' | 'across' | 'size'>): number {
  const part = partOf(strings, across);
  if (across === 1 || (kind !== 'zigzag' && kind !== 'waves')) return part;
  return Math.min(part, firstInSight({ kind, size }) + ((part + 1) >> 1));
}

function defaultAcross(kind: BeginningKind): number {
  return canBeOdd(kind) ? 1 : 2;
}

function acrossOf(kind: BeginningKind, strings: number): readonly number[] {
  if (kind === 'stripes' || strings % 2 === 1) return [1];
  const least = kind === 'hearts' || kind === 'windows' ? LEAST_FIGURE_PART : LEAST_PART;
  const parts = canBeOdd(kind) ? [1] : [];
  for (let across = 2; strings / across >= least; across += 2)
    // Hearts beside each other share their outer strings: that comes out where the parts are odd.
    if (strings % across === 0 && (kind !== 'hearts' || across === 2 || (strings / across) % 2 === 1))
      parts.push(across);
  return parts;
}

function sizesOf(kind: BeginningKind, part: number, across: number): readonly number[] {
  switch (kind) {
    case 'stripes':
    case 'arrowheads':
      return [1];
    case 'zigzag':
    case 'waves':
      return fromTo(2, Math.min(60, across === 1 ? 2 * part : 2 * part + 2));
    case 'diamonds':
      return fromTo(2, part);
    case 'windows':
      return fromTo(4, part);
    case 'hearts':
      return fromTo(3, part - 1);
  }
}

function defaultSize(kind: BeginningKind, part: number): number {
  switch (kind) {
    case 'zigzag':
    case 'waves':
      return Math.min(part, 8);
    case 'hearts':
      return Math.min(part - 1, 8);
    default:
      return part - (part % 2);
  }
}

/** Slots of contours from the middle of a diamond to its line, the line included. */
export function contoursOf(size: number): number {
  return (size >> 1) + 1;
}

function isContoured(kind: BeginningKind): boolean {
  return kind === 'diamonds' || kind === 'windows';
}

/** Slots that a line takes: twice its width and the ground between where it is drawn twice. */
export function lineSlots(width: number, lines: 1 | 2): number {
  return lines === 1 ? width : 2 * width + 1;
}

function linesOf(kind: BeginningKind, slots: number, size: number): readonly (1 | 2)[] {
  const isEnough = isContoured(kind) ? contoursOf(size) >= 4 : kind === 'hearts' ? size >= 5 : slots >= 4;
  return isEnough ? [1, 2] : [1];
}

function coloursOf(kind: BeginningKind, slots: number, size: number, lines: 1 | 2): readonly number[] {
  return fromTo(2, Math.min(MOST_COLOURS, mostColours(kind, slots, size, lines)));
}

function mostColours(kind: BeginningKind, slots: number, size: number, lines: 1 | 2): number {
  // Of a ground and a figure each string keeps to its place: a third colour would run through a heart as a stripe.
  if (kind === 'hearts') return 2;
  if (isContoured(kind)) return contoursOf(size) - lineSlots(1, lines) + 1;
  return lines === 1 ? slots : 1 + (slots >> 2);
}

function widthsOf(
  kind: BeginningKind,
  slots: number,
  size: number,
  lines: 1 | 2,
  colours: number,
): readonly number[] {
  return fromTo(1, mostWidth(kind, slots, size, lines, colours));
}

function mostWidth(kind: BeginningKind, slots: number, size: number, lines: 1 | 2, colours: number): number {
  if (kind === 'hearts') return lines === 1 ? 1 : Math.max(1, (size - 3) >> 1);
  if (isContoured(kind)) {
    const room = contoursOf(size) - (colours - 1);
    return lines === 1 ? room : (room - 1) >> 1;
  }
  const drawn = colours - 1;
  // The ground keeps a string at least beside each line.
  return lines === 1 ? Math.floor((slots - 1) / drawn) : Math.floor((slots / drawn - 2) / 2);
}

function fromTo(least: number, most: number): readonly number[] {
  return Array.from({ length: Math.max(1, most - least + 1) }, (_, i) => least + i);
}

function nearest(choices: readonly number[], wish: number): number {
  return choices.reduce((best, one) => (Math.abs(one - wish) < Math.abs(best - wish) ? one : best));
}
