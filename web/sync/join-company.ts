/**
 * Joins those who are at a board: the others hear of who sits here, and this page of them. Nobody needs it to tie.
 *
 * Nothing is said of oneself before it is known who is there: they are heard before the document is whole, so whoever comes second sees
 * the first before being seen.
 */
import { type Presence, readPresence } from '../../engine/document/index.ts';
import type { BoardSession, Companion } from './board-session.ts';
import { Company, type Heard } from './company.ts';
import { craftWords, inOwnWords, nameKey } from './craft-words.ts';
import { FORMER_NAMES, type Look } from './person.ts';
import { lookAmong, type Shown, seatAfter } from './who-is-who.ts';

/** A page moves its person off a name or colour at most so often: somebody's program might follow it to each. */
const MOST_MOVES = 12;

interface JoinOptions {
  /** Keeps what the person came to look like among those who are there, for the next visit too. */
  readonly keepLook: (look: Look) => unknown;
  readonly now: () => number;
  /** Calls once, so much later; returns what calls that off. */
  readonly after: (ms: number, call: () => void) => () => void;
}

/** Somebody as they are seen on this page: a name that was proposed to them, in its language. */
function inOwnLanguage(presence: Presence): Presence {
  const { person, seat } = presence;
  if (seat === undefined || seat.isNamed) return presence;
  const name = inOwnWords(person.name);
  return name === person.name ? presence : { ...presence, person: { ...person, name } };
}

/** Whoever sits at this page is at the board from now on. */
export function joinCompany(session: BoardSession, options: JoinOptions): void {
  const company = new JoinedCompany(session, options);
  session.join(company);
  company.begin();
}

class JoinedCompany implements Companion {
  readonly #session: BoardSession;
  readonly #options: JoinOptions;
  readonly #company: Company;
  #moves = 0;

  constructor(session: BoardSession, options: JoinOptions) {
    this.#session = session;
    this.#options = options;
    const { people, left, provider } = session;
    this.#company = new Company({ people, left, now: options.now, after: options.after });
    provider.awareness.on('change', this.#onPresence);
    provider.awareness.on('update', this.#onGone);
    provider.on('sync', this.#onSync);
  }

  /** The session tells it from now on; it may have been connected before. */
  begin(): void {
    this.#readPeople();
    this.#onSync(this.#session.isConnected);
  }

  tell(): void {
    const { presence, provider } = this.#session;
    if (presence.seat?.since === 0) this.#readPeople();
    else provider.awareness.setLocalState(presence as unknown as Record<string, unknown>);
  }

  /** Moves the person here off a name or colour that stays with somebody else. */
  settle(): void {
    const { isSketch, isConnected, presence } = this.#session;
    const { person, seat } = presence;
    if (isSketch || !isConnected || seat === undefined || seat.since === 0) return;
    const here = this.#shownBy([...this.#others(), { presence }]);
    const look = lookAmong(person.id, here, this.#known, craftWords());
    if ((look.name === person.name && look.hex === person.hex) || this.#moves >= MOST_MOVES) return;
    this.#moves += 1;
    this.#options.keepLook(look);
    this.#session.setPresence({ person: { ...person, ...look } });
  }

  isNameTaken(name: string): boolean {
    const key = nameKey(name);
    const { people, presence, spoken } = this.#session;
    const here = people.value.map((one) => one.presence.person);
    return [...here, ...spoken].some((one) => one.id !== presence.person.id && nameKey(one.name) === key);
  }

  dispose(): void {
    const { provider } = this.#session;
    this.#company.dispose();
    provider.awareness.off('change', this.#onPresence);
    provider.awareness.off('update', this.#onGone);
    provider.off('sync', this.#onSync);
  }

  readonly #onSync = (isSynced: boolean): void => {
    if (!isSynced) return;
    const { presence } = this.#session;
    const { seat } = presence;
    if (seat === undefined || seat.since > 0) {
      // The others were told, under the next number, that this tab has gone: what it says now bears a later one.
      this.tell();
      this.tell();
      this.#readPeople();
      return;
    }
    const since = seatAfter(this.#shownBy(this.#others()), this.#options.now());
    const seated = { ...seat, since };
    const here = this.#shownBy([...this.#others(), { presence: { ...presence, seat: seated } }]);
    this.#session.setPresence({ seat: seated, person: { ...presence.person, ...this.#firstLook(here) } });
  };

  /** What one is first seen as. */
  #firstLook(here: readonly Shown[]): Partial<Look> {
    const { presence } = this.#session;
    const look = lookAmong(presence.person.id, here, this.#known, craftWords());
    if (look.name !== presence.person.name || look.hex !== presence.person.hex) this.#options.keepLook(look);
    return look;
  }

  readonly #onPresence = ({ added, updated }: Record<'added' | 'updated', number[]>): void => {
    this.#readPeople([...added, ...updated]);
    this.settle();
  };

  /** Where the line broke nobody has said that they go: they are taken again under the number heard last. */
  readonly #onGone = ({ removed }: Record<'removed', number[]>): void => {
    const { clientID, meta } = this.#session.provider.awareness;
    if (!this.#session.isConnected)
      for (const client of removed) if (client !== clientID) meta.delete(client);
  };

  /** All other tabs that are heard. */
  #others(): readonly Heard[] {
    const { awareness } = this.#session.provider;
    const others: Heard[] = [];
    for (const [clientId, state] of awareness.getStates()) {
      const presence = clientId === awareness.clientID ? null : readPresence(state);
      if (presence !== null) others.push({ clientId, presence: inOwnLanguage(presence) });
    }
    return others;
  }

  #readPeople(changed: readonly number[] = []): void {
    const { provider, presence, isConnected } = this.#session;
    const self = { clientId: provider.awareness.clientID, presence };
    const others = this.#others();
    for (const one of [self, ...others]) this.#session.saw(one.clientId, one.presence.person);
    this.#company.hear(self, others, changed, isConnected);
  }

  #shownBy(tabs: readonly Pick<Heard, 'presence'>[]): readonly Shown[] {
    return tabs.map(({ presence }) => {
      const { person, seat } = inOwnLanguage(presence);
      return { ...person, seat };
    });
  }

  /** Names of those whom the board knows, by id. */
  get #known(): ReadonlyMap<string, string> {
    const { design, spoken, left, presence } = this.#session;
    const makers = design.snapshot.board.colourways.flatMap(({ maker }) => maker ?? []);
    const gone = left.value.map(({ person }) => person);
    const known = new Map([...gone, ...makers, ...spoken].map(({ id, name }) => [id, name]));
    // What earlier releases drew is no name to propose.
    if (FORMER_NAMES.includes(presence.person.name)) known.set('', presence.person.name);
    return known;
  }
}
