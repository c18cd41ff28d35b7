/** What is kept of a proposal beside its branch. */
import { LIMITS } from '../../engine/document/index.ts';
import { type FirstRecord, StoreError } from '../store/index.ts';

/** The last that a date can be, in ms since 1970 (ECMA-262, 21.4.1.1). */
const LAST_TIME = 8.64e15;

/** Kind of the records of proposals, kept with the board; their bytes are the base state. */
export const PROPOSAL = 'proposal';
/** Kind of the one record with which a branch says whose it is. */
export const BRANCH = 'branch';
/** Id of that record. */
export const BRANCH_ID = 'of';

/** `draft`: worked on, not handed in yet. The last three are closed. */
const PROPOSAL_STATES = ['draft', 'open', 'accepted', 'declined', 'withdrawn'] as const;
type ProposalState = (typeof PROPOSAL_STATES)[number];

/** A proposal. Its id is also that of the branch: a board of its own that is listed nowhere else. */
export interface Proposal {
  readonly id: string;
  readonly title: string;
  /** Person of the cookie that made it. */
  readonly proposer: string;
  /** The name the proposer gave themselves. */
  readonly name: string;
  readonly state: ProposalState;
  /** What the owner said with it; empty = nothing. */
  readonly word: string;
  /** Whether only a part was accepted. */
  readonly isPart: boolean;
  /** Milliseconds since 1970 (UTC). */
  readonly madeAt: number;
  readonly handedInAt: number | null;
  readonly closedAt: number | null;
}

/** Most characters of a title. */
export const MAX_TITLE = LIMITS.titleCharacters;
/** Most characters of a word that goes with an answer. */
export const MAX_WORD = 1_000;
/** Proposals of one board that are not closed. */
export const MAX_OPEN = 20;
/** Of these by one person. */
export const MAX_OPEN_OF_ONE = 5;
/** Answered ones that are remembered, with their branches, and as many withdrawn ones; older ones are forgotten. */
export const MAX_CLOSED = 40;
/** Of those withdrawn by one person. */
export const MAX_WITHDRAWN_OF_ONE = 5;

/** Whether a proposal can still change. */
export function isLive({ state }: Proposal): boolean {
  return state === 'draft' || state === 'open';
}

/** A proposal as the text of its record. */
export function writeProposal({ id: _id, ...about }: Proposal): string {
  return JSON.stringify(about);
}

/** Reads the text of a record. @throws StoreError 'damaged' when it is none that was written */
export function readProposal(id: string, about: string): Proposal {
  return { ...(readAbout(id, about) as Omit<Proposal, 'id'>), id };
}

/** The record with which a branch says whose it is. */
export function sayBranch(of: BranchOf): FirstRecord {
  return { kind: BRANCH, id: BRANCH_ID, about: JSON.stringify(of), bytes: new Uint8Array(0) };
}

/** What is told of a proposal by somebody who may say anything: its fields and no others; null when one of them is none. */
export function tellProposal(id: string, about: string): Proposal | null {
  let value: Readonly<Record<string, unknown>>;
  try {
    value = JSON.parse(about) as Record<string, unknown>;
  } catch (cause) {
    if (!(cause instanceof SyntaxError)) throw cause;
    return null;
  }
  if (typeof value !== 'object' || value === null) return null;
  const { title, proposer, name, word, isPart, madeAt, handedInAt, closedAt } = value;
  const state = PROPOSAL_STATES.find((one) => one === value.state);
  const isText = (text: unknown, most: number): text is string =>
    typeof text === 'string' && text.length <= most;
  const isTime = (time: unknown): time is number =>
    typeof time === 'number' && Number.isSafeInteger(time) && time >= 0 && time <= LAST_TIME;
  const isTimeOrNone = (time: unknown): time is number | null => time === null || isTime(time);
  if (state === undefined || typeof proposer !== 'string' || typeof isPart !== 'boolean') return null;
  if (!isText(title, MAX_TITLE) || !isText(name, LIMITS.nameCharacters) || !isText(word, MAX_WORD))
    return null;
  if (!isTime(madeAt) || !isTimeOrNone(handedInAt) || !isTimeOrNone(closedAt)) return null;
  return { id, title, proposer, name, state, word, isPart, madeAt, handedInAt, closedAt };
}

/** Reads whose branch a board is. @throws StoreError 'damaged' when it is none that was written */
export function readBranch(id: string, about: string): BranchOf {
  return readAbout(id, about) as BranchOf;
}

function readAbout(id: string, about: string): unknown {
  try {
    return JSON.parse(about);
  } catch (cause) {
    throw new StoreError('damaged', `the record of proposal ${id} cannot be read`, { cause });
  }
}

/** Whose branch a board is. */
export interface BranchOf {
  readonly board: string;
  readonly proposer: string;
}
