/** The versions of a board: the list, one of them, and what people do with them. */
import * as Y from 'yjs';
import { BareDesign, type Design } from '../../engine/document/index.ts';
import { ApiError, ask, post, request } from './api.ts';
import { newId } from './person.ts';

export type VersionKind = 'auto' | 'many' | 'wiped' | 'before' | 'late' | 'named';

export interface Version {
  readonly id: string;
  /**
   * `auto`: taken by itself; `many`: before much was changed at once; `wiped`: before somebody changed what others had made; `before`: what
   * stood there before a version was brought back; `named`: by somebody.
   */
  readonly kind: VersionKind;
  readonly at: number;
  readonly name: string;
  readonly by: { readonly personId: string; readonly name: string } | null;
  readonly title: string;
  readonly strings: number;
  readonly rows: number;
}

export interface VersionList {
  /** Newest first. */
  readonly versions: readonly Version[];
  readonly mostNamed: number;
  readonly canName: boolean;
  readonly canDelete: boolean;
}

const at = (boardId: string): string => `/api/boards/${encodeURIComponent(boardId)}/versions`;

/** Rejects with {@link ApiError}, as all of these do. */
export function fetchVersions(boardId: string): Promise<VersionList> {
  return ask(at(boardId));
}

/** The design of a version, apart from the board's own document. The caller disposes of it. Kind `bad-version` when it cannot be read. */
export async function fetchVersion(boardId: string, id: string): Promise<Design> {
  const address = `${at(boardId)}/${encodeURIComponent(id)}`;
  const response = await request(address);
  const doc = new Y.Doc();
  try {
    Y.applyUpdate(doc, new Uint8Array(await response.arrayBuffer()));
  } catch (cause) {
    throw new ApiError('bad-version', (cause as Error).message, cause);
  }
  const design = new BareDesign(doc, { makerId: 'version', newId });
  if (design.state.kind === 'ready') return design;
  design.dispose();
  throw new ApiError('bad-version', `the document is ${design.state.kind}`);
}

/** Keeps the design as it is on the server now. `person`: the name that one goes by. */
export function nameVersion(boardId: string, name: string, person: string): Promise<Version> {
  return post(at(boardId), { name, person });
}

/** Gives a version a name, or another one; from then on it is kept. */
export function renameVersion(boardId: string, id: string, name: string, person: string): Promise<Version> {
  return ask(`${at(boardId)}/${encodeURIComponent(id)}`, {
    method: 'PATCH',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify({ name, person }),
  });
}

/** Keeps what stands there now, before a version is brought back. */
export async function keepPresent(boardId: string): Promise<void> {
  await post(`${at(boardId)}/keep`, {});
}

/** Deletes it for everybody, as an owner; kind `unknown-version` when somebody else has. */
export async function deleteVersion(boardId: string, id: string): Promise<void> {
  await ask(`${at(boardId)}/${encodeURIComponent(id)}`, { method: 'DELETE' });
}
