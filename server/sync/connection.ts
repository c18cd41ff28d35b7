/**
 * One socket in a room: reads the protocol, keeps the limits, and holds back when the reader is slow.
 *
 * Frames are written to the raw socket, made once for all readers; WebSocket control frames (ping, close) go through `ws`
 * on the same socket. This is in order because compression is off, so `ws` never holds a frame back.
 */
import type { RawData } from 'ws';
import { CLOSE_CODES, type CloseReason } from '../../engine/document/index.ts';
import { StoreError } from '../store/index.ts';
import { unattended } from '../unattended.ts';
import type { ConnectionOptions } from './connection-options.ts';
import {
  KEEP_ALIVE_TICKS,
  MAX_ASKS,
  MOST_MARKS_WAITING,
  MOST_VECTOR_BYTES,
  PING_MS,
  PROBE_MS,
  QUESTIONS_PER_SECOND,
  SILENCE_MS,
} from './connection-times.ts';
import {
  EMPTY_UPDATE_BYTES,
  noticeFrame,
  type PresenceEntry,
  presenceFrame,
  savedFrame,
  step1Frame,
} from './frames.ts';
import { Inbox } from './inbox.ts';
import { Rate } from './rate.ts';
import { type ClientMessage, readMessage } from './read-message.ts';
import { ReaderQueue } from './reader-queue.ts';
import type { Room } from './room.ts';
import type { ReceiveResult, RoomMember } from './room-member.ts';

export class Connection implements RoomMember {
  readonly id: string;
  readonly openedAt: number;
  presenceId: number | null = null;
  newClients = 0;
  readonly canWrite: boolean;
  readonly isOwner: boolean;
  readonly personId: string | null;
  readonly room: Room;
  readonly #options: ConnectionOptions;
  readonly #messages: Rate;
  readonly #bytes: Rate;
  readonly #questions: Rate;
  readonly #queue: ReaderQueue;
  readonly #inbox = new Inbox();
  #speaksOurs = false;
  /** The state vector at which this reader stopped getting edits; null = keeps up. */
  #behindSince: { readonly stateVector: Uint8Array; readonly at: number } | null = null;
  /** Since when a complete answer is awaited because edits could not be placed; null = not. */
  #askedAt: number | null = null;
  #asks = 0;
  /** Edits of this socket were passed over; marks wait until all has been sent anew. */
  #hasMissing = false;
  #heldMark: number | null = null;
  /**
   * Whether the client may hold a copy of a former generation: until it has shown what it holds, where there is one. It gets no
   * edits then. They would wait in its copy for what that will never hold, and come back with it.
   */
  #isPast: boolean;
  /** Marks that wait for the disk. */
  #marksWaiting = 0;
  /** The last mark of those that are to be answered at the end of this turn. */
  #savedMark: number | null = null;
  /** Copies of a former generation that came in. */
  #copies = 0;
  /** Ticks since something was said; asking for the time with every frame would cost more. */
  #quietTicks = 0;
  #heardAt: number;
  #pingedAt: number | null = null;
  #isOver = false;

