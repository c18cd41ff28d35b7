/** Checks patterns that come from outside the document before they are written. */
import { type BoardError, type BoardErrorKind, isPlainList, plainFields } from '../files/index.ts';
import {
  type Demand,
  demandMessage,
  knotsInRow,
  type Pattern,
  rowParity,
  rowStride,
  shapeFault,
  showValue,
} from '../pattern/index.ts';

/**
 * What is wrong with a pattern; null when nothing is.
 * @param palette the ids its colours must be among
 * O(knots).
 */
export function checkPattern(
  pattern: Pattern,
  palette: ReadonlySet<string>,
  path: string,
): BoardError | null {
  if (plainFields(pattern) === null) return fault(path, { be: 'object' }, pattern, 'wrong-type');
  const { colours, start, rows, knots } = pattern;
  if (!isPlainList(colours)) return fault(`${path}.colours`, { be: 'list' }, colours, 'wrong-type');
  const wrong = (kind: BoardErrorKind, field: string, message: string): BoardError => ({
    kind,
    path: `${path}.${field}`,
    message,
  });
  if (!(knots instanceof Uint8Array)) return wrong('wrong-count', 'knots', 'must be bytes');
  const shape = shapeFault(pattern);
  if (shape !== null) return wrong(shape.kind, shape.field, shape.message);
  const unknown = colours.findIndex((id) => !palette.has(id));
  if (unknown >= 0)
    return wrong(
      'unknown-colour',
      `colours[${unknown}]`,
      `the palette has no ${JSON.stringify(colours[unknown])}`,
    );
  const stride = rowStride(colours.length);
  for (let row = 0; row < rows; row++) {
    const count = knotsInRow(colours.length, rowParity(start, row));
    for (let k = 0; k < stride; k++) {
      const code = knots[row * stride + k]!;
      if (code > 4 || (k >= count && code !== 0))
        return wrong(
          'unknown-knot',
          `knots[${row * stride + k}]`,
          `${code} is no knot for row ${row}, index ${k}`,
        );
    }
  }
  return null;
}

/** What a value would have to be. */
export function fault(
  path: string,
  demand: Demand,
  found: unknown,
  kind: BoardErrorKind = 'out-of-range',
): BoardError {
  const value = showValue(found);
  return { kind, path, message: demandMessage(demand, value), demand, value };
}
