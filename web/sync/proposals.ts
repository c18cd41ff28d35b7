/** Proposals over the server's HTTP. Everything rejects with {@link ApiError} as in api.ts. */
import { type KeyedDesign, readKeyedUpdate } from '../../engine/document/index.ts';
import { ApiError, ask, post } from './api.ts';

/** `draft`: worked on, not handed in yet. */
type ProposalState = 'draft' | 'open' | 'accepted' | 'declined' | 'withdrawn';

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

/** Rejects with {@link ApiError}, as all of these do; kind `unknown-proposal` when the board has none of this id. */
export function fetchProposal(board: string, id: string): Promise<Proposal> {
  return ask(at(board, id));
}

/** Branches off the board as the server holds it now. @param name what its maker is called @returns the proposal, still open */
export function makeProposal(board: string, title: string, name: string): Promise<Proposal> {
  return post(at(board), { title, name });
}

/** The board as it was when the branch was made, and the branch now. Kind `unreadable` when one of them holds no board. */
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

/** Hands one’s own over to the owners. Kind `proposal-closed` once it is answered or withdrawn, as for the next three. */
export function handInProposal(board: string, id: string): Promise<Proposal> {
  return post(`${at(board, id)}/hand-in`, {});
}

/** Takes one’s own back; nobody works on the branch any more. */
export function withdrawProposal(board: string, id: string): Promise<Proposal> {
  return post(`${at(board, id)}/withdraw`, {});
}

/** Says no, as an owner. @param word shown to whoever proposed; may be empty */
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
