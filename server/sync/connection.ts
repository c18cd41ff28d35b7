/**
 * One socket in a room: reads the protocol, keeps the limits, and holds back when the reader is slow.
 *
 * What it knows of the other side are three machines, which say what follows on an event and change nothing: what the client holds
 * (`holding.ts`), how it reads (`reading.ts`), and the line (`line.ts`). Here is what is done about it.
 *
 * Frames are written to the raw socket, made once for all readers; WebSocket control frames (ping, close) go through `ws`
 * on the same socket. This is in order because compression is off, so `ws` never holds a frame back.
 */
import type { RawData } from 'ws';
import {
  CLOSE_CODES,
  type CloseReason,
  type CopyPiece,
  MESSAGE_COPY_PIECE,
} from '../../engine/document/index.ts';
import { unattended } from '../unattended.ts';
import { EMPTY_UPDATE_BYTES } from './check-update.ts';
import type { ConnectionOptions } from './connection-options.ts';
import { CopyVisit } from './renewal/index.ts';
import { MOST_VECTOR_BYTES, QUESTIONS_PER_SECOND } from './connection-times.ts';
import { hearPresence } from './hear-presence.ts';
import { BEGINNING, type HoldingEvent, isLacking, isOverdue, mayBeOther, stepHolding } from './holding.ts';
import { Inbox } from './inbox.ts';
import { beginLine, isQuiet, type Line, type LineEvent, stepLine } from './line.ts';
import { Rate } from './rate.ts';
import { type ClientMessage, frameOf, readMessage } from './messages.ts';
import { isLate, KEEPS_UP, type ReadingEvent, stepReading } from './reading.ts';
import { ReaderQueue } from './reader-queue.ts';
import type { Room } from './room.ts';
import type { ReceiveResult, RoomMember } from './room-member.ts';
import { SavedMarks } from './saved-marks.ts';

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
  #holding = BEGINNING;
  #reading = KEEPS_UP;
  #line: Line;
  readonly #marks: SavedMarks;
  /** While the client holds something else than the present generation, or may. */
  #visit: CopyVisit | null = null;
  /** Whether the client has answered a question with what the room could take. */
  #hasShownAll = false;
  /** Questions for what the client holds, and answers to them. */
  #questionsAsked = 0;
  #questionsAnswered = 0;
  #isOver = false;

  constructor(options: ConnectionOptions) {
    this.#options = options;
    this.id = options.id;
    this.openedAt = options.now();
    this.#line = beginLine(this.openedAt);
    this.canWrite = options.canWrite;
    this.isOwner = options.isOwner;
    this.personId = options.personId;
    this.room = options.room;
    this.#messages = new Rate(options.limits.messagesPerSecond);
    this.#bytes = new Rate(options.limits.bytesPerSecond);
    this.#questions = new Rate(QUESTIONS_PER_SECOND);
    const { socket, raw } = options;
    const { room } = this;
    this.#marks = new SavedMarks(this, options);
    this.#queue = new ReaderQueue(raw, options.outgoing, options.account);
    socket.on('message', (data, isBinary) =>
      unattended(room, 'message', () => this.#onMessage(data, isBinary)),
    );
    socket.on('pong', () => this.#onLine({ kind: 'ponged', now: this.#options.now() }));
    // Without a listener a single broken frame would end the process. `ws` closes the socket itself.
    socket.on('error', (error: Error & { code?: string }) => this.#refuse(error.code ?? 'socket-error'));
    socket.on('close', (code) => unattended(room, 'socket-close', () => this.#onClose(code)));
    raw.on('drain', () => unattended(room, 'drain', () => this.#onDrain()));
  }

  // --- what the room says ---

  send(frame: Buffer): void {
    if (this.#isOver) return;
    if (this.#line.quietTicks > 0) this.#onLine({ kind: 'said' });
    this.#queue.write(frame);
  }

  sendEdits(frame: Buffer): void {
    if (this.#reading.kind === 'behind' || mayBeOther(this.#holding)) return;
    this.send(frame);
    // With this frame the reader will have all that the document holds now; what comes later it gets when it has read.
    if (this.#queue.isLong(this.#options.limits.readerBytes)) this.#fallBehind(this.room.stateVector());
  }

  sendPresence(frame: Buffer): void {
    if (!this.#queue.isLong(this.#options.limits.readerBytes / 8)) this.send(frame);
  }

  sendNotice(frame: Buffer): void {
    this.#options.writing.toldOther();
    if (this.#speaksOurs) this.send(frame);
  }

  /** Where there were generations before, not until it is known of which the client holds a copy. */
  begin(): void {
    if (this.room.generation === 1) this.#askOnce();
  }

  askForAll(): void {
    if (this.#visit !== null || this.#questionsAsked === 0) return;
    this.#onHolding({ kind: 'asked-for-all', now: this.#options.now() });
    this.#ask(this.room.stateVector());
  }

  #askOnce(): void {
    if (this.#questionsAsked === 0) this.#ask(this.room.stateVector());
  }

  #ask(stateVector: Uint8Array): void {
    this.#questionsAsked += 1;
    this.send(frameOf({ kind: 'step1', vector: stateVector }));
  }

  probe(): void {
    if (!this.#isOver && !this.#onLine({ kind: 'probe', now: this.#options.now() }))
      this.terminate('unanswered');
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
    this.#onLine({ kind: 'set-back', now });
    this.#onHolding({ kind: 'set-back', now });
    this.#onReading({ kind: 'set-back', now });
    this.#visit?.noteSetBack(now);
    const { readerMs } = limits;
    if (
      this.#queue.isStuck(now, readerMs) ||
      (isLate(this.#reading, now, readerMs) && !this.#queue.isWaiting)
    ) {
      this.close('tooSlow', 'did not read for too long');
      this.#options.socket.terminate();
      return;
    }
    this.#visit?.tick();
    // Who does not ask for the document may have edits for it.
    this.#askOnce();
    if (isOverdue(this.#holding, now, limits.resyncMs)) {
      this.close('malformed', 'sent edits that build on others that never came');
      return;
    }
    if (!this.#onLine({ kind: 'tick', now, isHeld: this.#inbox.isHeld })) {
      this.terminate('unanswered');
      return;
    }
    if (!this.room.isStoreFailing && this.#options.writing.isOverNoMore()) {
      this.sendNotice(frameOf({ kind: 'notice', code: 'store-ok' }));
      this.askForAll();
    }
    if (isQuiet(this.#line) && this.#reading.kind === 'keeps-up')
      this.send(frameOf({ kind: 'presence', entries: [] }));
  }

  // --- its three machines ---

  #onHolding(event: HoldingEvent): void {
    this.#holding = stepHolding(this.#holding, event);
  }

  #onReading(event: ReadingEvent): void {
    this.#reading = stepReading(this.#reading, event);
  }

  /** @returns false when the client is gone */
  #onLine(event: LineEvent): boolean {
    const [line, deed] = stepLine(this.#line, event);
    this.#line = line;
    if (deed === 'ping') this.#options.socket.ping();
    return deed !== 'gone';
  }

  // --- what the client says ---

  #onMessage(data: RawData, isBinary: boolean): void {
    if (this.#isOver || this.room.isBroken) return;
    const now = this.#options.now();
    const bytes = data as Buffer;
    this.#onLine({ kind: 'heard', now });
    if (!isBinary) {
      this.close('malformed', 'text where bytes belong');
      return;
    }
    // A piece comes when it was asked for, and may be a large part of what comes in a second.
    const isAwaited = bytes[0] === MESSAGE_COPY_PIECE && this.#visit?.awaitsPiece === true;
    if (!this.#messages.allows(now) || !(isAwaited || this.#bytes.allows(now, bytes.length))) {
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
        else this.#onHolding({ kind: 'passed-over' });
        return;
      case 'presence':
        hearPresence(this.room, this, message.entries, () => this.#refuse('wrong-person'));
        return;
      case 'presence?':
        this.#onQuestion();
        // Of a reader that is behind the answer may be left out: it comes when they have read.
        if (!this.#isOver)
          this.sendPresence(frameOf({ kind: 'presence', entries: this.room.presence.entries() }));
        return;
      case 'mark':
        this.#onMark(message.mark);
        return;
      case 'piece':
        this.#onPiece(message.piece);
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
    this.#onHolding({ kind: 'passed-over' });
    if (this.room.isOfOtherGeneration(update)) this.close('outdated', 'the board was renewed');
  }

  #onStep1(stateVector: Uint8Array, held: ReadonlyMap<number, number>): void {
    // A copy of another generation must not be mixed with the present one.
    if (held.size > 0 && !this.#hasShownAll && !this.room.isPresentIn(held)) {
      this.#onOtherCopy(stateVector.slice(), held);
      return;
    }
    this.#onHolding({ kind: 'shown' });
    this.#askOnce();
    this.#answer(stateVector);
  }

  #onOtherCopy(stateVector: Uint8Array, held: ReadonlyMap<number, number>): void {
    if (!this.canWrite) {
      this.close('outdated', 'the board was renewed');
      return;
    }
    const visit = this.#meet();
    this.#onHolding({ kind: 'asked-early', stateVector });
    // The first has none before it.
    if (this.room.generation > 1) visit.begin(held, () => this.#askOnce());
  }

  #answer(stateVector: Uint8Array): void {
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

  #onPiece(piece: CopyPiece): void {
    if (!this.canWrite) return;
    if (this.#visit === null) {
      this.close('tooLarge', 'the answer is too large');
      return;
    }
    const isOwed = this.#questionsAsked - this.#questionsAnswered > 1;
    const whole = this.#visit.piece(piece, isOwed);
    if (isOwed) this.#questionsAnswered += 1;
    else if (whole !== null && this.#options.writing.mayTake(whole)) this.#onUpdate(whole, true);
  }

  #onUpdate(update: Uint8Array, isComplete: boolean): void {
    const visit = this.#visit;
    if (visit !== null && !isComplete) {
      visit.news();
      return;
    }
    if (isComplete) {
      this.#questionsAnswered += 1;
      // Another question has been asked since, and that is the one to be answered.
      if (visit !== null && this.#questionsAsked > this.#questionsAnswered) return;
      if (visit?.takes(update)) {
        this.wrote(update.length);
        return;
      }
    }
    const result = this.room.receive(update, this, isComplete);
    if (result === 'costly') this.#tryOut(update.slice(), isComplete);
    else this.#onReceived(result, update, isComplete);
  }

  /** Has an edit tried. What this socket says after it waits, since it may build on it. */
  #tryOut(update: Uint8Array, isComplete: boolean): void {
    this.#holdBack('trial', async () => {
      const result = await this.room.receiveTried(update, this, isComplete);
      if (!this.#isOver && !this.room.isBroken) this.#onReceived(result, update, isComplete);
    });
  }

  /** Reads nothing more until something is done. */
  #holdBack(what: string, act: () => Promise<void>): void {
    unattended(this.room, what, async () => {
      await this.#inbox.holdWhile(this.#options.socket, act);
      this.#onLine({ kind: 'heard', now: this.#options.now() });
      this.#readOn();
    });
  }

  #onReceived(result: ReceiveResult, update: Uint8Array, isComplete: boolean): void {
    if (result === 'taken') {
      if (!isComplete) return;
      this.#hasShownAll = true;
      if (this.#visit !== null && !this.#isNoCopy()) return;
      this.#onHolding({ kind: 'all-taken' });
      const mark = this.#marks.release();
      if (mark !== null) this.#marks.promise(mark);
      return;
    }
    if (result === 'store-failing' || result === 'costly') {
      this.#onHolding({ kind: 'passed-over' });
      return;
    }
    if (result === 'unmet') {
      // Honest clients send these too: edits made before they have answered the step 1 of the room, or that build on
      // another tab's. They hold what is missing and send it when asked.
      if (isComplete) {
        this.close('malformed', 'sent edits that build on others that never came');
        return;
      }
      if (this.#holding.kind === 'asking') return;
      this.#onHolding({ kind: 'unplaced' });
      this.askForAll();
      return;
    }
    if ('kind' in result) {
      this.wrote(update.length);
      this.#meet().bring(result.of, update, true);
    } else this.close(result.reason, result.message);
  }

  /** What was in doubt is a document without a name: it is one with the room's. @returns whether all it holds was taken */
  #isNoCopy(): boolean {
    const { hasNews } = this.#visit!;
    const unanswered = this.#holding.kind === 'past' ? this.#holding.unanswered : null;
    this.#visit!.end();
    this.#visit = null;
    this.#onHolding({ kind: 'no-copy' });
    if (unanswered !== null) this.#answer(unanswered);
    if (hasNews) this.askForAll();
    return !hasNews;
  }

  /** The client may hold another generation; see there. */
  #meet(): CopyVisit {
    this.#onHolding({ kind: 'met' });
    this.#visit ??= new CopyVisit(this, this.#options, {
      ask: (vector) => this.#ask(vector),
      holdBack: (what, act) => this.#holdBack(what, act),
      finish: (isAllHeld) => this.#putOut(isAllHeld),
    });
    return this.#visit;
  }

  /** What the client held is on the board, or kept: it joins anew. @param isAllHeld whether the marks that came speak of nothing more */
  #putOut(isAllHeld: boolean): void {
    const mark = isAllHeld ? this.#marks.release() : null;
    this.room.whenSaved(() => {
      if (mark !== null) this.send(frameOf({ kind: 'saved', mark }));
      this.close('outdated', 'the board was renewed; what you held is in it');
    });
  }

  #onMark(mark: number): void {
    if (!this.#speaksOurs && this.room.isStoreFailing) {
      if (this.room.isDamaged && this.#options.isOwner)
        this.send(frameOf({ kind: 'notice', code: 'log-damaged' }));
      this.send(frameOf({ kind: 'notice', code: 'store-read-only' }));
    }
    this.#speaksOurs = true;
    if (this.#options.writing.isToBeTold()) this.send(frameOf({ kind: 'notice', code: 'write-limit' }));
    if (isLacking(this.#holding)) this.#marks.hold(mark);
    else this.#marks.promise(mark);
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
    this.#onReading({ kind: 'fell-behind', stateVector, now: this.#options.now() });
  }

  #onDrain(): void {
    this.#queue.drained();
    // Who waits for room is called in turn.
    if (!this.#queue.isWaiting) this.#catchUp();
  }

  #catchUp(): void {
    const reading = this.#reading;
    if (this.#isOver || reading.kind === 'keeps-up' || !this.#hasRoomForAnswer()) return;
    this.#onReading({ kind: 'caught-up' });
    this.send(this.room.missedSince(reading.stateVector));
    const entries = this.room.presence.entries();
    if (entries.length > 0) this.send(frameOf({ kind: 'presence', entries }));
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
    this.#visit?.end();
    this.#options.log.debug('socket-closed', { connection: this.id, room: this.room.name, code });
  }
}
