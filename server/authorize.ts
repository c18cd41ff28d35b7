/** Who may come in. The server asks before it opens anything; access by links plugs in here. */
import type { BoardPart, CloseReason, Role } from '../engine/document/index.ts';
import type { BoardRecord } from './store/index.ts';

/** What is known of an asker. Header names in lower case. */
export interface Asker {
  readonly headers: Readonly<Record<string, string | undefined>>;
  readonly address: string;
}

export interface Pass {
  readonly role: Role;
  readonly canWrite: boolean;
  /** Presence on this socket must carry this person's id; null = not known. */
  readonly personId: string | null;
  /**
   * Whether a link let them in, or, where there are no links, that they know the board; not whether it is open to everybody.
   * Limits are shared out by it.
   */
  readonly isAdmitted: boolean;
  /** Whether they became a person only a short time ago. */
  readonly isNew?: boolean;
  /** When it has to be asked for anew, in ms since 1970; null or absent = when somebody changes who may do what. */
  readonly endsAt?: number | null;
  /** The board whose branch this is; null or absent where it is none. */
  readonly branchOf?: string | null;
}

export interface Denial {
  readonly denied: Extract<CloseReason, 'forbidden' | 'unknownBoard' | 'revoked' | 'tooFast'>;
  readonly message: string;
}

export type Authorize = (asker: Asker, board: BoardRecord, part: BoardPart) => Promise<Pass | Denial>;

/**
 * Without links: whoever knows a board's id works on it; demo boards are only looked at. For one's own machine and for boards
 * made before there were links (`ACCESS=address`), never where others reach the server.
 */
export const authorizeByAddress: Authorize = async (_asker, board) => {
  // In a lesson it matters who somebody is, and here nobody is known.
  if (board.kind === 'lesson') return { denied: 'unknownBoard', message: 'no such board' };
  return board.kind === 'demo'
    ? { role: 'onlooker', canWrite: false, personId: null, isAdmitted: false }
    : { role: 'co-maker', canWrite: true, personId: null, isAdmitted: true };
};
