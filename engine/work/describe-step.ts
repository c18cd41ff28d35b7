/** A step of the work order in words. */
import type { Board } from '../pattern/index.ts';
import { ENGLISH_STEP_WORDS, type StepWords } from './step-words.ts';
import type { WorkStep } from './work-order.ts';

/**
 * `plain`: places counted from the left. `left-handed`: the same band, counted from the right. `mirrored`: the band as in a mirror, for
 * those who copy from someone opposite: left and right, forward and backward exchanged.
 */
export type StepView = 'plain' | 'left-handed' | 'mirrored';

/** For whom a step is put into words. */
export interface DescribeStepOptions {
  /** Default 'plain'. */
  readonly view?: StepView;
  /** `long` explains the half hitches. Default 'short'. */
  readonly length?: 'short' | 'long';
  /** Default English. */
  readonly words?: StepWords;
}

const MIRRORED_KIND = { f: 'b', b: 'f', fb: 'bf', bf: 'fb' } as const;

/** Puts values into the braces of a text. Braces within a value stay: a colour may be named anything. */
function fill(text: string, values: Readonly<Record<string, string>>): string {
  return text.replace(/\{(\w+)\}/g, (_, name: string) => {
    const value = values[name];
    if (value === undefined)
      throw new RangeError(`nothing to put in for {${name}} in ${JSON.stringify(text)}`);
    return value;
  });
}

function colourName(board: Board, string: number): string {
  const id = board.pattern.colours[string];
  const colour = board.palette.find((entry) => entry.id === id);
  if (!colour)
    throw new RangeError(`string ${string} has colour ${JSON.stringify(id)}, which the palette lacks`);
  return colour.name.trim();
}

/** Names of both strings, numbered as they hang at the top where their colours do not tell them apart. */
function nameStrings(step: WorkStep, board: Board, view: StepView, words: StepWords): [string, string] {
  const names = [colourName(board, step.knotting), colourName(board, step.carrier)];
  const areAlike = names[0] === names[1];
  const name = (string: number, colour: string): string => {
    const number = String(view === 'plain' ? string + 1 : board.pattern.colours.length - string);
    if (colour === '') return fill(words.namelessString, { number });
    return areAlike ? fill(words.numberedString, { colour, number }) : colour;
  };
  return [name(step.knotting, names[0]!), name(step.carrier, names[1]!)];
}

function whereIs(step: WorkStep, words: StepWords): string {
  const values = { row: String(step.partRow + 1), repeat: String(step.repeat) };
  switch (step.part) {
    case 'lead-in':
      return fill(words.leadInRow, values);
    case 'end':
      return fill(words.endRow, values);
    case 'band':
      return fill(step.repeat > 1 ? words.repeatRow : words.row, values);
    default:
      throw new TypeError(`unknown part ${JSON.stringify(step.part satisfies never)}`);
  }
}

/**
 * One sentence that says which knot to tie, with which string over which, and where. Colours go by the palette's names; two
 * strings of one name are numbered by their places at the top, counted from the side the view counts from.
 * @throws RangeError when a string's colour is not in the palette, or the words ask for a value there is none of
 * Rule O9.
 */
export function describeStep(step: WorkStep, board: Board, options: DescribeStepOptions = {}): string {
  const { view = 'plain', length = 'short', words = ENGLISH_STEP_WORDS } = options;
  const strings = board.pattern.colours.length;
  const kind = view === 'mirrored' ? MIRRORED_KIND[step.kind] : step.kind;
  const first = view === 'plain' ? step.place + 1 : strings - step.place - 1;
  const places = fill(view === 'left-handed' ? words.fromRight : words.fromLeft, {
    first: words.ordinal(first),
    second: words.ordinal(first + 1),
  });
  const [knotting, carrier] = nameStrings(step, board, view, words);
  const hitches = fill(words.hitches[kind], { knotting, carrier });
  const long = step.isPickUp ? words.longPickUp : words.longGoOn;
  return fill(length === 'long' ? long : words.short, {
    where: whereIs(step, words),
    knot: words.knots[kind],
    knotting,
    carrier,
    places,
    hitches,
  });
}
