/**
 * One socket whose client holds something else than the room's generation of the document: a copy of one that has ended, of one that
 * is not kept, or a document without a name. Until it is known which, and from then on unless it is the last, the client
 * gets nothing of the present document, and nothing it says is applied to that.
 *
 * A copy of an ended generation is asked for by the state vector of that, so that what is sent is what nobody has yet, be the copy as large as
 * it may.
 */
import type { CloseReason, CopyPiece } from '../../../engine/document/index.ts';
import { StoreError } from '../../store/index.ts';
import type { Log } from '../../log.ts';
import { type Answerable, unattended } from '../../unattended.ts';
import { CopyPieces } from './copy-pieces.ts';
import type { Identity } from '../identity.ts';
import type { SyncLimits } from '../limits.ts';
import { frameOf } from '../messages.ts';
import type { CopySeat, LateCopies } from './late-copies.ts';

/** The socket. */
export interface CopyLine {
  readonly id: string;
  readonly room: Answerable & { readonly copies: LateCopies };
  send(frame: Buffer): void;
  close(reason: CloseReason, message: string): void;
}

/** What the socket does for it. */
export interface CopyTalk {
  /** Asks for what the client has beyond a state vector. */
  readonly ask: (vector: Uint8Array) => void;
  /** Who the client is, as rows are signed. */
  readonly by: () => string;
  /** Does something that takes its time; nothing is read from the socket meanwhile. */
  readonly holdBack: (what: string, act: () => Promise<void>) => void;
  /** What was asked for is on the disk: has the client join anew. @param isAllHeld whether it said nothing more since */
  readonly finish: (isAllHeld: boolean) => void;
}

interface Options {
  readonly limits: Pick<SyncLimits, 'documentBytes' | 'readerMs'>;
  readonly log: Log;
  readonly now: () => number;
}

/** Times that a client is asked for what it did meanwhile; then it comes again. */
const MOST_ROUNDS = 3;
const ALL = Uint8Array.of(0);

export class CopyVisit {
  readonly #line: CopyLine;
  readonly #options: Options;
  readonly #talk: CopyTalk;
  /** The ended generation it was asked for by; null = not by one. */
  #identity: Identity | null = null;
  /** Whether all of the copy was asked for, not what it holds beyond that generation. */
  #isAskedForAll = false;
  #seat: CopySeat | null = null;
  #pieces: CopyPieces | null = null;
  #isBringing = false;
  /** Whether edits came that are not in what was taken last. */
  #hasNews = false;
  #rounds = 0;
  #heardAt: number;
  #isOver = false;

  constructor(line: CopyLine, options: Options, talk: CopyTalk) {
    this.#line = line;
    this.#options = options;
    this.#talk = talk;
    this.#heardAt = options.now();
  }

  /** Whether a piece was asked for, so that it may come however much came before. */
  get awaitsPiece(): boolean {
    return this.#pieces !== null;
  }

  /** Whether edits came that wait for the answer to a question. */
  get hasNews(): boolean {
    return this.#hasNews;
  }

