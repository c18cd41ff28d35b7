/** Coming in by a link, and what its owner does with links. The secret of a link is only ever in the fragment of an address. */
import { type Role, readRole } from '../../engine/document/index.ts';
import { ApiError, ask, post } from './api.ts';

/** Who one is on a board. */
export interface Standing {
  readonly personId: string;
  readonly role: Role;
  /** When the link ends, in ms since 1970; null = no end. */
  readonly endsAt: number | null;
  /** The board that this one is a proposal for; null for a board of its own. */
  readonly branchOf?: string | null;
}

export interface Link {
  readonly id: string;
  readonly role: Role;
  readonly name: string;
  readonly createdAt: number;
  readonly endsAt: number | null;
  readonly revokedAt: number | null;
}

const at = (boardId: string): string => `/api/boards/${encodeURIComponent(boardId)}`;

/** The secret in a fragment such as `#…`; null when there is none. */
export function secretIn(hash: string): string | null {
  return /^#([A-Za-z0-9_-]{32})$/.exec(hash)?.[1] ?? null;
}

/** The address that a link is given out as. */
export function addressOfLink(origin: string, boardId: string, secret: string): string {
  return `${origin}/board/${boardId}#${secret}`;
}

/** Comes in by a link's secret. Rejects with {@link ApiError}, as all of these do; kind `unknown-link` when it opens nothing. */
export function enterBoard(boardId: string, secret: string): Promise<Standing> {
  return post(`${at(boardId)}/enter`, { secret });
}

/** Who one is; null where the server knows no links, and whoever knows a board's address works on it. */
export async function fetchStanding(boardId: string): Promise<Standing | null> {
  try {
    return await ask<Standing>(`${at(boardId)}/me`);
  } catch (error) {
    if (error instanceof ApiError && error.kind === 'not-found') return null;
    throw error;
  }
}

/** All links of a board, for its owners; kind `forbidden` for others. The secrets are in none of them. */
export function fetchLinks(boardId: string): Promise<readonly Link[]> {
  return ask(`${at(boardId)}/links`);
}

/** Makes a link. The secret is in this answer and never again. */
export function makeLink(
  boardId: string,
  link: { readonly role: Role; readonly name: string; readonly endsAt: number | null },
): Promise<Link & { readonly secret: string }> {
  return post(`${at(boardId)}/links`, link);
}

/** @param endsAt ms since 1970, null = no end. Kind `last-owner` when no owner link without an end would be left */
export async function endLinkAt(boardId: string, linkId: string, endsAt: number | null): Promise<void> {
  await ask(`${at(boardId)}/links/${encodeURIComponent(linkId)}`, {
    method: 'PATCH',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify({ endsAt }),
  });
}

/** Takes a link back; whoever came in by it is put out. */
export async function takeBackLink(boardId: string, linkId: string): Promise<void> {
  await ask(`${at(boardId)}/links/${encodeURIComponent(linkId)}`, { method: 'DELETE' });
}

/** The boards that this browser holds a link of; none where the server keeps no links. */
export async function fetchOwnBoards(): Promise<readonly { readonly id: string; readonly role: Role }[]> {
  try {
    return await ask('/api/mine');
  } catch (error) {
    if (error instanceof ApiError && error.kind === 'not-found') return [];
    throw error;
  }
}

/** The role this browser had on a board last time, for when the server cannot be asked; null when it is not known. */
export function rememberedRole(boardId: string): Role | null {
  return readRole(localStorage.getItem(`larkboard.role.${boardId}`));
}

/** Remembers it for {@link rememberedRole}. */
export function rememberRole(boardId: string, role: Role): void {
  localStorage.setItem(`larkboard.role.${boardId}`, role);
}
