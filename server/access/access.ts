/**
 * Access by links.
 *
 * A link is a secret that stands for a role on one board. Whoever shows it is remembered by a session cookie, and from
 * then on has, on that board, the best role among the links they came in by that are neither revoked nor ended. Boards
 * that are open to look at (the demo boards) give everybody else the role onlooker; any other board does not even
 * admit to exist.
 */
import { ROLES, type Role, roleOnBranch } from '../../engine/document/index.ts';
import type { AccessStore, LinkRecord } from './access-store.ts';
import { NewPeople } from './new-people.ts';
import { hashSecret, isSecretShaped, newSecret, newUnguessableId } from './secrets.ts';

/** What a person may be on a board at this moment, and until when if nothing changes. */
export interface Standing {
  readonly personId: string;
  readonly role: Role;
  /** The link it rests on; null where the board is open to everybody. */
  readonly linkId: string | null;
  /** When that link ends; null = no end. */
  readonly endsAt: number | null;
  /** The board whose branch this is, from which all rights here follow; null for a board of its own. */
  readonly branchOf: string | null;
}

/** Whose branch a board is. */
export interface Branch {
  readonly board: string;
  readonly proposer: string;
  /** Whether its proposal can still change. */
  readonly isOpen: boolean;
}

export interface AccessDeps {
  readonly store: AccessStore;
  readonly now: () => number;
  /** Whether there is such a board and it is open to look at for everybody. */
  readonly isOpen: (boardId: string) => boolean | Promise<boolean>;
}

export interface NewLink {
  readonly role: Role;
  readonly name: string;
  readonly endsAt: number | null;
}

/** A session ends so long after the last visit; so does its cookie. */
export const SESSION_MS = 365 * 24 * 60 * 60 * 1000;
const EXTEND_MS = 24 * 60 * 60 * 1000;

/** The rules of access over a store. Holds no state of its own save who listens for taken-back links, and who is new. */
export class Access {
  readonly #deps: AccessDeps;
  readonly #newPeople: NewPeople;
  readonly #listeners = new Set<(boardId: string) => void>();
  #branchOf: (boardId: string) => Promise<Branch | null> = async () => null;

  constructor(deps: AccessDeps) {
    this.#deps = deps;
    this.#newPeople = new NewPeople(deps.now);
  }

  /** Calls `listener` with the board's id whenever somebody's standing on it may have become less. */
  onNarrowed(listener: (boardId: string) => void): () => void {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  }

  /** Tells which boards are branches, and of what. */
  useBranches(branchOf: (boardId: string) => Promise<Branch | null>): void {
    this.#branchOf = branchOf;
  }

  /** Says that somebody's standing on a board may have become less. */
  narrow(boardId: string): void {
    for (const listener of this.#listeners) listener(boardId);
  }

  /** A new person with a session; the returned secret goes into their cookie and is not kept. */
  async newSession(): Promise<{ personId: string; secret: string }> {
    const personId = newUnguessableId();
    const secret = newSecret();
    await this.#deps.store.addSession(hashSecret(secret), personId, this.#deps.now());
    this.#newPeople.add(personId);
    return { personId, secret };
  }

  /** Whether somebody became a person only a short time ago, on this node. */
  isNew(personId: string): boolean {
    return this.#newPeople.has(personId);
  }

  /** The person whose cookie this is; null when it is none of ours. */
  async personOf(sessionSecret: string | undefined): Promise<string | null> {
    return isSecretShaped(sessionSecret)
      ? this.#deps.store.personBySession(hashSecret(sessionSecret), this.#deps.now() - SESSION_MS)
      : null;
  }

  /** Notes that a person visits. @returns whether their cookie shall last anew from now; at most once a day */
  async extendSession(sessionSecret: string | undefined): Promise<boolean> {
    if ((await this.personOf(sessionSecret)) === null) return false;
    const now = this.#deps.now();
    return this.#deps.store.extendSession(hashSecret(sessionSecret!), now, now - EXTEND_MS);
  }

  /** Forgets the sessions that ended. @returns how many */
  dropEndedSessions(): Promise<number> {
    return this.#deps.store.dropSessions(this.#deps.now() - SESSION_MS);
  }

  /** Makes a link and returns its secret, the only time it can be read. */
  async makeLink(boardId: string, link: NewLink): Promise<{ link: LinkRecord; secret: string }> {
    const made = this.#newLink(boardId, link);
    await this.#deps.store.addLink(made.link);
    return made;
  }

  #newLink(boardId: string, link: NewLink): { link: LinkRecord; secret: string } {
    const secret = newSecret();
    const record: LinkRecord = {
      id: newUnguessableId(),
      boardId,
      role: link.role,
      name: link.name,
      secretHash: hashSecret(secret),
      createdAt: this.#deps.now(),
      endsAt: link.endsAt,
      revokedAt: null,
    };
    return { link: record, secret };
  }

  /** Makes a link and lets the person in by it; for whoever has just made the board. */
  async makeOwner(personId: string, boardId: string): Promise<{ link: LinkRecord; secret: string }> {
    const made = this.#newLink(boardId, { role: 'owner', name: '', endsAt: null });
    // In this order a link that is there has somebody who came in by it.
    await this.#deps.store.addGrant({ personId, linkId: made.link.id, boardId });
    await this.#deps.store.addLink(made.link);
    return made;
  }

