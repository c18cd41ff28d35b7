/**
 * What is exchanged with one client about the document: its question and those of the room, its edits, what it holds of other generations, and
 * its marks. What the client holds is a machine (`holding.ts`), which says what follows on an event; here is what is done about it.
 */
import type { CopyPiece } from '../../engine/document/index.ts';
import { EMPTY_UPDATE_BYTES } from './check-update.ts';
import type { ConnectionOptions } from './connection-options.ts';
import { MOST_VECTOR_BYTES } from './connection-times.ts';
import {
  BEGINNING,
  type HoldingEvent,
  isLacking,
  isOverdue,
  mayBeOther,
  mayGoOver,
  stepHolding,
} from './holding.ts';
import { frameOf } from './messages.ts';
import { type CopyLine, CopyVisit } from './renewal/index.ts';
import type { Room } from './room.ts';
import type { ReceiveResult, RoomMember } from './room-member.ts';
import { SavedMarks } from './saved-marks.ts';

/** The socket. */
export interface ExchangeLine extends RoomMember, Omit<CopyLine, 'room'> {
  readonly room: Room;
  readonly isOver: boolean;
  /** Sends what the document holds beyond a state vector, now or when there is room. */
  answer(stateVector: Uint8Array): void;
  /** Reads nothing more until something is done. */
  holdBack(what: string, act: () => Promise<void>): void;
}

type Options = Pick<ConnectionOptions, 'limits' | 'writing' | 'metrics' | 'log' | 'now'>;

export class Exchange {
  readonly #line: ExchangeLine;
  readonly #options: Options;
  readonly #marks: SavedMarks;
  #holding = BEGINNING;
  /** While the client holds something else than the present generation, or may. */
  #visit: CopyVisit | null = null;
  /** Whether the client has answered a question with what the room could take. */
  #hasShownAll = false;
  /** Questions for what the client holds, and answers to them. */
  #questionsAsked = 0;
  #questionsAnswered = 0;

  constructor(line: ExchangeLine, options: Options) {
    this.#line = line;
    this.#options = options;
    this.#marks = new SavedMarks(line, options);
  }

