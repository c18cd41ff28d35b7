/**
 * The way to one reader: what is sent there, and what is not while the reader is slow. Who is behind gets no edits until it has read, then
 * all it missed as one; so does who asked for the document when there was no room for the answer.
 */
import type { ConnectionOptions } from './connection-options.ts';
import { frameOf } from './messages.ts';
import { ReaderQueue } from './reader-queue.ts';
import { isLate, KEEPS_UP, type ReadingEvent, stepReading } from './reading.ts';

/** The socket. */
export interface ReaderLine {
  readonly isOver: boolean;
  send(frame: Buffer): void;
}

type Options = Pick<
  ConnectionOptions,
  'raw' | 'room' | 'limits' | 'outgoing' | 'account' | 'metrics' | 'now'
>;

export class Reader {
  readonly #line: ReaderLine;
  readonly #options: Options;
  readonly #queue: ReaderQueue;
  #reading = KEEPS_UP;

  constructor(line: ReaderLine, options: Options) {
    this.#line = line;
    this.#options = options;
    this.#queue = new ReaderQueue(options.raw, options.outgoing, options.account);
  }

  /** Whether it was sent all that it asked for and all edits since. */
  get keepsUp(): boolean {
    return this.#reading.kind === 'keeps-up';
  }

  /** Whether something is on its way to it, so that it hears of the line. */
  get isBeingTold(): boolean {
    return !this.keepsUp && this.#queue.bytes > 0;
  }

  write(frame: Buffer): void {
    this.#queue.write(frame);
  }

  /** Sends edits of a turn, unless the reader is behind. */
  sendEdits(frame: Buffer): void {
    if (!this.keepsUp) return;
    this.#line.send(frame);
    const { room, limits } = this.#options;
    // With this frame the reader will have all that the document holds now; what comes later it gets when it has read.
    if (this.#queue.isLong(limits.readerBytes)) this.#fallBehind(room.stateVector());
  }

  /** Sends what may be left out for a reader that is behind. */
  sendPresence(frame: Buffer): void {
    if (!this.#queue.isLong(this.#options.limits.readerBytes / 8)) this.#line.send(frame);
  }

  /** Sends what the document holds beyond a state vector, now or when there is room. */
  answer(stateVector: Uint8Array): void {
    const { room, limits } = this.#options;
    if (this.#queue.bytes > limits.readerBytes || !this.#hasRoomForAnswer()) {
      this.#fallBehind(stateVector.slice());
      return;
    }
    // With the answer it has all it missed, too.
    const wasBehind = !this.keepsUp;
    this.#onReading({ kind: 'caught-up' });
    for (const frame of room.answerStep1(stateVector)) this.#line.send(frame);
    if (wasBehind) this.#tellPresence();
  }

  /** The clock was set back to this time. */
  noteSetBack(now: number): void {
    this.#onReading({ kind: 'set-back', now });
  }

  /** Whether it has taken nothing, or is behind, for longer than it is waited for; looked at every few seconds. */
  isTooSlow(now: number): boolean {
    const { readerMs } = this.#options.limits;
    return (
      this.#queue.isStuck(now, readerMs) || (isLate(this.#reading, now, readerMs) && !this.#queue.isWaiting)
    );
  }

  /** All that waited has gone. */
  drained(): void {
    this.#queue.drained();
    // Who waits for room is called in turn.
    if (!this.#queue.isWaiting) this.#catchUp();
  }

  /** The socket has ended. */
  end(): void {
    this.#queue.end();
  }

  #onReading(event: ReadingEvent): void {
    this.#reading = stepReading(this.#reading, event);
  }

  /** Whether the document may be sent now; else it is once others have read. */
  #hasRoomForAnswer(): boolean {
    return this.#queue.hasRoomFor(this.#options.room.held.bytes, () => this.#catchUp());
  }

  #fallBehind(stateVector: Uint8Array): void {
    const { metrics, now } = this.#options;
    if (this.#queue.isWaiting)
      metrics.count('larkboard_waiting_readers_total', 'Readers that wait for others to read.');
    else metrics.count('larkboard_slow_readers_total', 'Readers that fell behind.');
    this.#onReading({ kind: 'fell-behind', stateVector, now: now() });
  }

  #catchUp(): void {
    const reading = this.#reading;
    if (this.#line.isOver || reading.kind === 'keeps-up' || !this.#hasRoomForAnswer()) return;
    this.#onReading({ kind: 'caught-up' });
    this.#line.send(this.#options.room.missedSince(reading.stateVector));
    this.#tellPresence();
  }

  /** Tells what was left out meanwhile. */
  #tellPresence(): void {
    const entries = this.#options.room.members.presence.entries();
    if (entries.length > 0) this.#line.send(frameOf({ kind: 'presence', entries }));
  }
}
