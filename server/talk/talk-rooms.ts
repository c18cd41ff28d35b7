/**
 * The talk of each board, written here on behalf of the people who talk: in the live room, so that everybody who reads along
 * has it at once, on every node.
 *
 * What was sent has an id of its sender's choice, and what it makes is named after that and the sender. So the same sending
 * coming again, here or at another node, finds what it made before.
 */
import {
  canManage,
  quotaOf,
  type Role,
  remarkIdOf,
  Talk,
  type TalkError,
  type TalkSend,
} from '../../engine/document/index.ts';
import { StoreError } from '../store/index.ts';
import type { Room, Rooms } from '../sync/index.ts';

/** What became of a sending: the thread and the remark it speaks of, or why nothing was done. */
export type TalkDone =
  | {
      readonly ok: true;
      readonly thread: string;
      readonly remark: string | null;
      readonly isNew: boolean;
    }
  | {
      readonly ok: false;
      readonly error: TalkError | { readonly kind: 'full'; readonly path: ''; readonly message: string };
    };

/** What a remark may add to a document at most, beyond its text: heads, keys, names. */
const OVERHEAD_BYTES = 4_096;

export class TalkRooms {
  readonly #rooms: Rooms;
  readonly #now: () => number;

  constructor(rooms: Rooms, now: () => number) {
    this.#rooms = rooms;
    this.#now = now;
  }

  /**
   * Does what a person sent. Fulfils once it is on the disk; rejects with a StoreError when it is not within ten seconds (it may get
   * there later, and sending it again does no harm).
   * @param role what the person is on the board
   */
  async say(board: string, send: TalkSend, role: Role): Promise<TalkDone> {
    const { room, release } = await this.#rooms.hold({ board, part: 'talk' });
    try {
      if (room.isStoreFailing) throw new StoreError('unavailable', 'the talk cannot be stored now');
      const done = await this.#sayIn(room, send, role);
      if (done.ok || (done.error.kind !== 'unknown-thread' && done.error.kind !== 'unknown-remark'))
        return done;
      // What it speaks of may have been written on another node a moment ago.
      return (await room.catchUp()) ? await this.#sayIn(room, send, role) : done;
    } finally {
      release();
    }
  }

  async #sayIn(room: Room, send: TalkSend, role: Role): Promise<TalkDone> {
    const { command, by, id } = send;
    const text = 'text' in command ? command.text : '';
    // Each remark is taken back once, and makes room.
    const isTidying = command.kind === 'take-back-remark';
    if (!isTidying && !room.hasRoomFor(Buffer.byteLength(text) + OVERHEAD_BYTES, quotaOf(role, 'talk')))
      return { ok: false, error: { kind: 'full', path: '', message: 'the talk of this board is full' } };
    const own = remarkIdOf(by.id, id);
    let done: TalkDone | null = null;
    await room.edit((doc) => {
      const talk = new Talk(doc, { person: by, newId: () => own, now: this.#now, isOwner: canManage(role) });
      try {
        done = run(talk, own, send);
      } finally {
        talk.dispose();
      }
    });
    if (done === null) throw new Error('the room did not do what it was asked');
    return done;
  }
}

function run(talk: Talk, own: string, { command }: TalkSend): TalkDone {
  const makes = command.kind === 'open-thread' || command.kind === 'answer';
  const thread = command.kind === 'open-thread' ? own : command.thread;
  const found = talk.snapshot.threads.find(({ id }) => id === thread);
  if (makes && found?.remarks.some(({ id }) => id === own) === true)
    return { ok: true, thread, remark: own, isNew: false };
  const result = talk.run(command);
  if (!result.ok) return result;
  const remark = makes ? own : 'remark' in command ? command.remark : null;
  return { ok: true, thread: result.thread, remark, isNew: makes };
}
