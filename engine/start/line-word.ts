/** In which order colours follow each other across a figure; 0 is the ground. */
import { contoursOf, lineSlots, type Shape } from './shape.ts';

/**
 * Colours of lines that follow each other on and on: each line `width` slots, drawn twice where `lines` says, the ground in what is left,
 * as evenly as can be.
 * @returns one number a slot, 0 to `colours - 1`, all of which occur; length `slots`
 * O(slots).
 */
export function lineWord(
  slots: number,
  { colours, width, lines }: Pick<Shape, 'colours' | 'width' | 'lines'>,
): number[] {
  const drawn = colours - 1;
  const line = lineSlots(width, lines);
  // A ground of one line's width where there is room; a drawn-twice line has ground below each, else once a round.
  const grounds = lines === 1 ? 1 : drawn;
  const round = drawn * line + grounds * width;
  const rounds = Math.max(1, Math.floor(slots / round));
  const spare = slots - rounds * drawn * line;
  const all = rounds * grounds;
  const word: number[] = [];
  let at = 0;
  const ground = (): void => {
    const wide = Math.floor(((at + 1) * spare) / all) - Math.floor((at * spare) / all);
    at++;
    for (let i = 0; i < wide; i++) word.push(0);
  };
  for (let r = 0; r < rounds; r++) {
    if (lines === 1) ground();
    for (let colour = 1; colour <= drawn; colour++) {
      if (lines === 2) ground();
      for (let i = 0; i < line; i++) word.push(lines === 2 && i === width ? 0 : colour);
    }
  }
  return word;
}

/** Colours of the contours of a diamond from its middle to its line, and how many of them from the middle are left untied. */
export interface Contours {
  readonly colours: readonly number[];
  readonly open: number;
}

/** The line outermost, colour 1; inside it the ground and then the other colours, evenly; of a window what is innermost is open. O(size). */
export function contourWord(shape: Shape): Contours {
  const slots = contoursOf(shape.size);
  const line = lineSlots(shape.width, shape.lines);
  const inside = slots - line;
  const others = shape.colours - 2;
  const word = new Array<number>(slots).fill(0);
  for (let i = 0; i < line; i++) word[slots - 1 - i] = shape.lines === 2 && i === shape.width ? 0 : 1;
  if (shape.kind === 'windows') {
    for (let i = 0; i < others; i++) word[inside - 1 - i] = 2 + i;
    return { colours: word, open: inside - others };
  }
  const band = Math.floor(inside / (others + 1));
  for (let i = 0; i < others * band; i++) word[i] = 1 + others - Math.floor(i / band);
  return { colours: word, open: 0 };
}
