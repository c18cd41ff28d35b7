/** The server's HTTP, as the page uses it. */
import { loadProblems } from '../parts/index.ts';
import { takeAhead } from './ahead.ts';

export interface BoardSummary {
  readonly id: string;
  readonly title: string;
  readonly strings: number;
  readonly rows: number;
  readonly kind?: 'board' | 'demo' | 'branch';
  readonly canWrite?: boolean;
  readonly role?: string;
  /** When it was made, in ms since 1970. */
  readonly createdAt?: number;
}

/** What the server says of an error beside its kind: where, and the values of its sentence. The words are the page's own. */
export interface Said {
  readonly path?: string;
  readonly values?: Readonly<Record<string, number>>;
}

/**
 * The server said no, or could not be reached (`kind` 'unreachable'). `message` is for logs: what is shown is said by kind, in the
 * language of the page, and the texts for it are there.
 */
export class ApiError extends Error {
  readonly kind: string;
  readonly said: Said;

  constructor(kind: string, message: string, cause?: unknown, said: Said = {}) {
    super(message, { cause });
    this.kind = kind;
    this.said = said;
  }
}

/** Asks the server. Rejects with {@link ApiError}; never with an answer that is not ok. */
export async function request(path: string, init: RequestInit = {}): Promise<Response> {
  let response: Response;
  try {
    response = await (takeAhead(init.method ?? 'GET', path) ?? fetch(path, init));
  } catch (cause) {
    throw new ApiError('unreachable', (cause as Error).message, cause);
  }
  if (response.ok) return response;
  const [error] = await Promise.all([problemOf(response), loadProblems()]);
  throw error;
}

/** A proxy in front that says 502 or so in words of its own has not reached the server. */
async function problemOf(response: Response): Promise<ApiError> {
  try {
    const { kind, message, ...said } = (
      (await response.json()) as { error: Said & { kind: string; message: string } }
    ).error;
    return new ApiError(kind, message, undefined, said);
  } catch (cause) {
    const { status } = response;
    return new ApiError(status < 500 ? `status-${status}` : 'unreachable', `status ${status}`, cause);
  }
}

/** The same, for answers in JSON. */
export async function ask<T>(path: string, init: RequestInit = {}): Promise<T> {
  const response = await request(path, init);
  try {
    return (await response.json()) as T;
  } catch (cause) {
    // The line broke in the middle, or somebody else answered in the server's place.
    throw new ApiError('unreachable', (cause as Error).message, cause);
  }
}

/** The same, with a body of JSON. */
export function post<T>(path: string, body: unknown): Promise<T> {
  return ask<T>(path, {
    method: 'POST',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify(body),
  });
}

/** Rejects with {@link ApiError}, as all of these do. */
export function fetchDemos(): Promise<readonly BoardSummary[]> {
  return ask('/api/demos');
}

/** What a board is, and whether one may write it. Rejects with kind `unknown-board`, or `revoked` for who held a link of it. */
export function fetchBoard(id: string): Promise<BoardSummary> {
  return ask(`/api/boards/${encodeURIComponent(id)}`);
}

/** The board's file as a JSON value. */
export function fetchBoardFile(id: string): Promise<unknown> {
  return ask(`/api/boards/${encodeURIComponent(id)}/file`);
}

/** Makes a board that this browser owns, of a size or of a board file. Rejects with the place of what is wrong in the file. */
export function createBoard(
  body: { strings: number; rows: number } | { file: unknown },
): Promise<BoardSummary> {
  return post('/api/boards', body);
}