  /** The copy is named by a state vector: asks for it, where its generation is known. @param otherwise is done where it is not */
  begin(held: ReadonlyMap<number, number>, otherwise: () => void): void {
    const { copies } = this.#line.room;
    this.#talk.holdBack('copy', () =>
      this.#tell(async () => {
        const identity = await copies.endedGenerationIn(held);
        if (this.#isOver) return;
        if (identity === null) otherwise();
        else await this.#askBy(identity);
      }),
    );
  }

  /** An edit; the client has it, and is asked for it. */
  news(): void {
    this.#hasNews = true;
  }

  /** @returns whether the answer to a question is of a copy whose generation is known */
  takes(update: Uint8Array): boolean {
    if (this.#identity === null) return false;
    this.bring(this.#identity, update, this.#isAskedForAll);
    return true;
  }

  /** Takes a copy of a generation. @param isWhole whether it is all of it */
  bring(identity: Identity, copy: Uint8Array, isWhole: boolean): void {
    this.#heardAt = this.#options.now();
    if (this.#isBringing) {
      this.#hasNews = true;
      return;
    }
    if (!this.#isSeated() || !this.#hasRoom(copy.length)) return;
    this.#isBringing = true;
    this.#hasNews = false;
    const own = copy.slice();
    unattended(this.#line.room, 'bring-over', () => this.#tell(() => this.#bring(identity, own, isWhole)));
  }

  /** A piece of the answer to a question. @param isOwed whether it is one that nobody needs any more @returns the whole, once it is there */
  piece(piece: CopyPiece, isOwed: boolean): Uint8Array | null {
    this.#heardAt = this.#options.now();
    if (isOwed) {
      this.#line.send(frameOf({ kind: 'wanted', offset: piece.total }));
      return null;
    }
    if (piece.offset === 0) {
      if (piece.total > this.#options.limits.documentBytes) {
        this.#line.close('tooLarge', 'the copy is larger than a document may be');
        return null;
      }
      this.#seat?.drop();
      if (!this.#isSeated() || !this.#hasRoom(piece.total)) return null;
      this.#pieces = new CopyPieces(piece.total);
    }
    if (this.#pieces === null || !this.#pieces.add(piece)) {
      this.#line.close('malformed', 'a piece that was not asked for');
      return null;
    }
    const { whole, wanted } = this.#pieces;
    this.#line.send(frameOf({ kind: 'wanted', offset: wanted }));
    if (whole === null) return null;
    this.#pieces = null;
    this.#seat?.drop();
    return whole;
  }

  /** The clock was set back to this time. */
  noteSetBack(now: number): void {
    this.#heardAt = Math.min(this.#heardAt, now);
  }

  /** Called every few seconds. */
  tick(): void {
    const isAwaited = this.#seat !== null && !this.#isBringing;
    if (isAwaited && this.#options.now() - this.#heardAt > this.#options.limits.readerMs)
      this.#line.close('tooSlow', 'did not send the copy it holds');
  }

  /** The socket has ended, or it was no copy. */
  end(): void {
    this.#isOver = true;
    if (!this.#isBringing) this.#seat?.leave();
  }

  #isSeated(): boolean {
    this.#seat ??= this.#line.room.copies.seat();
    if (this.#seat === null) this.#line.close('busy', 'others bring what they hold; come again');
    return this.#seat !== null;
  }

  #hasRoom(bytes: number): boolean {
    const isThere = this.#seat?.hold(bytes) === true;
    if (!isThere) this.#line.close('busy', 'too much is brought at once; come again');
    return isThere;
  }

  async #askBy(identity: Identity): Promise<void> {
    if (!this.#isSeated()) return;
    const vector = await this.#line.room.copies.vectorOf(identity);
    if (this.#isOver) return;
    this.#identity = identity;
    this.#isAskedForAll = vector === null;
    this.#ask(vector ?? ALL);
  }

  #ask(vector: Uint8Array): void {
    this.#heardAt = this.#options.now();
    this.#talk.ask(vector);
  }

  async #bring(identity: Identity, copy: Uint8Array, isWhole: boolean): Promise<void> {
    const { copies } = this.#line.room;
    try {
      const outcome = await copies.bring(identity, copy, isWhole, this.#talk.by());
      if (this.#isOver) return;
      if (outcome.kind === 'refused') {
        this.#line.close(outcome.reason, outcome.message);
        return;
      }
      this.#rounds += 1;
      const isToAsk = this.#rounds < MOST_ROUNDS && (outcome.kind === 'partial' || this.#hasNews);
      if (!isToAsk) {
        this.#talk.finish(outcome.kind === 'taken' && !this.#hasNews);
        return;
      }
      this.#identity = identity;
      this.#isAskedForAll = outcome.kind === 'partial' || isWhole;
      const vector = this.#isAskedForAll ? ALL : ((await copies.vectorOf(identity)) ?? ALL);
      if (!this.#isOver) this.#ask(vector);
    } finally {
      this.#isBringing = false;
      this.#seat?.drop();
      if (this.#isOver) this.#seat?.leave();
    }
  }

  /** Where the store fails, or the thread, the copy stays with the client. */
  async #tell(act: () => Promise<void>): Promise<void> {
    try {
      await act();
    } catch (cause) {
      if (!(cause instanceof StoreError)) throw cause;
      this.#options.log.error('bring-over-failed', { connection: this.#line.id, message: cause.message });
      this.#line.close('storeFailed', 'your edits cannot be stored now; they stay with you');
    }
  }
}