  /** Whether somebody was made an owner of the board, whatever has become of their link since. */
  async hasHadOwner(boardId: string): Promise<boolean> {
    return (await this.#deps.store.links(boardId)).some(({ role }) => role === 'owner');
  }

  /** Whether a secret opens the board now. */
  async opens(boardId: string, secret: unknown): Promise<boolean> {
    return (await this.#linkOf(boardId, secret)) !== null;
  }

  /** Lets the person in by a link's secret. Null when the secret opens nothing (any more). */
  async exchange(personId: string, boardId: string, secret: unknown): Promise<Standing | null> {
    const link = await this.#linkOf(boardId, secret);
    if (link === null) return null;
    await this.#deps.store.addGrant({ personId, linkId: link.id, boardId });
    return this.standing(personId, boardId);
  }

  /** Whether the person once came in by a link of the board, which may have ended since. */
  async wasIn(personId: string, boardId: string): Promise<boolean> {
    if ((await this.#deps.store.grantedLinks(personId, boardId)).length > 0) return true;
    const branch = await this.#branchOf(boardId);
    return branch !== null && (await this.#deps.store.grantedLinks(personId, branch.board)).length > 0;
  }

  /** What the person may be on the board now; null when nothing. An unknown person can still look at an open board. */
  async standing(personId: string | null, boardId: string): Promise<Standing | null> {
    const links = personId === null ? [] : await this.#deps.store.grantedLinks(personId, boardId);
    const best = links
      .filter((link) => this.#isInForce(link))
      .sort((a, b) => ROLES.indexOf(a.role) - ROLES.indexOf(b.role) || later(b.endsAt) - later(a.endsAt))[0];
    if (best && personId !== null)
      return { personId, role: best.role, linkId: best.id, endsAt: best.endsAt, branchOf: null };
    if (await this.#deps.isOpen(boardId))
      return { personId: personId ?? '', role: 'onlooker', linkId: null, endsAt: null, branchOf: null };
    const branch = personId === null ? null : await this.#branchOf(boardId);
    return branch === null ? null : this.#standingOnBranch(personId, branch);
  }

  /** Rights on a branch follow from those on its board, asked each time: a link taken back there closes it too. */
  async #standingOnBranch(personId: string | null, branch: Branch): Promise<Standing | null> {
    const there = await this.standing(personId, branch.board);
    if (there === null) return null;
    const role = roleOnBranch(there.role, there.personId === branch.proposer, branch.isOpen);
    return { ...there, role, branchOf: branch.board };
  }

  links(boardId: string): Promise<readonly LinkRecord[]> {
    return this.#deps.store.links(boardId);
  }

  /**
   * Renames a link, changes its end or takes it back.
   * @returns 'unknown' when there is no such link; 'last-owner' when the change would leave the board without an owner link.
   */
  async changeLink(
    boardId: string,
    linkId: string,
    patch: { name?: string; endsAt?: number | null; revoked?: true },
  ): Promise<'done' | 'unknown' | 'last-owner'> {
    const link = await this.#deps.store.linkById(boardId, linkId);
    if (!link) return 'unknown';
    const narrows = patch.revoked === true || (patch.endsAt !== undefined && patch.endsAt !== null);
    if (narrows && link.role === 'owner') {
      if (!(await this.#hasOwnerBeside(boardId, linkId))) return 'last-owner';
    }
    await this.#deps.store.updateLink(boardId, linkId, {
      ...(patch.name === undefined ? {} : { name: patch.name }),
      ...(patch.endsAt === undefined ? {} : { endsAt: patch.endsAt }),
      ...(patch.revoked ? { revokedAt: link.revokedAt ?? this.#deps.now() } : {}),
    });
    // Two owners may have taken back each other's link at once: each looked before the other had written.
    if (narrows && link.role === 'owner' && !(await this.#hasOwnerBeside(boardId, linkId))) {
      const { endsAt, revokedAt } = link;
      await this.#deps.store.updateLink(boardId, linkId, { endsAt, revokedAt });
      return 'last-owner';
    }
    if (narrows) this.narrow(boardId);
    return 'done';
  }

  /** Whether the board has another owner link without an end. */
  async #hasOwnerBeside(boardId: string, linkId: string): Promise<boolean> {
    return (await this.#deps.store.links(boardId)).some(
      ({ id, role, endsAt, revokedAt }) =>
        id !== linkId && role === 'owner' && endsAt === null && revokedAt === null,
    );
  }

  boardsOf(personId: string): Promise<readonly string[]> {
    return this.#deps.store.boardsOf(personId, this.#deps.now());
  }

  /** Forgets every link of a deleted board. */
  async forgetBoard(boardId: string): Promise<void> {
    await this.#deps.store.forgetBoard(boardId);
    this.narrow(boardId);
  }

  async #linkOf(boardId: string, secret: unknown): Promise<LinkRecord | null> {
    if (!isSecretShaped(secret)) return null;
    const link = await this.#deps.store.linkByHash(boardId, hashSecret(secret));
    return link !== null && this.#isInForce(link) ? link : null;
  }

  #isInForce(link: LinkRecord): boolean {
    return link.revokedAt === null && (link.endsAt === null || link.endsAt > this.#deps.now());
  }
}

function later(endsAt: number | null): number {
  return endsAt ?? Number.MAX_SAFE_INTEGER;
}
