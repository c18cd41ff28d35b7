/**
 * Who is in a room and what they show. Never stored.
 *
 * An id belongs to the socket that named it first, until that socket closes; a socket has one id. Stock clients
 * repeat what they hear of others: entries under ids that are not the socket's own are passed over, so nobody speaks for,
 * removes or invents another. States of people on other nodes come by the relay and expire unless refreshed.
 */
import type { PresenceEntry } from './presence-bytes.ts';

/** Clients refresh their state every 15 s and forget one after 30 (y-protocols, awareness.js). */
const PRESENCE_EXPIRES_MS = 45_000;
/** Silence after which the id of somebody on another node may come up here: they have moved. */
const MOVED_MS = 20_000;
/** For so long after somebody left, a socket that was there before cannot take their id: it would be an echo. */
const ECHO_MS = 5_000;

export type PresenceOutcome =
  | 'taken'
  | 'passed-over'
  | 'too-large'
  | 'malformed'
  /** The id is another socket's. */
  | 'held'
  | 'wrong-person';

interface Person<Owner> {
  readonly clock: number;
  readonly state: string;
  /** Null: on another node. */
  readonly owner: Owner | null;
  readonly seenAt: number;
}

/** What it needs of a socket. */
export interface PresenceOwner {
  readonly openedAt: number;
  /** The id that it named first, kept here for the board; null = none. */
  presenceId: number | null;
}

export class PresenceBoard<Owner extends PresenceOwner> {
  readonly #people = new Map<number, Person<Owner>>();
  /** Who left a moment ago, and when; null = nobody. */
  #leftAt: Map<number, number> | null = null;
  /** What everybody is to hear yet; null = nothing. */
  #shown: Map<number, PresenceEntry> | null = null;
  readonly #now: () => number;
  readonly #maxBytes: number;

  constructor(now: () => number, maxBytes: number) {
    this.#now = now;
    this.#maxBytes = maxBytes;
  }

  get size(): number {
    return this.#people.size;
  }

  /** The socket an id belongs to; null when it is free or on another node. */
  ownerOf(client: number): Owner | null {
    return this.#people.get(client)?.owner ?? null;
  }

  /** What is shown under an id, as JSON; null where nothing is. */
  stateOf(client: number): string | null {
    return this.#people.get(client)?.state ?? null;
  }

  /**
   * Takes what a socket says.
   * @param personId the person the socket belongs to, when known: the state's `person.id` must be theirs
   */
  hear(owner: Owner, entry: PresenceEntry, personId: string | null): PresenceOutcome {
    const own = owner.presenceId;
    if (own !== null && own !== entry.client) return 'passed-over';
    const known = this.#people.get(entry.client);
    if (own === null) {
      if (known?.owner) return 'held';
      if (known && this.#now() < known.seenAt + MOVED_MS) return 'passed-over';
      const leftAt = this.#leftAt?.get(entry.client);
      if (leftAt !== undefined && owner.openedAt <= leftAt && this.#now() < leftAt + ECHO_MS)
        return 'passed-over';
    }
    if (known && entry.clock < known.clock) return 'passed-over';
    if (Buffer.byteLength(entry.state) > this.#maxBytes) return 'too-large';
    const state = readState(entry.state);
    if (state === undefined) return 'malformed';
    if (own === null && state === null) return 'passed-over';
    if (personId !== null && state !== null && personOf(state) !== personId) return 'wrong-person';
    owner.presenceId = entry.client;
    this.#people.set(entry.client, { clock: entry.clock, state: entry.state, owner, seenAt: this.#now() });
    return 'taken';
  }

  /** Takes what another node says; never touches the ids of own sockets. @returns whether it was news. */
  hearRemote(entry: PresenceEntry): boolean {
    const known = this.#people.get(entry.client);
    if (known?.owner) return false;
    if (entry.state === 'null') return this.#people.delete(entry.client);
    if (known && entry.clock < known.clock) return false;
    this.#people.set(entry.client, {
      clock: entry.clock,
      state: entry.state,
      owner: null,
      seenAt: this.#now(),
    });
    return true;
  }

  /** The socket has closed. @returns what to tell the others, if it had shown anything. */
  leave(owner: Owner): PresenceEntry | null {
    const client = owner.presenceId;
    if (client === null) return null;
    owner.presenceId = null;
    const person = this.#people.get(client);
    this.#people.delete(client);
    this.#leftAt ??= new Map();
    this.#leftAt.set(client, this.#now());
    return person ? gone(client, person.clock) : null;
  }

  /** Keeps what everybody is to hear. */
  show(entry: PresenceEntry): void {
    this.#shown ??= new Map();
    this.#shown.set(entry.client, entry);
  }

  /** What everybody is to hear since this was last asked, of each the latest. */
  takeShown(): PresenceEntry[] {
    const shown = this.#shown;
    this.#shown = null;
    return shown === null ? [] : [...shown.values()];
  }

  /** Everybody of this node, or of all, as a newcomer must hear it. */
  entries(which: 'all' | 'own' = 'all'): PresenceEntry[] {
    const entries: PresenceEntry[] = [];
    for (const [client, { clock, state, owner }] of this.#people)
      if (state !== 'null' && (which === 'all' || owner !== null)) entries.push({ client, clock, state });
    return entries;
  }

  /** Forgets people of other nodes who were not refreshed. @returns what to tell the others. */
  expire(): PresenceEntry[] {
    const now = this.#now();
    const expired: PresenceEntry[] = [];
    for (const [client, person] of this.#people) {
      // What lies in a time to come was before the clock was set back.
      if (person.seenAt > now) this.#people.set(client, { ...person, seenAt: now });
      else if (person.owner === null && person.seenAt + PRESENCE_EXPIRES_MS < now) {
        this.#people.delete(client);
        expired.push(gone(client, person.clock));
      }
    }
    for (const [client, leftAt] of this.#leftAt ?? [])
      if (leftAt > now || leftAt + ECHO_MS < now) this.#leftAt?.delete(client);
    if (this.#leftAt?.size === 0) this.#leftAt = null;
    return expired;
  }
}

function gone(client: number, clock: number): PresenceEntry {
  return { client, clock: clock + 1, state: 'null' };
}

/** The state behind the JSON: an object, or null for "gone"; undefined when it is neither. */
function readState(json: string): Readonly<Record<string, unknown>> | null | undefined {
  try {
    const value: unknown = JSON.parse(json);
    return typeof value === 'object' && !Array.isArray(value)
      ? (value as Readonly<Record<string, unknown>> | null)
      : undefined;
  } catch (cause) {
    if (cause instanceof SyntaxError) return undefined;
    throw cause;
  }
}

function personOf(state: Readonly<Record<string, unknown>>): unknown {
  const person = state.person;
  return typeof person === 'object' && person !== null ? (person as { id?: unknown }).id : undefined;
}
