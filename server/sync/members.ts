/** Who is in a room: the sockets, and what people show of themselves, here and on other nodes. */
import { CLOSE_CODES, type CloseReason, type NoticeCode } from '../../engine/document/index.ts';
import { type Answerable, unattended } from '../unattended.ts';
import { frameOf } from './messages.ts';
import { PresenceBoard } from './presence-board.ts';
import type { PresenceEntry } from './presence-bytes.ts';
import type { RoomMember } from './room-member.ts';

/** The room here. It answers for what fails while somebody is put out. */
export interface MembersRoom extends Answerable {
  /** Tells other nodes what is shown here. */
  readonly peers: { tellPresence(entries: readonly PresenceEntry[]): void };
  /** Something was shown: asks for `sendShown` in a moment. */
  onShown(): void;
}

export class Members {
  readonly presence: PresenceBoard<RoomMember>;
  readonly #room: MembersRoom;
  /** Another list with each who comes or goes, so that whoever goes through one goes through all who were there. */
  #all: readonly RoomMember[] = [];

  /** @param presenceBytes of what somebody shows, at most */
  constructor(room: MembersRoom, now: () => number, presenceBytes: number) {
    this.#room = room;
    this.presence = new PresenceBoard(now, presenceBytes);
  }

  get size(): number {
    return this.#all.length;
  }

  has(member: unknown): member is RoomMember {
    return this.#all.includes(member as RoomMember);
  }

  /** The people whose sockets are here. */
  get people(): ReadonlySet<string> {
    const people = new Set<string>();
    for (const { personId } of this.#all) if (personId !== null) people.add(personId);
    return people;
  }

  join(member: RoomMember): void {
    if (!this.has(member)) this.#all = [...this.#all, member];
    member.begin();
    const entries = this.presence.entries();
    if (entries.length > 0) member.send(frameOf({ kind: 'presence', entries }));
  }

  leave(member: RoomMember): void {
    if (!this.has(member)) return;
    this.#all = this.#all.filter((one) => one !== member);
    const gone = this.presence.leave(member);
    if (gone) this.show(gone);
  }

  /** Sends edits to all but their author, who may be the server itself. */
  sendEdits(update: Uint8Array, author: unknown): void {
    if (this.size <= (this.has(author) ? 1 : 0)) return;
    const frame = frameOf({ kind: 'update', update });
    for (const member of this.#all) if (member !== author) member.sendEdits(frame);
  }

  /** Tells everybody, together with what others show in the next moments. */
  show(entry: PresenceEntry): void {
    this.presence.show(entry);
    this.#room.onShown();
  }

  /** Sends what was shown since the last time. */
  sendShown(): void {
    const entries = this.presence.takeShown();
    if (entries.length === 0) return;
    // The sender hears itself: stock clients take silence for a dead line.
    const frame = frameOf({ kind: 'presence', entries });
    for (const member of this.#all) member.sendPresence(frame);
    this.#room.peers.tellPresence(entries);
  }

  /** Tells everybody of those who have gone on other nodes without a word. */
  expire(): void {
    for (const entry of this.presence.expire()) this.show(entry);
  }

  notify(code: NoticeCode): void {
    for (const member of this.#all) member.sendNotice(frameOf({ kind: 'notice', code }));
  }

  /** Asks all who may write for everything they have. */
  askForAll(): void {
    for (const member of this.#all) if (member.canWrite) member.askForAll();
  }

  /** Asks those of whom something was passed over. */
  askLacking(): void {
    for (const member of this.#all) if (member.canWrite) member.askIfLacking();
  }

  /** Whether somebody goes over to the next generation when it begins. */
  get hasFollowers(): boolean {
    for (const member of this.#all) if (member.isFollower) return true;
    return false;
  }

  /** Hands everybody over to the next generation. */
  handOver(frames: readonly Buffer[]): void {
    for (const member of this.#all) unattended(this.#room, 'hand-over', () => member.handOver(frames));
  }

  /** Puts everybody out. */
  closeAll(reason: CloseReason): void {
    for (const member of this.#all)
      unattended(this.#room, 'close', () => member.close(reason, `code ${CLOSE_CODES[reason]}`));
  }
}
