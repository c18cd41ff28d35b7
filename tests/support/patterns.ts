/** Random patterns for property tests, and the picture as a list of rows of colours. */
import fc from 'fast-check';
import { type Pattern, rowStride, weave } from '../../engine/index.ts';

export interface PatternShape {
  readonly maxStrings?: number;
  readonly maxRows?: number;
  readonly maxColours?: number;
}

/** Any valid pattern of the given size; colours are 'c0', 'c1', … */
export function anyPattern({
  maxStrings = 12,
  maxRows = 14,
  maxColours = 5,
}: PatternShape = {}): fc.Arbitrary<Pattern> {
  return fc
    .record({
      strings: fc.integer({ min: 2, max: maxStrings }),
      rows: fc.integer({ min: 0, max: maxRows }),
      start: fc.constantFrom<0 | 1>(0, 1),
    })
    .chain(({ strings, rows, start }) =>
      fc
        .record({
          colours: fc.array(fc.integer({ min: 0, max: maxColours - 1 }), {
            minLength: strings,
            maxLength: strings,
          }),
          knots: fc.array(fc.integer({ min: 0, max: 4 }), {
            minLength: rows * rowStride(strings),
            maxLength: rows * rowStride(strings),
          }),
        })
        .map(({ colours, knots }) => {
          const cells = Uint8Array.from(knots);
          const stride = rowStride(strings);
          // A row with a knot fewer leaves its last cell 0.
          for (let row = 0; row < rows; row++)
            if ((strings - ((start + row) & 1)) >> 1 < stride) cells[row * stride + stride - 1] = 0;
          return { colours: colours.map((c) => `c${c}`), start, rows, knots: cells };
        }),
    );
}

/** The colour that shows in each knot, row by row; null where none. */
export function pictureOf(pattern: Pattern): (string | null)[][] {
  return weave(pattern).shown.map((row) => Array.from(row, (s) => (s < 0 ? null : pattern.colours[s]!)));
}
