/** Who holds which link of which board. Stores keep hashes of secrets only; nothing here can be turned back into a link. */
import type { Role } from '../../engine/document/index.ts';

/** A link that the owner gave out. Times are milliseconds since 1970 (UTC). */
export interface LinkRecord {
  readonly id: string;
  readonly boardId: string;
  readonly role: Role;
  /** The owner's own name for it, 0 to 60 characters. */
  readonly name: string;
  /** SHA-256 of the secret, hex. */
  readonly secretHash: string;
  readonly createdAt: number;
  /** From then on it opens nothing; null = no end. */
  readonly endsAt: number | null;
  /** When the owner took it back; null = in force. */
  readonly revokedAt: number | null;
}

/** That a person came in by a link. */
export interface GrantRecord {
  readonly personId: string;
  readonly linkId: string;
  readonly boardId: string;
}

/** That a device may come and look, once. */
export interface HandOverRecord {
  /** SHA-256 of the code, hex. */
  readonly codeHash: string;
  /** Who gave it; a person has one at a time. */
  readonly personId: string;
  readonly boardId: string;
  /** The link that the right rests on, and its board, of which `boardId` may be a branch; null where the board is open to everybody. */
  readonly linkId: string | null;
  readonly linkBoardId: string;
  /** From then on it works no more. */
  readonly endsAt: number;
  /** What goes along. */
  readonly carried: string;
}

/** Every write has reached the disk when its promise fulfils; a failed write rejects. */
export interface AccessStore {
  addLink(link: LinkRecord): Promise<void>;
  linkById(boardId: string, linkId: string): Promise<LinkRecord | null>;
  linkByHash(boardId: string, secretHash: string): Promise<LinkRecord | null>;
  /** All links of a board, oldest first, revoked ones included. */
  links(boardId: string): Promise<readonly LinkRecord[]>;
  /** @returns false when there is no such link. */
  updateLink(
    boardId: string,
    linkId: string,
    patch: Partial<Pick<LinkRecord, 'name' | 'endsAt' | 'revokedAt'>>,
  ): Promise<boolean>;
  /** Remembers that the person came in by the link; a second time changes nothing, after a hand-over it is more than looking. */
  addGrant(grant: GrantRecord): Promise<void>;
  /** The links of a board that the person came in by, revoked and ended ones included; one that a hand-over rests on as an onlooker's. */
  grantedLinks(personId: string, boardId: string): Promise<readonly LinkRecord[]>;
  /** The boards that the person holds a link of that is neither revoked nor ended at `now`. */
  boardsOf(personId: string, now: number): Promise<readonly string[]>;
  /** Keeps a code in place of the one the person had before, and forgets those that ended before `now`. */
  addHandOver(handOver: HandOverRecord, now: number): Promise<void>;
  /** Whether there is such a code that has not ended at `now`. */
  hasHandOver(boardId: string, codeHash: string, now: number): Promise<boolean>;
  /**
   * Uses a code up, in one step with letting the person look by its link: of several who ask at once, on any node, one gets it. Whoever
   * came in by that link themselves keeps what they may do.
   * @returns what goes along; null when there is no such code any more
   */
  takeHandOver(boardId: string, codeHash: string, personId: string, now: number): Promise<string | null>;
  /** Forgets every link, grant and code of a board. */
  forgetBoard(boardId: string): Promise<void>;
  /** The person behind a session that was made or extended at `since` or later, by the hash of the session's secret. */
  personBySession(sessionHash: string, since: number): Promise<string | null>;
  addSession(sessionHash: string, personId: string, madeAt: number): Promise<void>;
  /** Extends a session that was last extended before `ifBefore`. @returns whether it was */
  extendSession(sessionHash: string, now: number, ifBefore: number): Promise<boolean>;
  /** Forgets sessions last extended before a time, and how people came in whom no session names any more. @returns how many sessions */
  dropSessions(before: number): Promise<number>;
  close(): Promise<void>;
}
