/** Checks boards that come from outside the document before they are written. */
import { type BoardError, formatBoard, isPlainList, parseBoard, plainFields } from '../files/index.ts';
import type { Board } from '../pattern/index.ts';
import { checkPattern, fault } from './check-pattern.ts';
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
  for (const [i, { id }] of (board.supplies?.parts ?? []).entries())
    if (!isColourId(id)) return badId(`supplies.parts[${i}].id`);
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
