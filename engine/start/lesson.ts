/** Twelve patterns that one lesson fits: equal strings, equal rows, mounted by the same steps. */
import type { Board, KnotCode, PaletteColour } from '../pattern/index.ts';
import { drawsFrom } from './draws.ts';
import { type EndlessPicture, endlessOf, isSameFigure, shareThatDiffers } from './likeness.ts';
import { lineWord } from './line-word.ts';
import { LEAST_SHARE } from './more-like.ts';
import { periodOf, type Steps, slotAt, startOf, straightOn, swayed, thereAndBack } from './ring-figure.ts';
import { fitShape, type Shape } from './shape.ts';
import { unfold } from './unfold.ts';

/** Patterns of one lesson. */
const LESSON_PATTERNS = 12;

/** Least rows of a repeat, so that there is room for twelve. */
const LEAST_ROWS = 24;

interface LessonOptions {
  /** Colours on strings, the ground included; default 3. */
  readonly colours?: number;
  /** Default 1. */
  readonly seed?: number;
  /** Default {@link LESSON_PATTERNS}. */
  readonly count?: number;
}

/**
 * Boards that begin with one and the same order, so that all are mounted by the same steps, and that have as many rows each: arrowheads, and
 * ways there and back of different lengths, sharp and round, one below the other. Any two differ in 8 % of their knots at least, and none
 * is another mirrored, moved along or in other colours.
 * @param strings 6 to 200; one more where they are odd
 * @returns as many as are found, twelve unless strings are few; the same for the same seed
 * O(ways x boards x rows² x strings); at most 400 ways. Rules J40, J41.
 */
export function lessonBoards(
  strings: number,
  palette: readonly PaletteColour[],
  { colours = 3, seed = 1, count = LESSON_PATTERNS }: LessonOptions = {},
): readonly Board[] {
  const shape = fitShape('arrowheads', strings, { colours: Math.min(colours, palette.length), across: 2 });
  const part = shape.strings / 2;
  const word = lineWord(part, shape);
  const numberOf = new Map(palette.map(({ id }, i) => [id, i + 1]));
  const rows = lessonRows(part, periodOf(word));
  const taken: EndlessPicture[] = [];
  const boards: Board[] = [];
  const ways = waysOf(rows, drawsFrom(seed));
  for (const steps of [straightOn(rows), ...ways]) {
    if (boards.length >= count) break;
    const board = boardOf(shape, palette, word, steps);
    const seen = endlessOf(board.pattern, numberOf);
    const isNew = taken.every(
      (one) => !isSameFigure(one, seen) && shareThatDiffers(one, seen) >= LEAST_SHARE,
    );
    if (!isNew) continue;
    taken.push(seen);
    boards.push(board);
  }
  return boards;
}

/** Rows in which stripes of that period come out whole. */
function lessonRows(part: number, period: number): number {
  const round = 2 * period;
  return round * Math.ceil(Math.max(LEAST_ROWS, 2 * part) / round);
}

/** Ways tried at most. */
const MOST_TRIES = 400;

/**
 * All rows there and back, in one to four ways of their own lengths, sharp or round; each begins where the one above it ended, and the last
 * fills what is left.
 */
function* waysOf(rows: number, draw: () => number): Generator<Steps> {
  for (let tries = 0; tries < MOST_TRIES; tries++) {
    const steps: KnotCode[] = [];
    for (let ways = Math.floor(draw() * 4); ways > 0; ways--) {
      const size = 2 + Math.floor((draw() * (rows - steps.length)) / 2);
      const way = draw() < 0.5 ? thereAndBack(size) : swayed(size);
      // What is left is room for one more way, or for none.
      const left = rows - steps.length - way.length;
      if (left >= 4) steps.push(...way);
    }
    const left = rows - steps.length;
    yield [...steps, ...thereAndBack(left / 2)];
  }
}

function boardOf(
  shape: Shape,
  palette: readonly PaletteColour[],
  word: readonly number[],
  steps: Steps,
): Board {
  const strings = shape.strings / 2;
  const colours = Array.from(
    { length: strings },
    (_, place) => palette[word[slotAt(strings, 0, place)]!]!.id,
  );
  const pattern = unfold(
    { strings, rows: steps.length, start: startOf(steps, 0), colours, knotAt: (row) => steps[row]! },
    2,
  );
  return {
    title: '',
    palette: palette.slice(0, shape.colours),
    pattern,
    piece: {},
    gauge: {},
    colourways: [],
  };
}
