/** Boards as they are sent: read, checked and encoded where it holds up nobody, since a file may be 8 MiB. */
import { LIMITS, type PlainProblemKind } from '../../engine/document/index.ts';
import { type Board, type BoardError, parseBoard, sizeFault } from '../../engine/index.ts';
import { type Fields, parseFields } from '../body-fields.ts';
import type { Job } from '../work/index.ts';
import { blankBoard } from './blank-board.ts';
import { type DesignSummary, summaryOf } from './design-reads.ts';
import { encodeBoard, newDocumentId } from './encode-board.ts';

/** What is wrong with what was sent, and where. */
type SentFault = ({ readonly kind: PlainProblemKind } | Pick<BoardError, 'kind' | 'demand' | 'value'>) & {
  readonly path: string;
  readonly message: string;
};

export type Sent<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly error: SentFault };

/** A board file to take the place of a board, and how many bytes it is as a document. */
export const SENT_FILE: Job<string, Sent<{ readonly board: Board; readonly bytes: number }>> = {
  name: 'sent-file',
  run: (text) => {
    const board = readFile(text, '');
    if (!board.ok) return board;
    const { length } = encodeBoard(board.value, newDocumentId);
    return { ok: true, value: { board: board.value, bytes: length } };
  },
};

/** What a request for a new board asks for, a file or a size, as the first update of its document. */
export const SENT_BOARD: Job<
  string,
  Sent<{ readonly summary: DesignSummary; readonly bytes: Uint8Array }>
> = {
  name: 'sent-board',
  run: (text) => {
    const fields = parseFields(text, ['strings', 'rows', 'title', 'file']);
    if (!fields.ok) return fields;
    const board = readNewBoard(fields.value);
    if (!board.ok) return board;
    const bytes = encodeBoard(board.value, newDocumentId);
    return { ok: true, value: { summary: summaryOf(board.value), bytes } };
  },
};

function refuse(path: string, kind: PlainProblemKind, message: string): Sent<never> {
  return { ok: false, error: { kind, path, message } };
}

/** @param under the field that it stands in; empty = none */
function readFile(value: unknown, under: string): Sent<Board> {
  const parsed = parseBoard(value);
  if (parsed.ok || under === '') return parsed;
  const { path } = parsed.error;
  return { ok: false, error: { ...parsed.error, path: `${under}${path === '' ? '' : `.${path}`}` } };
}

function readNewBoard(fields: Fields): Sent<Board> {
  const { file, strings = 12, rows = 24, title = '' } = fields;
  if (file !== undefined) {
    const beside = ['strings', 'rows', 'title'].find((name) => fields[name] !== undefined);
    return beside === undefined
      ? readFile(file, 'file')
      : refuse(beside, 'unknown-field', `${beside} comes from the file`);
  }
  if (typeof strings !== 'number') return refuse('strings', 'wrong-type', 'strings must be a number');
  if (typeof rows !== 'number') return refuse('rows', 'wrong-type', 'rows must be a number');
  if (typeof title !== 'string' || title.length > LIMITS.titleCharacters)
    return refuse(
      'title',
      'wrong-type',
      `title must be text of at most ${LIMITS.titleCharacters} characters`,
    );
  const fault = sizeFault(strings, rows);
  return fault === null
    ? { ok: true, value: blankBoard(strings, rows, title) }
    : refuse(fault.field === 'rows' ? 'rows' : 'strings', fault.kind, fault.message);
}
