/** Proposals over the server's HTTP. Everything rejects with {@link ApiError} as in api.ts. */
import { type KeyedDesign, readKeyedUpdate } from '../../engine/document/index.ts';
import { ApiError, ask, post } from './api.ts';

/** `draft`: worked on, not handed in yet. */
export type ProposalState = 'draft' | 'open' | 'accepted' | 'declined' | 'withdrawn';

/** A proposal as everybody on the board sees it. Its id is also that of the board on which it is worked at. */
export interface Proposal {
  readonly id: string;
  readonly title: string;
  /** The name its maker gave; may be empty. */
  readonly name: string;
  readonly isMine: boolean;
  readonly state: ProposalState;
  readonly word: string;
  readonly isPart: boolean;
  readonly madeAt: number;
  readonly handedInAt: number | null;
  readonly closedAt: number | null;
}

/** What a proposal started from and what it shows now. */
export interface ProposalSides {
  readonly base: KeyedDesign;
  readonly present: KeyedDesign;
  /** To be given back when it is accepted. */
  readonly seen: string;
}

const at = (board: string, proposal?: string): string =>
  `/api/boards/${encodeURIComponent(board)}/proposals${proposal === undefined ? '' : `/${encodeURIComponent(proposal)}`}`;

/** Oldest first; null where the server keeps no links, and so no proposals. */
export async function fetchProposals(board: string): Promise<readonly Proposal[] | null> {
  try {
    return await ask(at(board));
  } catch (error) {
    if (error instanceof ApiError && error.kind === 'not-found') return null;
    throw error;
  }
}

export function fetchProposal(board: string, id: string): Promise<Proposal> {
  return ask(at(board, id));
}

export function makeProposal(board: string, title: string, name: string): Promise<Proposal> {
  return post(at(board), { title, name });
}

export async function fetchProposalSides(board: string, id: string): Promise<ProposalSides> {
  const { base, present, seen } = await ask<{
    readonly base: string;
    readonly present: string;
    readonly seen: string;
  }>(`${at(board, id)}/states`);
  return { base: readSide(base), present: readSide(present), seen };
}

function readSide(base64: string): KeyedDesign {
  const bytes = Uint8Array.from(atob(base64), (char) => char.charCodeAt(0));
  const keyed = readKeyedUpdate(bytes);
  if (keyed === null) throw new ApiError('unreadable', 'a side of the proposal holds no board');
  return keyed;
}

export function handInProposal(board: string, id: string): Promise<Proposal> {
  return post(`${at(board, id)}/hand-in`, {});
}

export function withdrawProposal(board: string, id: string): Promise<Proposal> {
  return post(`${at(board, id)}/withdraw`, {});
}

export function declineProposal(board: string, id: string, word: string): Promise<Proposal> {
  return post(`${at(board, id)}/decline`, { word });
}

/** Rejects with kind `proposal-moved` when the proposal shows something else than was seen. */
export function acceptProposal(
  board: string,
  id: string,
  answer: { readonly seen: string; readonly word: string; readonly isPart: boolean },
): Promise<Proposal> {
  return post(`${at(board, id)}/accept`, answer);
}
