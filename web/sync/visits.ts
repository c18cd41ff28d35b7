/** Who has been at the board and changed something, and what; for owners. */
import { type Edit, readEdit } from '../../engine/document/index.ts';
import { ApiError, ask } from './api.ts';

/** One person's stay, from the first edit to the last. */
export interface PastVisit {
  readonly id: string;
  readonly personId: string;
  /** Empty where none was shown. */
  readonly name: string;
  readonly began: number;
  readonly last: number;
  /** Knots, rows, strings, colours and texts that were changed. */
  readonly changes: number;
}

/** What was done in one. */
export interface VisitEdits {
  /** Oldest first. */
  readonly edits: readonly Edit[];
  /** Who has changed something since, by root and key; the name is empty where nobody knows. */
  readonly since: ReadonlyMap<string, string>;
}

const at = (boardId: string): string => `/api/boards/${encodeURIComponent(boardId)}/visits`;

/** Newest first. Rejects with {@link ApiError}. */
export async function fetchVisits(boardId: string): Promise<readonly PastVisit[]> {
  return (await ask<{ readonly visits: readonly PastVisit[] }>(at(boardId))).visits;
}

/** Rejects with {@link ApiError}; kind `no-such-visit` where nothing is known of it any more, `newer-version` where this page is too old to read it. */
export async function fetchVisitEdits(boardId: string, id: string): Promise<VisitEdits> {
  const { edits, since } = await ask<{
    readonly edits: readonly string[];
    readonly since: readonly (readonly [root: string, key: string, name: string])[];
  }>(`${at(boardId)}/${encodeURIComponent(id)}`);
  return {
    edits: edits.map(readOne),
    since: new Map(since.map(([root, key, name]) => [`${root} ${key}`, name])),
  };
}

function readOne(text: string): Edit {
  const read = readEdit(Uint8Array.from(atob(text), (character) => character.charCodeAt(0)));
  if (read.ok) return read.edit;
  throw new ApiError(read.error.kind === 'newer' ? 'newer-version' : 'bad-answer', 'the edit cannot be read');
}
