/**
 * Any mirrored picture in a ground and a figure, on strings that mount from the outside in.
 *
 * Along a part ground and figure strings alternate, `g f g f …`. As long as that holds each knot has one of both, so either can show. A
 * row in which all pairs change places turns `g f g f` into `f g f g`; that keeps the alternation and chooses which of the two hangs on
 * the middle line, where both strings of the knot are twins. Under an odd part the string at the outer edge stays ground, and so does
 * its knot while the figure shows on the middle line.
 */
import {
  BACKWARD,
  BACKWARD_FORWARD,
  FORWARD,
  FORWARD_BACKWARD,
  type KnotCode,
  rowParity,
} from '../pattern/index.ts';

/** What one part of the band shows. */
interface TwoTone {
  /** Strings of the part; its right edge lies on the middle line. */
  readonly strings: number;
  readonly rows: number;
  readonly start: 0 | 1;
  /** Whether the figure shows in the knot of that row at `dist` places from the middle line. */
  readonly isFigure: (row: number, dist: number) => boolean;
}

/** How one part is tied. */
interface TwoToneWork {
  /** Whether the string at each place is one of the figure. */
  readonly isFigure: readonly boolean[];
  /** Strings that show as figure somewhere, by their place at the top. */
  readonly shown: ReadonlySet<number>;
  readonly knotAt: (row: number, place: number) => KnotCode;
}

/**
 * Lays the picture out: rows come even in number, so that the band repeats without a seam.
 * @throws RangeError when the picture asks for figure at the outer edge of an odd part beside figure on the middle line, or rows are odd
 * O(knots).
 */
export function workTwoTone({ strings, rows, start, isFigure }: TwoTone): TwoToneWork {
  if (rows % 2 !== 0) throw new RangeError(`${rows} rows are an odd number`);
  const isOnMiddle = (row: number): boolean => (strings - 1 - rowParity(start, row)) % 2 === 0;
  const middles = Array.from({ length: rows }, (_, row) => row).filter(isOnMiddle);
  // As the strings hang below the last row.
  const first = isFigure(isOnMiddle(0) ? 0 : (middles.at(-1) as number), 0);
  let hanging = Array.from({ length: strings }, (_, place) => {
    const fromMiddle = strings - 1 - place;
    const alternates = (fromMiddle % 2 === 0) === first;
    return strings % 2 === 1 && place === 0 ? { place, figure: false } : { place, figure: alternates };
  });
  const atTop = hanging.map(({ figure }) => figure);
  const shown = new Set<number>();
  const knots: KnotCode[][] = [];
  for (let row = 0; row < rows; row++) {
    const parity = rowParity(start, row);
    const isChanging = !isOnMiddle(row) && isFigure(nextOf(middles, row), 0) !== hanging[strings - 1]!.figure;
    const line: KnotCode[] = [];
    const below = [...hanging];
    for (let place = parity; place + 1 < strings; place += 2) {
      const wanted = isFigure(row, strings - 1 - place);
      const [left, right] = [hanging[place]!, hanging[place + 1]!];
      if (left.figure === right.figure && left.figure !== wanted)
        throw new RangeError(
          `row ${row}, place ${place}: both strings are ${left.figure ? 'figure' : 'ground'}`,
        );
      const isLeft = left.figure === wanted;
      if (wanted) shown.add((isLeft ? left : right).place);
      line[place] = isChanging ? (isLeft ? FORWARD : BACKWARD) : isLeft ? FORWARD_BACKWARD : BACKWARD_FORWARD;
      if (isChanging) [below[place], below[place + 1]] = [right, left];
    }
    if (isOnMiddle(row) && isFigure(row, 0)) shown.add(hanging[strings - 1]!.place);
    knots.push(line);
    hanging = below;
  }
  return {
    isFigure: atTop,
    shown,
    knotAt: (row, place) => knots[row]![place] ?? FORWARD_BACKWARD,
  };
}

/** The next row on the middle line, that of the next repeat where there is none. */
function nextOf(middles: readonly number[], row: number): number {
  return middles.find((one) => one > row) ?? (middles[0] as number);
}
