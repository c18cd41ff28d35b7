/**
 * Who is at a board, from what their pages say of them: several tabs of one person are one, and where the line breaks the others stay
 * as they were last heard of. Who has left stays in sight for a while.
 */
import type { Presence } from '../../engine/document/index.ts';
import type { Subject } from '../context/index.ts';
import type { PersonHere, PersonLeft } from './people-here.ts';

export interface CompanyOptions {
  /** Who is at the board, oneself first. */
  readonly people: Subject<readonly PersonHere[]>;
  /** Who was here, the last first. */
  readonly left: Subject<readonly PersonLeft[]>;
  readonly now: () => number;
  /** Calls once, so much later; returns what calls that off. */
  readonly after: (ms: number, call: () => void) => () => void;
}

const LEFT_STAYS_MS = 15 * 60_000;
const MOST_LEFT = 12;

/** What is heard of one tab. */
export interface Heard {
  readonly clientId: number;
  readonly presence: Presence;
}

export class Company {
  readonly #options: CompanyOptions;
  /** In which order tabs said something else than before; the latest is the highest. */
  readonly #said = new Map<number, number>();
  #count = 0;
  #forget: (() => void) | null = null;

  constructor(options: CompanyOptions) {
    this.#options = options;
  }

  /**
   * Takes what is heard now.
   * @param others all tabs that are heard, but this one
   * @param changed the tabs that say something else than before
   * @param isConnected whether everybody who is there is heard
   */
  hear(self: Heard, others: readonly Heard[], changed: readonly number[], isConnected: boolean): void {
    for (const client of changed) this.#said.set(client, ++this.#count);
    const latest = (client: number): number => this.#said.get(client) ?? 0;
    const heard = new Map<string, PersonHere>();
    for (const { clientId, presence } of others.toSorted((a, b) => a.clientId - b.clientId)) {
      const { id } = presence.person;
      const known = heard.get(id);
      if (id === self.presence.person.id) continue;
      if (known === undefined || latest(clientId) > latest(known.clientId))
        heard.set(id, { clientId, presence, self: false });
    }
    const { people } = this.#options;
    const unheard = people.value.filter(
      (one) =>
        !one.self && one.presence.person.id !== self.presence.person.id && !heard.has(one.presence.person.id),
    );
    const clients = new Set(others.map(({ clientId }) => clientId));
    for (const client of this.#said.keys()) if (!clients.has(client)) this.#said.delete(client);
    if (isConnected) this.#leave(unheard, heard);
    const stay = isConnected ? [] : unheard.map((one) => ({ ...one, isUnheard: true }));
    const all = [...heard.values(), ...stay].sort((a, b) => a.clientId - b.clientId);
    people.set([{ ...self, self: true }, ...all]);
  }

  dispose(): void {
    this.#forget?.();
  }

  #leave(gone: readonly PersonHere[], heard: ReadonlyMap<string, unknown>): void {
    const before = this.#options.left.value;
    const back = before.filter(({ person }) => heard.has(person.id));
    if (gone.length === 0 && back.length === 0) return;
    const at = this.#options.now();
    const stay = before.filter((one) => !back.includes(one));
    const added = gone.map(({ presence: { person } }) => ({ person, at }));
    this.#show([...added, ...stay].slice(0, MOST_LEFT));
  }

  #show(left: readonly PersonLeft[]): void {
    this.#forget?.();
    this.#forget = null;
    const { now, after } = this.#options;
    this.#options.left.set(left);
    const oldest = left.at(-1);
    if (oldest === undefined) return;
    this.#forget = after(Math.max(0, oldest.at + LEFT_STAYS_MS - now()), () =>
      this.#show(this.#options.left.value.filter(({ at }) => at + LEFT_STAYS_MS > now())),
    );
  }
}
