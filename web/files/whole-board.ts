/** A board as a whole over the server's HTTP: its archive out and in, and its end. All reject with {@link ApiError}. */
import { ApiError, ask, type BoardSummary, request } from '../sync/index.ts';

const at = (boardId: string): string => `/api/boards/${encodeURIComponent(boardId)}`;

/** Everything the server keeps of a board and can read, as one zip file, and whether that is all. For owners. */
export async function fetchArchive(
  boardId: string,
): Promise<{ readonly archive: Blob; readonly isWhole: boolean }> {
  const response = await request(`${at(boardId)}/archive`);
  try {
    return { archive: await response.blob(), isWhole: response.headers.get('larkboard-lacks') === null };
  } catch (cause) {
    throw new ApiError('unreachable', (cause as Error).message, cause);
  }
}

/** Makes a board of one's own from an archive. */
export function loadArchive(archive: Blob): Promise<BoardSummary> {
  return ask('/api/archives', {
    method: 'POST',
    headers: { 'content-type': 'application/zip' },
    body: archive,
  });
}

/** Deletes a board for good. For owners. */
export async function deleteBoard(boardId: string): Promise<void> {
  await ask(at(boardId), { method: 'DELETE' });
}
