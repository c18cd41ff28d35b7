/** The words of the steps, as a table, so that a page can bring another language's. */
import type { WorkStep } from './work-order.ts';

/**
 * Texts with places to fill in braces. Known everywhere: `{where} {knot} {knotting} {carrier} {places} {hitches}`; in the rows `{row}
 * {repeat}`; in the places `{first} {second}`; in a numbered string `{colour} {number}`.
 */
export interface StepWords {
  /** 1st, 2nd, 3rd … */
  readonly ordinal: (number: number) => string;
  readonly row: string;
  readonly repeatRow: string;
  readonly leadInRow: string;
  readonly endRow: string;
  readonly knots: Readonly<Record<WorkStep['kind'], string>>;
  readonly fromLeft: string;
  readonly fromRight: string;
  /** A string whose colour does not tell it from the other one. */
  readonly numberedString: string;
  /** A string whose colour has no name. */
  readonly namelessString: string;
  readonly short: string;
  /** Long form when another string was in the hand before, and when it is the same. */
  readonly longPickUp: string;
  readonly longGoOn: string;
  readonly hitches: Readonly<Record<WorkStep['kind'], string>>;
}

function englishOrdinal(number: number): string {
  const tens = number % 100;
  if (tens >= 11 && tens <= 13) return `${number}th`;
  return `${number}${['th', 'st', 'nd', 'rd'][number % 10] ?? 'th'}`;
}

const HITCH = 'over {carrier}, round behind it and out through the loop, and pull tight';

/** Half hitch in words: common practice, after R. H. Dana, The Seaman's Friend, "half hitch". */
export const ENGLISH_STEP_WORDS: StepWords = {
  ordinal: englishOrdinal,
  row: 'Row {row}',
  repeatRow: 'Repeat {repeat}, row {row}',
  leadInRow: 'Lead-in, row {row}',
  endRow: 'End, row {row}',
  knots: {
    f: 'forward knot',
    b: 'backward knot',
    fb: 'forward-backward knot',
    bf: 'backward-forward knot',
  },
  fromLeft: '{first} and {second} from the left',
  fromRight: '{first} and {second} from the right',
  numberedString: '{colour} number {number}',
  namelessString: 'number {number}',
  short: '{where}: {knot} with {knotting} over {carrier}, {places}.',
  longPickUp:
    '{where}: {knot} with {knotting} over {carrier}, {places}: take up {knotting}, hold {carrier} straight, and tie {hitches}.',
  longGoOn:
    '{where}: {knot} with {knotting} over {carrier}, {places}: go on with {knotting}, hold {carrier} straight, and tie {hitches}.',
  hitches: {
    f: `a half hitch to the right (${HITCH}), then a second one just like it, so that {knotting} ends on the right`,
    b: `a half hitch to the left (${HITCH}), then a second one just like it, so that {knotting} ends on the left`,
    fb: `a half hitch to the right (${HITCH}), then one back to the left, so that {knotting} ends on the left, where it began`,
    bf: `a half hitch to the left (${HITCH}), then one back to the right, so that {knotting} ends on the right, where it began`,
  },
};
