/**
 * Other nodes that have the same document open: what they say, what they are told, and the log that is read anew where something of that may
 * have been lost.
 */
import { type Clock, pause } from '../clock.ts';
import type { Relay, RelayMessage } from '../relay/index.ts';
import { type Answerable, unattended } from '../unattended.ts';
import { type PeerMessage, readPeerMessage, tellPeers } from './peer-messages.ts';
import type { PresenceEntry } from './presence-bytes.ts';
import { type ReadingResult, Rereading } from './rereading.ts';

/** So long other nodes have to say that somebody is in. */
const ASK_MS = 500;

/** The room here. */
export interface PeersRoom extends Answerable {
  readonly name: string;
  readonly generation: number;
  readonly isSaved: boolean;
  readonly members: {
    readonly size: number;
    readonly presence: {
      hearRemote(entry: PresenceEntry): boolean;
      ownerOf(client: number): unknown;
      entries(which: 'own'): readonly PresenceEntry[];
    };
    show(entry: PresenceEntry): void;
  };
  /** Takes what another node has stored. @returns false when it does not fit, so that the store has to be read */
  takeStored(update: Uint8Array): boolean;
  /** Hears that another node is about to begin a new generation, does not after all, or has. */
  readonly renewals: { pause(): void; goOn(): void; follow(): void };
  closeAll(reason: 'deleted'): void;
  /** Reads the log and applies it, once; never rejects. */
  reread(): Promise<ReadingResult>;
}

export class Peers {
  readonly #room: PeersRoom;
  readonly #relay: Relay;
  readonly #clock: Clock;
  /** What they said before the document was there; null = it is. */
  #early: RelayMessage[] | null = [];
  /** What was stored in the next generation, while the room has not gone over to it. */
  #ahead: Uint8Array[] = [];
  /** Whether one said since this node asked that somebody is in there. */
  #isOpenElsewhere = false;
  /** Made with the first who needs it: most rooms never read twice. */
  #rereader: Rereading | null = null;

  constructor(room: PeersRoom, relay: Relay, clock: Clock) {
    this.#room = room;
    this.#relay = relay;
    this.#clock = clock;
  }

  /** Whether there are any. */
  get isShared(): boolean {
    return this.#relay.isShared;
  }

  /** Hears them from the moment the promise fulfils, until what it fulfils with is called; what they say waits for {@link open}. */
  join(): Promise<() => void> {
    return this.#relay.join(this.#room.name, (message) => {
      if (this.#early) this.#early.push(message);
      else unattended(this.#room, 'relay', () => this.#hear(message));
    });
  }

  /** The document is there. */
  open(): void {
    const early = this.#early ?? [];
    this.#early = null;
    for (const message of early) this.#hear(message);
    if (this.isShared) this.#say({ kind: 'present?' });
  }

  /** The room is over: nothing is read anew any more. */
  end(): void {
    this.#reading.end();
  }

  /** Tells what was stored here. */
  tellStored(bytes: Uint8Array): void {
    if (this.isShared) this.#say({ kind: 'update', update: bytes, generation: this.#room.generation });
  }

  /** Tells what people here have shown; others tell of theirs. */
  tellPresence(entries: readonly PresenceEntry[]): void {
    if (!this.isShared) return;
    const { presence } = this.#room.members;
    const own = entries.filter((entry) => presence.ownerOf(entry.client) !== null || entry.state === 'null');
    if (own.length > 0) this.#say({ kind: 'presence', entries: own });
  }

  /** Tells that a generation is about to begin, or does not after all. */
  tell(kind: 'pausing' | 'going-on'): void {
    this.#say({ kind });
  }

  /** Tells that a generation begins. */
  tellRenewed(generation: number): void {
    this.#say({ kind: 'renewed', generation });
  }

  /**
   * Whether people are in the document on another node, or have left edits there that are not stored yet, or it cannot be known. Only a
   * courtesy: the store refuses rows of a generation that has ended, wherever they come from.
   */
  async areInUse(): Promise<boolean> {
    if (!this.isShared) return false;
    if (!this.#relay.isUp) return true;
    this.#isOpenElsewhere = false;
    this.#say({ kind: 'open?' });
    await pause(this.#clock, ASK_MS);
    return this.#isOpenElsewhere;
  }

  /** Fulfils with whether the document holds, within ten seconds, all that any of them had stored before this call. */
  inTime(): Promise<boolean> {
    return this.#reading.inTime();
  }

  /** Reads the store again, because messages may have been lost. Tries until it could, or the room is over. */
  async reload(): Promise<void> {
    await this.#reading.ask();
  }

  get #reading(): Rereading {
    this.#rereader ??= new Rereading(this.#clock, this.#room, () => this.#room.reread());
    return this.#rereader;
  }

  #say(message: PeerMessage): void {
    tellPeers(this.#relay, this.#room.name, message);
  }

  /** The room has gone over to the next generation. */
  wentOver(): void {
    const ahead = this.#ahead;
    this.#ahead = [];
    for (const update of ahead) this.#onStored(update, this.#room.generation);
  }

  #onStored(update: Uint8Array, generation: number): void {
    const room = this.#room;
    if (generation > room.generation) {
      // It must not come into the one that has ended, whether it was heard of that or not.
      this.#ahead.push(update.slice());
      room.renewals.follow();
    } else if (generation === room.generation && !room.takeStored(update)) {
      // Something before it was lost on the way; the store has it, and this one too.
      this.#reloadUnattended();
    }
  }

  #reloadUnattended(): void {
    unattended(this.#room, 'reload', () => this.reload());
  }

  #hear(message: RelayMessage): void {
    const room = this.#room;
    const said = readPeerMessage(message);
    switch (said?.kind) {
      case 'update':
        this.#onStored(said.update, said.generation ?? room.generation);
        return;
      case 'presence':
        for (const one of said.entries) if (room.members.presence.hearRemote(one)) room.members.show(one);
        return;
      case 'present?': {
        const own = room.members.presence.entries('own');
        if (own.length > 0) this.#say({ kind: 'presence', entries: own });
        return;
      }
      case 'reload':
        this.#reloadUnattended();
        return;
      case 'renewed':
        // Told with the number of the new one: this room may have been opened since.
        if (said.generation > room.generation) room.renewals.follow();
        return;
      case 'pausing':
        room.renewals.pause();
        return;
      case 'going-on':
        room.renewals.goOn();
        return;
      case 'open?':
        if (room.members.size > 0 || !room.isSaved) this.#say({ kind: 'open' });
        return;
      case 'open':
        this.#isOpenElsewhere = true;
        return;
      case 'removed':
        room.closeAll('deleted');
    }
  }
}
