/**
 * One socket in a room: reads the protocol, keeps the limits, and looks after the line.
 *
 * What is known of the other side are three machines, which say what follows on an event and change nothing: what the client holds
 * (`holding.ts`), how it reads (`reading.ts`), and the line (`line.ts`). What is done about the first stands in `exchange.ts`, about the second in
 * `reader.ts`, about the line here.
 *
 * Frames are written to the raw socket, made once for all readers; WebSocket control frames (ping, close) go through `ws`
 * on the same socket. This is in order because compression is off, so `ws` never holds a frame back.
 */
import type { RawData } from 'ws';
import { CLOSE_CODES, type CloseReason, MESSAGE_COPY_PIECE } from '../../engine/document/index.ts';
import { unattended } from '../unattended.ts';
import type { BesideSeat, ConnectionOptions } from './connection-options.ts';
import { MOST_PIECE_BYTES, QUESTIONS_PER_SECOND } from './connection-times.ts';
import { Exchange, type ExchangeLine } from './exchange.ts';
import { hearPresence } from './hear-presence.ts';
import { Inbox } from './inbox.ts';
import { beginLine, isQuiet, type Line, type LineEvent, stepLine } from './line.ts';
import { type ClientMessage, frameOf, readMessage } from './messages.ts';
import { Rate } from './rate.ts';
import { Reader } from './reader.ts';
import type { Room } from './room.ts';

/** What a socket of the system tells of itself. */
interface Counting {
  readonly bytesRead?: number;
}

export class Connection implements ExchangeLine {
  readonly id: string;
  readonly openedAt: number;
  presenceId: number | null = null;
  newClients = 0;
  readonly canWrite: boolean;
  readonly quota: number;
  readonly personId: string | null;
  readonly isFollower: boolean;
  readonly room: Room;
  readonly #options: ConnectionOptions;
  readonly #messages: Rate;
  readonly #bytes: Rate;
  readonly #questions: Rate;
  readonly #inbox = new Inbox();
  readonly #reader: Reader;
  readonly #exchange: Exchange;
  /** Where things are said beside the document there is no presence. */
  readonly #beside: BesideSeat | null;
  #line: Line;
  /** Bytes that had come with the last message, or when this was last looked at. */
  #bytesHeard = 0;
  #speaksOurs = false;
  #isOver = false;