  /** Whether the client may hold another generation, so that it gets no edits. */
  get mayBeOther(): boolean {
    return mayBeOther(this.#holding);
  }

  /** Whether a piece of a copy was asked for, so that it may come however much came before. */
  get awaitsPiece(): boolean {
    return this.#visit?.awaitsPiece === true;
  }

  // --- what the room asks ---

  /** Asks for what the client holds, if that was not done. */
  askOnce(): void {
    if (this.#questionsAsked === 0) this.#ask(this.#line.room.stateVector());
  }

  /** Asks for everything the room lacks. */
  askForAll(): void {
    if (this.#visit !== null || this.#questionsAsked === 0) return;
    this.#onHolding({ kind: 'asked-for-all', now: this.#options.now() });
    this.#ask(this.#line.room.stateVector());
  }

  /** Asks for everything the room lacks, if something was passed over. */
  askIfLacking(): void {
    if (isLacking(this.#holding)) this.askForAll();
  }

  /**
   * The next generation begins. What was passed over the client has in hand, and marks speak of that: it says both again.
   * @param isTold whether it goes over when it is told, and was told all there was
   * @returns `told`: the client can go over to it and is to be told; `new`: it was sent nothing of the ended one yet; `out`: it cannot
   */
  handOver(isTold: boolean): 'told' | 'new' | 'out' {
    if (this.#visit !== null) return 'out';
    if (this.#holding.kind === 'joining') return 'new';
    if (!isTold || !mayGoOver(this.#holding)) return 'out';
    this.#marks.release();
    this.#onHolding({ kind: 'handed-over' });
    return 'told';
  }

  #ask(stateVector: Uint8Array): void {
    this.#questionsAsked += 1;
    this.#line.send(frameOf({ kind: 'step1', vector: stateVector }));
  }

  // --- what the client says ---

  /** It has gone over to the next generation: what it says now is of that. */
  onFollowed(): void {
    if (!this.#isGoingOver) return;
    this.#onHolding({ kind: 'followed' });
    this.#hasShownAll = true;
    this.#questionsAnswered = this.#questionsAsked;
  }

  get #isGoingOver(): boolean {
    return this.#holding.kind === 'going-over';
  }

  /** It asks for the document. @param held what its state vector says */
  onStep1(stateVector: Uint8Array, held: ReadonlyMap<number, number>): void {
    const { room } = this.#line;
    if (held.size === 0 && room.members.size > 1 && room.renewals.isBegun()) {
      const asked = stateVector.slice();
      this.#line.holdBack('newcomer', async () => {
        await room.renewals.over();
        if (!this.#line.isOver && !room.isBroken) this.#onShown(asked, held);
      });
      return;
    }
    this.#onShown(stateVector, held);
  }

  #onShown(stateVector: Uint8Array, held: ReadonlyMap<number, number>): void {
    if (this.#isGoingOver) return;
    // A copy of another generation must not be mixed with the present one.
    if (held.size > 0 && !this.#hasShownAll && !this.#line.room.isPresentIn(held)) {
      this.#onOtherCopy(stateVector.slice(), held);
      return;
    }
    this.#onHolding({ kind: 'shown' });
    this.askOnce();
    this.#answer(stateVector);
  }

  /** @param isComplete whether it answers a question */
  onUpdate(update: Uint8Array, isComplete: boolean): void {
    if (this.#isGoingOver) return;
    if (!this.#line.canWrite) {
      this.#passOver(update);
      return;
    }
    // Whatever becomes of it: it may take a trial, and be passed over while the store fails or too much was written.
    if (isComplete) this.#onHolding({ kind: 'answered' });
    if (this.#options.writing.mayTake(update)) this.#take(update, isComplete);
    else this.#onHolding({ kind: 'passed-over' });
  }

  onPiece(piece: CopyPiece): void {
    if (!this.#line.canWrite || this.#isGoingOver) return;
    if (this.#visit === null) {
      this.#line.close('tooLarge', 'the answer is too large');
      return;
    }
    const isOwed = this.#questionsAsked - this.#questionsAnswered > 1;
    const whole = this.#visit.piece(piece, isOwed);
    if (isOwed) this.#questionsAnswered += 1;
    else if (whole !== null && this.#options.writing.mayTake(whole)) this.#take(whole, true);
  }

  onMark(mark: number): void {
    if (this.#isGoingOver) return;
    if (isLacking(this.#holding)) this.#marks.hold(mark);
    else this.#marks.promise(mark);
  }

  // --- time ---

  /** The clock was set back to this time. */
  noteSetBack(now: number): void {
    this.#onHolding({ kind: 'set-back', now });
    this.#visit?.noteSetBack(now);
  }

  /** Called every few seconds. @returns false when what edits build on has not come in time */
  tick(now: number): boolean {
    this.#visit?.tick();
    // Who does not ask for the document may have edits for it.
    this.askOnce();
    return !isOverdue(this.#holding, now, this.#options.limits.resyncMs);
  }

  /** The socket has ended. */
  end(): void {
    this.#visit?.end();
  }

  #onHolding(event: HoldingEvent): void {
    this.#holding = stepHolding(this.#holding, event);
  }

  /** An edit of somebody who only looks. */
  #passOver(update: Uint8Array): void {
    if (update.length <= EMPTY_UPDATE_BYTES) return;
    this.#onHolding({ kind: 'passed-over' });
    if (this.#line.room.isOfOtherGeneration(update)) this.#line.close('outdated', 'the board was renewed');
  }

  #onOtherCopy(stateVector: Uint8Array, held: ReadonlyMap<number, number>): void {
    if (!this.#line.canWrite) {
      this.#line.close('outdated', 'the board was renewed');
      return;
    }
    const visit = this.#meet();
    this.#onHolding({ kind: 'asked-early', stateVector });
    // The first has none before it.
    if (this.#line.room.generation > 1) visit.begin(held, () => this.askOnce());
  }

  #answer(stateVector: Uint8Array): void {
    if (stateVector.length > MOST_VECTOR_BYTES)
      this.#line.close('malformed', 'names more clients than a document has');
    else this.#line.answer(stateVector);
  }

  #take(update: Uint8Array, isComplete: boolean): void {
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
        this.#line.wrote(update.length);
        return;
      }
    }
    const result = this.#line.room.receive(update, this.#line, isComplete);
    if (result === 'costly') this.#tryOut(update.slice(), isComplete);
    else this.#onReceived(result, update, isComplete);
  }

  /** Has an edit tried. What this socket says after it waits, since it may build on it. */
  #tryOut(update: Uint8Array, isComplete: boolean): void {
    const line = this.#line;
    line.holdBack('trial', async () => {
      const result = await line.room.receiveTried(update, line, isComplete);
      if (!line.isOver && !line.room.isBroken) this.#onReceived(result, update, isComplete);
    });
  }

  #onReceived(result: ReceiveResult, update: Uint8Array, isComplete: boolean): void {
    if (result === 'taken') {
      if (isComplete) this.#onAllTaken();
      return;
    }
    if (result === 'store-failing' || result === 'costly') {
      this.#onHolding({ kind: 'passed-over' });
      return;
    }
    if (result === 'unmet') {
      this.#onUnmet(isComplete);
      return;
    }
    if ('kind' in result) {
      this.#line.wrote(update.length);
      this.#meet().bring(result.of, update, true);
    } else this.#line.close(result.reason, result.message);
  }

  #onAllTaken(): void {
    this.#hasShownAll = true;
    if (this.#visit !== null && !this.#isNoCopy()) return;
    this.#onHolding({ kind: 'all-taken' });
    const mark = this.#marks.release();
    if (mark !== null) this.#marks.promise(mark);
  }

  /**
   * Honest clients send edits whose base is missing too: made before they have answered the step 1 of the room, or building on another
   * tab's. They hold what is missing and send it when asked.
   */
  #onUnmet(isComplete: boolean): void {
    if (isComplete) {
      this.#line.close('malformed', 'sent edits that build on others that never came');
      return;
    }
    if (this.#holding.kind === 'asking') return;
    this.#onHolding({ kind: 'unplaced' });
    this.askForAll();
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

  /** The client may hold another generation; see `renewal/copy-visit.ts`. */
  #meet(): CopyVisit {
    this.#onHolding({ kind: 'met' });
    this.#visit ??= new CopyVisit(this.#line, this.#options, {
      ask: (vector) => this.#ask(vector),
      by: () => this.#line.room.signedBy(this.#line),
      holdBack: (what, act) => this.#line.holdBack(what, act),
      finish: (isAllHeld) => this.#putOut(isAllHeld),
    });
    return this.#visit;
  }

  /** What the client held is on the board, or kept: it joins anew. @param isAllHeld whether the marks that came speak of nothing more */
  #putOut(isAllHeld: boolean): void {
    const line = this.#line;
    const mark = isAllHeld ? this.#marks.release() : null;
    line.room.whenSaved(() => {
      if (mark !== null) line.send(frameOf({ kind: 'saved', mark }));
      line.close('outdated', 'the board was renewed; what you held is in it');
    });
  }
}
