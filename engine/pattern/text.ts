/** Rows of knots as text: one token a knot, `f b fb bf -`, separated by white space. */
import { KNOT_TOKENS, knotsInRow, type Pattern, rowParity, rowStride } from './pattern.ts';

const CODE_OF = new Map<string, number>(KNOT_TOKENS.map((token, code) => [token, code]));

/**
 * Reads rows of tokens into a pattern.
 * @param colours palette id of each string, left to right
 * @param rows    one text a row, as many tokens as the row has knots
 * @param start   place at which the first row's first knot begins
 * @throws RangeError naming the row when a token is unknown or their number is wrong.
 */
export function patternFromText(
  colours: readonly string[],
  rows: readonly string[],
  start: 0 | 1 = 0,
): Pattern {
  const stride = rowStride(colours.length);
  const knots = new Uint8Array(rows.length * stride);
  rows.forEach((text, row) => {
    const tokens = tokensOf(text);
    const count = knotsInRow(colours.length, rowParity(start, row));
    if (tokens.length !== count)
      throw new RangeError(`row ${row} has ${tokens.length} knots instead of ${count}`);
    tokens.forEach((token, k) => {
      const code = CODE_OF.get(token);
      if (code === undefined)
        throw new RangeError(`row ${row}, knot ${k}: ${JSON.stringify(token)} is no knot`);
      knots[row * stride + k] = code;
    });
  });
  return { colours: [...colours], start, rows: rows.length, knots };
}

/** The tokens of one row's text; none for a row without knots. */
export function tokensOf(text: string): readonly string[] {
  const trimmed = text.trim();
  return trimmed === '' ? [] : trimmed.split(/\s+/);
}

/** The code of a token; undefined when it is none of the five. */
export function codeOfToken(token: string): number | undefined {
  return CODE_OF.get(token);
}

/** The rows of a pattern as text, one string a row. The inverse of {@link patternFromText}. */
export function rowsAsText(pattern: Pattern): string[] {
  const strings = pattern.colours.length;
  const stride = rowStride(strings);
  return Array.from({ length: pattern.rows }, (_, row) => {
    const count = knotsInRow(strings, rowParity(pattern.start, row));
    return Array.from(
      pattern.knots.subarray(row * stride, row * stride + count),
      (code) => KNOT_TOKENS[code],
    ).join(' ');
  });
}