  constructor(options: ConnectionOptions) {
    this.#options = options;
    this.id = options.id;
    this.openedAt = options.now();
    this.#line = beginLine(this.openedAt);
    this.canWrite = options.canWrite;
    this.quota = options.quota;
    this.personId = options.personId;
    this.isFollower = options.isFollower;
    this.room = options.room;
    this.#messages = new Rate(options.limits.messagesPerSecond);
    this.#bytes = new Rate(options.limits.bytesPerSecond);
    this.#questions = new Rate(QUESTIONS_PER_SECOND);
    this.#bytesHeard = this.#bytesRead;
    this.#reader = new Reader(this, options);
    this.#exchange = new Exchange(this, options);
    this.#beside = options.beside?.(this) ?? null;
    const { socket, raw } = options;
    const { room } = this;
    socket.on('message', (data, isBinary) =>
      unattended(room, 'message', () => this.#onMessage(data, isBinary)),
    );
    socket.on('pong', () => {
      this.#bytesHeard = this.#bytesRead;
      this.#onLine({ kind: 'ponged', now: this.#options.now() });
    });
    // Without a listener a single broken frame would end the process. `ws` closes the socket itself.
    socket.on('error', (error: Error & { code?: string }) => this.#refuse(error.code ?? 'socket-error'));
    socket.on('close', (code) => unattended(room, 'socket-close', () => this.#onClose(code)));
    raw.on('drain', () => unattended(room, 'drain', () => this.#reader.drained()));
  }

  /** Whether it was closed: it says and hears nothing more. */
  get isOver(): boolean {
    return this.#isOver;
  }

  // --- what the room says ---

  send(frame: Buffer): void {
    if (this.#isOver) return;
    if (this.#line.quietTicks > 0) this.#onLine({ kind: 'said' });
    this.#reader.write(frame);
  }

  sendEdits(frame: Buffer): void {
    if (!this.#exchange.mayBeOther) this.#reader.sendEdits(frame);
  }

  sendPresence(frame: Buffer): void {
    this.#reader.sendPresence(frame);
  }

  sendNotice(frame: Buffer): void {
    this.#options.writing.toldOther();
    if (this.#speaksOurs) this.send(frame);
  }

  answer(stateVector: Uint8Array): void {
    this.#reader.answer(stateVector);
  }

  /** Where there were generations before, not until it is known of which the client holds a copy. */
  begin(): void {
    if (this.room.generation === 1) this.#exchange.askOnce();
  }

  askForAll(): void {
    this.#exchange.askForAll();
  }

  askIfLacking(): void {
    this.#exchange.askIfLacking();
  }

  handOver(frames: readonly Buffer[]): void {
    const outcome = this.#exchange.handOver(this.isFollower && this.#reader.keepsUp);
    if (outcome === 'out') this.close('restarted', 'the board was renewed');
    if (outcome !== 'told') return;
    this.#options.metrics.count('larkboard_handed_over_total', 'Sockets handed over to a new generation.');
    for (const frame of frames) this.send(frame);
  }

  probe(): void {
    const { isHeld } = this.#inbox;
    if (!this.#isOver && !this.#onLine({ kind: 'probe', now: this.#options.now(), isHeld }))
      this.terminate('unanswered');
  }

  wrote(bytes: number): void {
    this.#options.writing.count(bytes);
  }

  close(reason: CloseReason, message: string): void {
    if (this.#isOver) return;
    this.#options.metrics.count('larkboard_closed_total', 'Sockets closed by the server.', { reason });
    this.#leave();
    this.#options.socket.close(CLOSE_CODES[reason], shortened(message));
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
    this.#onLine({ kind: 'set-back', now });
    this.#exchange.noteSetBack(now);
    this.#reader.noteSetBack(now);
    if (this.#reader.isTooSlow(now)) {
      this.close('tooSlow', 'did not read for too long');
      this.#options.socket.terminate();
      return;
    }
    if (!this.#exchange.tick(now)) {
      this.close('malformed', 'sent edits that build on others that never came');
      return;
    }
    if (this.#bytesRead !== this.#bytesHeard) {
      // `ws` tells of a message when all of it is there, which on a slow line takes long.
      this.#bytesHeard = this.#bytesRead;
      this.#onLine({ kind: 'receiving', now });
    }
    if (!this.#onLine({ kind: 'tick', now, isHeld: this.#inbox.isHeld })) {
      this.terminate('unanswered');
      return;
    }
    if (!this.room.isStoreFailing && this.#options.writing.isOverNoMore()) {
      this.sendNotice(frameOf({ kind: 'notice', code: 'store-ok' }));
      this.askForAll();
    }
    if (isQuiet(this.#line) && !this.#reader.isBeingTold)
      this.send(frameOf({ kind: 'presence', entries: [] }));
  }

  /** What has come on the line so far. */
  get #bytesRead(): number {
    return (this.#options.raw as Counting).bytesRead ?? 0;
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
    this.#bytesHeard = this.#bytesRead;
    this.#onLine({ kind: 'heard', now });
    if (!isBinary) {
      this.close('malformed', 'text where bytes belong');
      return;
    }
    // A piece comes when it was asked for, and may be a large part of what comes in a second.
    const isAwaited =
      bytes[0] === MESSAGE_COPY_PIECE && bytes.length <= MOST_PIECE_BYTES && this.#exchange.awaitsPiece;
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
        if (!this.#isOver) this.#exchange.onStep1(message.vector, message.held);
        return;
      case 'update':
        this.#exchange.onUpdate(message.update, message.isComplete);
        return;
      case 'presence':
        if (this.#beside !== null) return;
        hearPresence(this.room.members, this, message.entries, () => this.#refuse('wrong-person'));
        return;
      case 'presence?':
        this.#onQuestion();
        // Of a reader that is behind the answer may be left out: it comes when they have read.
        if (!this.#isOver)
          this.sendPresence(frameOf({ kind: 'presence', entries: this.room.members.presence.entries() }));
        return;
      case 'mark':
        this.#onMark(message.mark);
        return;
      case 'piece':
        this.#exchange.onPiece(message.piece);
        return;
      case 'followed':
        this.#exchange.onFollowed();
        return;
      case 'lesson':
        if (this.#beside === null) this.close('malformed', 'nothing is said beside this document');
        else this.#beside.hear(message.text);
        return;
      case 'other':
        return;
    }
  }

  /** A few bytes ask for all there is: a hundred of them fit in a frame, so they have a limit of their own. */
  #onQuestion(): void {
    if (!this.#questions.allows(this.#options.now())) this.close('tooFast', 'asked too often for everything');
  }

  #onMark(mark: number): void {
    if (!this.#speaksOurs && this.room.isStoreFailing) {
      if (this.room.isDamaged && this.#options.isOwner)
        this.send(frameOf({ kind: 'notice', code: 'log-damaged' }));
      this.send(frameOf({ kind: 'notice', code: 'store-read-only' }));
    }
    this.#speaksOurs = true;
    if (this.#options.writing.isToBeTold()) this.send(frameOf({ kind: 'notice', code: 'write-limit' }));
    this.#exchange.onMark(mark);
  }

  holdBack(what: string, act: () => Promise<void>): void {
    unattended(this.room, what, async () => {
      await this.#inbox.holdWhile(this.#options.socket, act);
      this.#onLine({ kind: 'receiving', now: this.#options.now() });
      this.#readOn();
    });
  }

  // --- end ---

  #refuse(reason: string): void {
    this.#options.metrics.count('larkboard_refused_total', 'Messages refused.', { reason });
  }

  #leave(): void {
    if (this.#isOver) return;
    this.#isOver = true;
    this.#beside?.leave();
    this.room.members.leave(this);
  }

  #onClose(code: number): void {
    this.#leave();
    this.#reader.end();
    this.#exchange.end();
    this.#options.log.debug('socket-closed', { connection: this.id, room: this.room.name, code });
  }
}

/** A message as a close frame takes it: 123 bytes at most (RFC 6455, 5.5), of text that may come from the client. */
function shortened(message: string): string {
  return Buffer.from(message).subarray(0, 100).toString();
}
