/** The server's HTTP, as the page uses it. */

export interface BoardSummary {
  readonly id: string;
  readonly title: string;
  readonly strings: number;
  readonly rows: number;
  readonly kind?: 'board' | 'demo' | 'branch';
  readonly canWrite?: boolean;
  readonly role?: string;
}

/** The server said no, or could not be reached (`kind` 'unreachable'). */
export class ApiError extends Error {
  readonly kind: string;

  constructor(kind: string, message: string, cause?: unknown) {
    super(message, { cause });
    this.kind = kind;
  }
}

/** Asks the server. Rejects with {@link ApiError}. */
export async function ask<T>(path: string, init: RequestInit = {}): Promise<T> {
  let response: Response;
  try {
    response = await fetch(path, init);
  } catch (cause) {
    throw new ApiError('unreachable', (cause as Error).message, cause);
  }
  const body = (await response.json()) as T & { error?: { kind: string; message: string } };
  if (!response.ok)
    throw new ApiError(
      body.error?.kind ?? `status-${response.status}`,
      body.error?.message ?? response.statusText,
    );
  return body;
}

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

export function fetchBoard(id: string): Promise<BoardSummary> {
  return ask(`/api/boards/${encodeURIComponent(id)}`);
}

/** The board's file as a JSON value. */
export function fetchBoardFile(id: string): Promise<unknown> {
  return ask(`/api/boards/${encodeURIComponent(id)}/file`);
}

export function createBoard(
  body: { strings: number; rows: number } | { file: unknown },
): Promise<BoardSummary> {
  return post('/api/boards', body);
}

export function copyBoard(id: string): Promise<BoardSummary> {
  return post(`/api/boards/${encodeURIComponent(id)}/copy`, {});
}
