/** Gathers what people of a room show, and sends it to everybody as one frame. */
import type { Relay } from '../relay/index.ts';
import { encodePresence, type PresenceEntry, presenceFrame } from './frames.ts';
import type { PresenceBoard } from './presence-board.ts';
import type { RoomMember } from './room-member.ts';

export class PresenceSender {
  readonly #name: string;
  readonly #relay: Relay;
  readonly #board: PresenceBoard<RoomMember>;
  /** What was shown since the last frame; null = nothing. */
  #shown: Map<number, PresenceEntry> | null = null;

  constructor(name: string, relay: Relay, board: PresenceBoard<RoomMember>) {
    this.#name = name;
    this.#relay = relay;
    this.#board = board;
  }

  /** Goes out with the next frame. */
  show(entry: PresenceEntry): void {
    this.#shown ??= new Map();
    this.#shown.set(entry.client, entry);
  }

  /** Sends what was shown since the last time. The sender hears itself: stock clients take silence for a dead line. */
  send(members: Iterable<RoomMember>): void {
    if (this.#shown === null) return;
    const entries = [...this.#shown.values()];
    this.#shown = null;
    const frame = presenceFrame(entries);
    for (const member of members) member.sendPresence(frame);
    if (!this.#relay.isShared) return;
    const own = entries.filter(
      (entry) => this.#board.ownerOf(entry.client) !== null || entry.state === 'null',
    );
    if (own.length > 0) this.#relay.send(this.#name, { kind: 'presence', bytes: encodePresence(own) });
  }
}