  constructor(options: ConnectionOptions) {
    this.#options = options;
    this.id = options.id;
    this.openedAt = options.now();
    this.#heardAt = this.openedAt;
    this.canWrite = options.canWrite;
    this.isOwner = options.isOwner;
    this.personId = options.personId;
    this.room = options.room;
    this.#isPast = options.room.generation > 1;
    this.#messages = new Rate(options.limits.messagesPerSecond);
    this.#bytes = new Rate(options.limits.bytesPerSecond);
    this.#questions = new Rate(QUESTIONS_PER_SECOND);
    const { socket, raw } = options;
    const { room } = this;
    this.#queue = new ReaderQueue(raw, options.outgoing, options.account);
    socket.on('message', (data, isBinary) =>
      unattended(room, 'message', () => this.#onMessage(data, isBinary)),
    );
    socket.on('pong', () => {
      this.#pingedAt = null;
      this.#heardAt = this.#options.now();
    });
    // Without a listener a single broken frame would end the process. `ws` closes the socket itself.
    socket.on('error', (error: Error & { code?: string }) => this.#refuse(error.code ?? 'socket-error'));
    socket.on('close', (code) => unattended(room, 'socket-close', () => this.#onClose(code)));
    raw.on('drain', () => unattended(room, 'drain', () => this.#onDrain()));
  }

  // --- what the room says ---

  send(frame: Buffer): void {
    if (this.#isOver) return;
    this.#quietTicks = 0;
    this.#queue.write(frame);
  }

  sendEdits(frame: Buffer): void {
    if (this.#behindSince !== null || this.#isPast) return;
    this.send(frame);
    // With this frame the reader will have all that the document holds now; what comes later it gets when it has read.
    if (this.#queue.isLong(this.#options.limits.readerBytes)) this.#fallBehind(this.room.stateVector());
  }

  sendPresence(frame: Buffer): void {
    if (!this.#queue.isLong(this.#options.limits.readerBytes / 8)) this.send(frame);
  }

  sendNotice(frame: Buffer): void {
    if (this.#speaksOurs) this.send(frame);
  }

  askForAll(): void {
    this.#askedAt = this.#options.now();
    this.send(step1Frame(this.room.stateVector()));
  }

  probe(): void {
    if (this.#pingedAt !== null && this.#options.now() - this.#pingedAt > PROBE_MS)
      this.terminate('unanswered');
    else this.#ping();
  }

  wrote(bytes: number): void {
    this.#options.writing.count(bytes);
  }

  close(reason: CloseReason, message: string): void {
    if (this.#isOver) return;
    this.#options.metrics.count('larkboard_closed_total', 'Sockets closed by the server.', { reason });
    this.#leave();
    this.#options.socket.close(CLOSE_CODES[reason], message.slice(0, 100));
  }

  /** Ends the socket without a word, when the other side doesn't listen. */
  terminate(reason: string): void {
    this.#options.metrics.count('larkboard_terminated_total', 'Sockets cut off by the server.', { reason });
    this.#leave();
    this.#options.socket.terminate();
  }

  /** Called every few seconds. */
  tick(): void {
    const now = this.#options.now();
    const { limits } = this.#options;
    this.#noteSetBack(now);
    const isLate = this.#behindSince !== null && now - this.#behindSince.at > limits.readerMs;
    if (this.#queue.isStuck(now, limits.readerMs) || (isLate && !this.#queue.isWaiting)) {
      this.close('tooSlow', 'did not read for too long');
      this.#options.socket.terminate();
      return;
    }
    if (this.#askedAt !== null && this.#asks > 0 && now - this.#askedAt > limits.resyncMs) {
      this.close('malformed', 'sent edits that build on others that never came');
      return;
    }
    // Who is not read from cannot be heard.
    if (this.#inbox.isHeld) this.#pingedAt = null;
    else if (this.#pingedAt === null) {
      if (now - this.#heardAt > SILENCE_MS) this.#ping();
    } else if (now - this.#pingedAt > PING_MS) {
      this.terminate('unanswered');
      return;
    }
    if (!this.room.isStoreFailing && this.#options.writing.isOverNoMore()) {
      this.sendNotice(noticeFrame('store-ok'));
      this.askForAll();
    }
    this.#quietTicks += 1;
    if (this.#quietTicks >= KEEP_ALIVE_TICKS && this.#behindSince === null) this.send(presenceFrame([]));
  }

  /** What lies in a time to come was before the clock was set back; nobody may be waited for until then. */
  #noteSetBack(now: number): void {
    this.#heardAt = Math.min(this.#heardAt, now);
    if (this.#pingedAt !== null) this.#pingedAt = Math.min(this.#pingedAt, now);
    if (this.#askedAt !== null) this.#askedAt = Math.min(this.#askedAt, now);
    if (this.#behindSince !== null && this.#behindSince.at > now)
      this.#behindSince = { ...this.#behindSince, at: now };
  }

  #ping(): void {
    if (this.#isOver || this.#pingedAt !== null) return;
    this.#pingedAt = this.#options.now();
    this.#options.socket.ping();
  }

  // --- what the client says ---

  #onMessage(data: RawData, isBinary: boolean): void {
    if (this.#isOver || this.room.isBroken) return;
    const now = this.#options.now();
    const bytes = data as Buffer;
    this.#heardAt = now;
    if (!isBinary) {
      this.close('malformed', 'text where bytes belong');
      return;
    }
    if (!this.#messages.allows(now) || !this.#bytes.allows(now, bytes.length)) {
      this.close('tooFast', 'too many messages');
      return;
    }
    this.#inbox.add(bytes);
    this.#readOn();
  }

  #readOn(): void {
    while (!this.#isOver && !this.room.isBroken) {
      const message = this.#read();
      if (message === null) return;
      this.#act(message);
    }
  }

  /** Reads the next message; null when there is none now, or it is none and the socket is closed. Nothing else than reading is the client's fault. */
  #read(): ClientMessage | null {
    try {
      return this.#inbox.next(readMessage);
    } catch (cause) {
      this.close('malformed', cause instanceof Error ? cause.message : 'not readable');
      return null;
    }
  }

  #act(message: ClientMessage): void {
    switch (message.kind) {
      case 'step1':
        this.#onQuestion();
        if (!this.#isOver) this.#onStep1(message.vector, message.held);
        return;
      case 'update':
        if (!this.canWrite) this.#passOver(message.update);
        else if (this.#options.writing.mayTake(message.update))
          this.#onUpdate(message.update, message.isComplete);
        else this.#hasMissing = true;
        return;
      case 'presence':
        this.#onPresence(message.entries);
        return;
      case 'presence?':
        this.#onQuestion();
        // Of a reader that is behind the answer may be left out: it comes when they have read.
        if (!this.#isOver) this.sendPresence(presenceFrame(this.room.presence.entries()));
        return;
      case 'mark':
        this.#onMark(message.mark);
        return;
      case 'other':
        return;
    }
  }

  /** A few bytes ask for all there is: a hundred of them fit in a frame, so they have a limit of their own. */
  #onQuestion(): void {
    if (!this.#questions.allows(this.#options.now())) this.close('tooFast', 'asked too often for everything');
  }

  /** An edit of somebody who only looks. */
  #passOver(update: Uint8Array): void {
    if (update.length <= EMPTY_UPDATE_BYTES) return;
    this.#hasMissing = true;
    if (this.room.isOfFormerGeneration(update)) this.close('outdated', 'the board was renewed');
  }

  #onStep1(stateVector: Uint8Array, held: ReadonlyMap<number, number>): void {
    // A copy of a former generation must not be mixed with the present one; its edits come with the step 2 to follow.
    this.#isPast = this.room.formerGenerationIn(held) !== null;
    if (this.#isPast) {
      this.#hasMissing = true;
      return;
    }
    if (stateVector.length > MOST_VECTOR_BYTES) {
      this.close('malformed', 'names more clients than a document has');
      return;
    }
    if (this.#queue.bytes > this.#options.limits.readerBytes || !this.#hasRoomForAnswer()) {
      this.#fallBehind(stateVector.slice());
      return;
    }
    for (const frame of this.room.answerStep1(stateVector)) this.send(frame);
  }

  #onUpdate(update: Uint8Array, isComplete: boolean): void {
    const result = this.room.receive(update, this, isComplete);
    if (result === 'costly') this.#tryOut(update.slice(), isComplete);
    else this.#onReceived(result, update, isComplete);
  }

  /** Has an edit tried. What this socket says after it waits, since it may build on it. */
  #tryOut(update: Uint8Array, isComplete: boolean): void {
    const { socket } = this.#options;
    this.#inbox.hold();
    socket.pause();
    unattended(this.room, 'trial', async () => {
      const result = await this.room.receiveTried(update, this, isComplete);
      // It could not hear the answer to a close either.
      socket.resume();
      this.#inbox.release();
      this.#heardAt = this.#options.now();
      if (this.#isOver || this.room.isBroken) return;
      this.#onReceived(result, update, isComplete);
      this.#readOn();
    });
  }

  #onReceived(result: ReceiveResult, update: Uint8Array, isComplete: boolean): void {
    if (result === 'taken') {
      if (!isComplete) return;
      this.#askedAt = null;
      this.#asks = 0;
      this.#hasMissing = false;
      if (this.#heldMark !== null) this.#promise(this.#heldMark);
      this.#heldMark = null;
      return;
    }
    if (result === 'store-failing' || result === 'costly') {
      this.#hasMissing = true;
      return;
    }
    if (result === 'unmet') {
      // Honest clients send these too: edits made before they have answered the step 1 of the room, or that build on
      // another tab's. They hold what is missing and send it when asked.
      this.#hasMissing = true;
      if (isComplete || this.#asks >= MAX_ASKS) {
        this.close('malformed', 'sent edits that build on others that never came');
        return;
      }
      if (this.#asks === 0) {
        this.#asks = 1;
        this.askForAll();
      }
      return;
    }
    if ('kind' in result) {
      this.#askedAt = null;
      this.#asks = 0;
      this.#bringOver(result.generation, update.slice());
    } else this.close(result.reason, result.message);
  }

  /** Takes over what a copy of a former generation holds, then puts the client out to join anew. */
  #bringOver(generation: number, copy: Uint8Array): void {
    this.#hasMissing = true;
    this.wrote(copy.length);
    this.#copies += 1;
    const number = this.#copies;
    unattended(this.room, 'bring-over', () => this.#takeCopy(generation, copy, number));
  }

  async #takeCopy(generation: number, copy: Uint8Array, number: number): Promise<void> {
    let refusal: string | null;
    try {
      refusal = await this.room.bringOver(generation, copy);
    } catch (cause) {
      if (!(cause instanceof StoreError)) throw cause;
      this.#options.log.error('bring-over-failed', { connection: this.id, message: cause.message });
      this.close('storeFailed', 'your edits cannot be stored now; they stay with you');
      return;
    }
    if (refusal !== null) {
      this.close('malformed', refusal);
      return;
    }
    // Edits made meanwhile are in a later copy, which is on its way or being taken over.
    if (number < this.#copies || this.#asks > 0) return;
    // Marks up to here speak of edits that are in the copy, or were taken as they are.
    const mark = this.#heldMark;
    this.room.whenSaved(() => {
      if (mark !== null) this.send(savedFrame(mark));
      this.close('outdated', 'the board was renewed; what you held is in it');
    });
  }

  #onMark(mark: number): void {
    if (!this.#speaksOurs && this.room.isStoreFailing) {
      if (this.room.isDamaged && this.#options.isOwner) this.send(noticeFrame('log-damaged'));
      this.send(noticeFrame('store-read-only'));
    }
    this.#speaksOurs = true;
    if (this.#options.writing.isToBeTold()) this.send(noticeFrame('write-limit'));
    if (this.#hasMissing) this.#heldMark = mark;
    else this.#promise(mark);
  }

  #promise(mark: number): void {
    const began = this.#options.now();
    this.#marksWaiting += 1;
    if (this.#marksWaiting > MOST_MARKS_WAITING) {
      this.close('tooFast', 'too many marks wait for the disk');
      return;
    }
    this.room.whenSaved(() => {
      this.#marksWaiting -= 1;
      this.#options.metrics.observe(
        'larkboard_acknowledge_ms',
        'From reading a mark to its answer.',
        this.#options.now() - began,
      );
      // One commit answers many marks; the last of them answers for all.
      if (this.#savedMark === null)
        queueMicrotask(() => unattended(this.room, 'marks', () => this.#answerMarks()));
      this.#savedMark = mark;
    });
  }

  #answerMarks(): void {
    const mark = this.#savedMark;
    this.#savedMark = null;
    if (mark !== null) this.send(savedFrame(mark));
  }

  #onPresence(entries: readonly PresenceEntry[]): void {
    for (const entry of entries) {
      const outcome = this.room.presence.hear(this, entry, this.personId);
      switch (outcome) {
        case 'taken':
          this.room.showPresence(entry);
          break;
        case 'held':
          this.room.presence.ownerOf(entry.client)?.probe();
          break;
        case 'too-large':
          this.close('tooLarge', 'presence is too large');
          return;
        case 'malformed':
          this.close('malformed', 'presence is not a JSON object');
          return;
        case 'wrong-person':
          this.#refuse('wrong-person');
          break;
        case 'passed-over':
          break;
      }
    }
  }

  // --- slow readers ---

  /** Whether the document may be sent now; else it is once others have read. */
  #hasRoomForAnswer(): boolean {
    return this.#queue.hasRoomFor(this.room.held.bytes, () => this.#catchUp());
  }

  #fallBehind(stateVector: Uint8Array): void {
    if (this.#queue.isWaiting)
      this.#options.metrics.count('larkboard_waiting_readers_total', 'Readers that wait for others to read.');
    else this.#options.metrics.count('larkboard_slow_readers_total', 'Readers that fell behind.');
    this.#behindSince = { stateVector, at: this.#behindSince?.at ?? this.#options.now() };
  }

  #onDrain(): void {
    this.#queue.drained();
    // Who waits for room is called in turn.
    if (!this.#queue.isWaiting) this.#catchUp();
  }

  #catchUp(): void {
    if (this.#isOver || this.#behindSince === null || !this.#hasRoomForAnswer()) return;
    const { stateVector } = this.#behindSince;
    this.#behindSince = null;
    this.send(this.room.missedSince(stateVector));
    const entries = this.room.presence.entries();
    if (entries.length > 0) this.send(presenceFrame(entries));
  }

  // --- end ---

  #refuse(reason: string): void {
    this.#options.metrics.count('larkboard_refused_total', 'Messages refused.', { reason });
  }

  #leave(): void {
    if (this.#isOver) return;
    this.#isOver = true;
    this.room.leave(this);
  }

  #onClose(code: number): void {
    this.#leave();
    this.#queue.end();
    this.#options.log.debug('socket-closed', { connection: this.id, room: this.room.name, code });
  }
}
