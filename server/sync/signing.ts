/** Signs the edits of a room: notes beside each turn who wrote it, so that it is stored with the row. Only where the past is kept. */
import { type DocumentAddress, keepsPast } from '../store/index.ts';
import type { RoomMember } from './room-member.ts';
import { Visits } from './visits.ts';
import { type Signature, type Signed, WrittenBy } from './written-by.ts';

interface SignedRoom {
  readonly address: DocumentAddress;
  readonly members: {
    has(member: unknown): member is RoomMember;
    readonly presence: { stateOf(client: number): string | null };
    readonly people: ReadonlySet<string>;
  };
}

export class Signing {
  readonly #room: SignedRoom;
  readonly #now: () => number;
  #visits: Visits | null = null;
  #turn: WrittenBy | null = null;
  #person: string | null = null;

  constructor(room: SignedRoom, now: () => number) {
    this.#room = room;
    this.#now = now;
  }

  /** Notes an edit that goes to the store. @param origin who made it, where they are in the room */
  note(origin: unknown, edit: Signed): void {
    if (!keepsPast(this.#room.address.part)) return;
    this.#turn ??= new WrittenBy();
    this.#turn.note(this.#signatureOf(this.#room.members.has(origin) ? origin : null), edit);
  }

  /** What was noted since this was last asked; null where that is nothing. */
  take(): WrittenBy | null {
    const turn = this.#turn;
    this.#turn = null;
    return turn;
  }

  /** The text of a row that is all one member's. */
  textOf(member: RoomMember): string {
    const all = new WrittenBy();
    all.note(this.#signatureOf(member), { ends: new Map(), removed: new Map() });
    return all.text(this.#now());
  }

  /** For whom the server edits now; null = for nobody. */
  get person(): string | null {
    return this.#person;
  }

  /** Runs a change of the server's own in somebody's name. */
  runFor<T>(personId: string | null, change: () => T): T {
    this.#person = personId;
    try {
      return change();
    } finally {
      this.#person = null;
    }
  }

  /** Called every few seconds. */
  tick(): void {
    if (this.#visits !== null && this.#visits.size > 0)
      this.#visits.see(this.#room.members.people, this.#now());
  }

  #signatureOf(member: RoomMember | null): Signature | null {
    const personId = member?.personId ?? this.#person;
    if (personId === null) return null;
    const client = member?.presenceId ?? null;
    const state = client === null ? null : this.#room.members.presence.stateOf(client);
    this.#visits ??= new Visits();
    return this.#visits.signatureOf(personId, state, this.#now());
  }
}
