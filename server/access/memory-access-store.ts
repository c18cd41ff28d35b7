/** An access store without a disk, for tests: the plain model that the real stores must agree with. */
import type { AccessStore, GrantRecord, HandOverRecord, LinkRecord } from './access-store.ts';

export class MemoryAccessStore implements AccessStore {
  #links: LinkRecord[] = [];
  #grants: (GrantRecord & { readonly looks: boolean })[] = [];
  #handOvers: HandOverRecord[] = [];
  readonly #sessions = new Map<string, { readonly person: string; readonly extendedAt: number }>();

  async addLink(link: LinkRecord): Promise<void> {
    this.#links.push(link);
  }

  async linkById(boardId: string, linkId: string): Promise<LinkRecord | null> {
    return this.#links.find((link) => link.boardId === boardId && link.id === linkId) ?? null;
  }

  async linkByHash(boardId: string, secretHash: string): Promise<LinkRecord | null> {
    return this.#links.find((link) => link.boardId === boardId && link.secretHash === secretHash) ?? null;
  }

  async links(boardId: string): Promise<readonly LinkRecord[]> {
    return this.#links
      .filter((link) => link.boardId === boardId)
      .sort((a, b) => a.createdAt - b.createdAt || (a.id < b.id ? -1 : 1));
  }

  async updateLink(
    boardId: string,
    linkId: string,
    patch: Partial<Pick<LinkRecord, 'name' | 'endsAt' | 'revokedAt'>>,
  ): Promise<boolean> {
    const index = this.#links.findIndex((link) => link.boardId === boardId && link.id === linkId);
    const link = this.#links[index];
    if (!link) return false;
    this.#links[index] = { ...link, ...patch };
    return true;
  }

  async addGrant(grant: GrantRecord): Promise<void> {
    this.#grants = this.#grants.filter(
      ({ personId, linkId }) => personId !== grant.personId || linkId !== grant.linkId,
    );
    this.#grants.push({ ...grant, looks: false });
  }

  async grantedLinks(personId: string, boardId: string): Promise<readonly LinkRecord[]> {
    const held = new Map(this.#grants.filter((g) => g.personId === personId).map((g) => [g.linkId, g.looks]));
    return (await this.links(boardId))
      .filter((link) => held.has(link.id))
      .map((link) => (held.get(link.id) ? { ...link, role: 'onlooker' } : link));
  }

  async boardsOf(personId: string, now: number): Promise<readonly string[]> {
    const held = new Set(this.#grants.filter((g) => g.personId === personId).map((g) => g.linkId));
    const boards = this.#links
      .filter(
        (link) => held.has(link.id) && link.revokedAt === null && (link.endsAt === null || link.endsAt > now),
      )
      .map((link) => link.boardId);
    return [...new Set(boards)].sort();
  }

  async addHandOver(handOver: HandOverRecord, now: number): Promise<void> {
    this.#handOvers = this.#handOvers.filter(
      ({ personId, endsAt }) => personId !== handOver.personId && endsAt > now,
    );
    this.#handOvers.push(handOver);
  }

  async hasHandOver(boardId: string, codeHash: string, now: number): Promise<boolean> {
    return this.#handOver(boardId, codeHash, now) !== undefined;
  }

  async takeHandOver(
    boardId: string,
    codeHash: string,
    personId: string,
    now: number,
  ): Promise<string | null> {
    const taken = this.#handOver(boardId, codeHash, now);
    if (taken === undefined) return null;
    this.#handOvers = this.#handOvers.filter((one) => one !== taken);
    const { linkId, linkBoardId, carried } = taken;
    const isIn = this.#grants.some((g) => g.personId === personId && g.linkId === linkId);
    if (linkId !== null && !isIn) this.#grants.push({ personId, linkId, boardId: linkBoardId, looks: true });
    return carried;
  }

  #handOver(boardId: string, codeHash: string, now: number): HandOverRecord | undefined {
    return this.#handOvers.find(
      (one) => one.boardId === boardId && one.codeHash === codeHash && one.endsAt > now,
    );
  }

  async forgetBoard(boardId: string): Promise<void> {
    this.#handOvers = this.#handOvers.filter((one) => one.boardId !== boardId);
    this.#links = this.#links.filter((link) => link.boardId !== boardId);
    this.#grants = this.#grants.filter((grant) => grant.boardId !== boardId);
  }

  async personBySession(sessionHash: string, since: number): Promise<string | null> {
    const session = this.#sessions.get(sessionHash);
    return session !== undefined && session.extendedAt >= since ? session.person : null;
  }

  async addSession(sessionHash: string, personId: string, madeAt: number): Promise<void> {
    this.#sessions.set(sessionHash, { person: personId, extendedAt: madeAt });
  }

  async extendSession(sessionHash: string, now: number, ifBefore: number): Promise<boolean> {
    const session = this.#sessions.get(sessionHash);
    if (session === undefined || session.extendedAt >= ifBefore) return false;
    this.#sessions.set(sessionHash, { ...session, extendedAt: now });
    return true;
  }

  async dropSessions(before: number): Promise<number> {
    const old = [...this.#sessions].filter(([, { extendedAt }]) => extendedAt < before);
    for (const [hash] of old) this.#sessions.delete(hash);
    const people = new Set([...this.#sessions.values()].map(({ person }) => person));
    if (old.length > 0) this.#grants = this.#grants.filter(({ personId }) => people.has(personId));
    return old.length;
  }

  async close(): Promise<void> {}
}
