/** Checks boards and patterns that come from outside the document before they are written. */
import {
  type BoardError,
  type BoardErrorKind,
  formatBoard,
  isPlainList,
  parseBoard,
  plainFields,
} from '../files/index.ts';
import {
  type Board,
  type Demand,
  demandMessage,
  knotsInRow,
  type Pattern,
  rowParity,
  rowStride,
  shapeFault,
  showValue,
} from '../pattern/index.ts';
import { isColourId } from './read-colours.ts';

/** What is wrong with a board; null when nothing is. Takes what `parseBoard` takes. O(knots). */
export function checkBoard(board: Board): BoardError | null {
  const noParts = checkParts(board);
  if (noParts !== null) return noParts;
  const { pattern } = board;
  const inPattern = checkPattern(pattern, new Set(board.palette.map(({ id }) => id)), 'pattern');
  if (inPattern !== null) return inPattern;
  const lists = [board.palette, board.colourways];
  for (const [i, list] of lists.entries())
    for (const [j, { id }] of list.entries())
      if (!isColourId(id)) return badId(`${i === 0 ? 'palette' : 'colourways'}[${j}].id`);
  const { leadInRows, ...piece } = board.piece;
  if (
    leadInRows !== undefined &&
    !(Number.isInteger(leadInRows) && leadInRows >= 0 && leadInRows <= pattern.rows)
  )
    return fault('piece.leadInRows', { be: 'whole', least: 0, most: pattern.rows }, leadInRows);
  // The knots were checked above; the rest goes through the one checker of boards without them.
  const rest = parseBoard(
    formatBoard({ ...board, piece, pattern: { ...pattern, rows: 0, knots: new Uint8Array(0) } }),
  );
  return rest.ok ? null : rest.error;
}

/** What is no list or no object, so that nothing of it can be read. */
function checkParts({ palette, colourways, piece, gauge }: Board): BoardError | null {
  const parts: [path: string, value: unknown, be: 'list' | 'object'][] = [
    ['piece', piece, 'object'],
    ['gauge', gauge, 'object'],
    ...listParts('palette', palette),
    ...listParts('colourways', colourways),
  ];
  if (isPlainList(colourways))
    for (const [i, colourway] of colourways.entries()) {
      const { maker, colours } = plainFields(colourway) ?? {};
      if (maker !== undefined) parts.push([`colourways[${i}].maker`, maker, 'object']);
      parts.push(...listParts(`colourways[${i}].colours`, colours));
    }
  const wrong = parts.find(([, value, be]) =>
    be === 'list' ? !isPlainList(value) : plainFields(value) === null,
  );
  return wrong === undefined ? null : fault(wrong[0], { be: wrong[2] }, wrong[1], 'wrong-type');
}

function listParts(path: string, list: unknown): [path: string, value: unknown, be: 'list' | 'object'][] {
  const entries = isPlainList(list) ? Array.from(list, (entry) => entry) : [];
  return [
    [path, list, 'list'],
    ...entries.map((entry, i) => [`${path}[${i}]`, entry, 'object'] as [string, unknown, 'object']),
  ];
}

function badId(path: string): BoardError {
  return fault(path, { be: 'id' }, '');
}

function fault(
  path: string,
  demand: Demand,
  found: unknown,
  kind: BoardErrorKind = 'out-of-range',
): BoardError {
  const value = showValue(found);
  return { kind, path, message: demandMessage(demand, value), demand, value };
}

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
