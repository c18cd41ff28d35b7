/** A board as a whole over the server's HTTP: its archive out and in, and its end. All reject with {@link ApiError}. */
import { ApiError, ask, type BoardSummary } from '../sync/index.ts';
import { t } from '../text/index.ts';
import { sayServerError } from '../words/say-error.ts';

const at = (boardId: string): string => `/api/boards/${encodeURIComponent(boardId)}`;

/** Everything the server keeps of a board, as one zip file. For owners. */
export async function fetchArchive(boardId: string): Promise<Blob> {
  let response: Response;
  try {
    response = await fetch(`${at(boardId)}/archive`);
    if (response.ok) return await response.blob();
  } catch (cause) {
    throw new ApiError('unreachable', (cause as Error).message, cause);
  }
  const { error } = (await response.json()) as { error: { kind: string; message: string } };
  throw new ApiError(error.kind, error.message);
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

const ARCHIVE_KINDS = ['not-an-archive', 'damaged', 'newer-version', 'too-large'] as const;

/** Why an archive was not loaded, to stand behind a colon. Needs the texts of the group `paper`. */
export function sayArchiveError({ kind, message }: ApiError): string {
  const known = ARCHIVE_KINDS.find((one) => one === kind);
  return known === undefined
    ? sayServerError({ kind, message })
    : t('whole.why', { sentence: t(`whole.${known}`), detail: message });
}
