/**
 * A document as a room holds it: encoded, and behind that the edits taken since. A Y.Doc takes some ten times the memory
 * and most of the time of an edit, and passing edits on needs none: what fits is known from the clocks. It is made where one
 * is needed (somebody comes back with a copy of their own, the past is to be folded) and put aside when nothing happens.
 *
 * Invariant. The document is `state` and the updates of `tail`; where there is a Y.Doc, it is that and the updates of
 * `ahead`. Either holds all that was taken.
 */
import * as Y from 'yjs';
import { checkState, checkUpdate, type UpdateCheck } from './check-update.ts';
import { frameOf } from './messages.ts';
import { type Deletions, freesBytes } from './freed-bytes.ts';
import { clientOf, firstOf, type Identity, identityUpdate } from './identity.ts';
import type { FittingUpdate } from './judge-update.ts';
import type { DocumentLog } from './log-rows.ts';
import { type Brought, Reach } from './reach.ts';
import { isCostly } from './trials.ts';

/** Updates behind the encoded state after which it is made anew. */
const MAX_TAIL = 1_000;
/** A tail of so many bytes may be sent as it is, whatever stands before it. */
const FOLD_BYTES = 16 * 1024;
/** What a document of so few bytes reaches is quickly worked out with the first edit, and would take more than the document until then. */
const SMALL_BYTES = 16 * 1024;
/** Origin of what is replayed on a Y.Doc made later: everybody has heard of it. */
const REPLAY = Symbol('replay');

/** How taking an update that fits has ended; `circle`: its structs wait for each other and nothing was taken. */
export type TakeResult = 'taken' | 'circle';

/** Who hears of edits. */
export interface LiveListener {
  /**
   * An edit is about to be held by {@link LiveDocument.updates}.
   * @param isOwn whether it is one client's next structs alone, as whoever makes them sends them
   */
  coming(check: FittingUpdate, origin: unknown, isOwn: boolean): void;
  /** It is. */
  came(update: Uint8Array, origin: unknown, check: FittingUpdate): void;
}

export class LiveDocument {
  readonly #listener: LiveListener;
  #identity: Identity;
  /** Client id of the identity. */
  #writer: number;
  #state: Uint8Array | null = null;
  /** Whether `state` was made by a Y.Doc, which holds nothing that was deleted. */
  #isFolded = false;
  #frame: Buffer | null = null;
  /** Whether that frame is all that a newcomer gets. */
  #isFrameAlone = true;
  #tail: Uint8Array[] = [];
  #doc: Y.Doc | null = null;
  #ahead: Uint8Array[] = [];
  /** Null while put aside, and of a small document until somebody edits; then the encoded state says the same. */
  #reach: Reach | null = null;
  #vector: Uint8Array | null = null;
  #bytes = 0;

  /** @param listener hears of every edit, whether taken from a socket or made on {@link doc} */
  constructor(name: string, listener: LiveListener) {
    this.#identity = firstOf(name);
    this.#writer = clientOf(this.#identity);
    this.#listener = listener;
  }

  get identity(): Identity {
    return this.#identity;
  }

  /** Whether only the encoded document is kept. */
  get isAside(): boolean {
    return this.#doc === null;
  }

  /** About how large the encoded document is; never less by much. */
  get bytes(): number {
    return this.#bytes;
  }

  /** See {@link freesBytes}. */
  frees(deletions: Deletions, bytes: number): boolean {
    return bytes <= 0 || freesBytes(this.doc, deletions, bytes);
  }

  /** Whether an update that fits is to be tried elsewhere before it is taken. */
  isCostly({ placing }: Brought, most: number): boolean {
    return isCostly(this.#reachNow(), placing, most);
  }

  /** The steps of building it, as it is now, were found to be few. */
  wasCounted(): void {
    this.#reachNow().wasCounted();
  }

  /** Begins with what the store holds, or (null) with nothing; once, before anything else. */
  open(stored: Pick<DocumentLog, 'identity' | 'update' | 'check'> | null): void {
    this.#identity = stored?.identity ?? this.#identity;
    this.#writer = clientOf(this.#identity);
    const own = identityUpdate(this.#identity);
    const clocks = new Map(stored?.check.ends);
    const isNamed = clocks.has(this.#writer);
    if (stored === null || clocks.size === 0) this.#state = own;
    else this.#state = isNamed ? stored.update : Y.mergeUpdates([stored.update, own]);
    this.#bytes = this.#state.length;
    // The name is all that its writer ever writes.
    this.#vector = Y.encodeStateVector(clocks.set(this.#writer, 1));
    if (stored === null || !isNamed || this.#bytes <= SMALL_BYTES) return;
    this.#reach = new Reach();
    this.#reach.note(stored.check);
  }

  /** Notes what an update of a Y.Doc brings, which fits or else is a fault of ours. */
  #noteWorkedOut(update: Uint8Array, origin: unknown): void {
    const reach = this.#reachNow();
    const check = checkUpdate(reach, this.#identity, update, this.#writer);
    if (check.kind === 'fits') this.#add(reach, check, update, origin, false);
    else if (check.kind !== 'empty') throw new Error(`the server made an update that is ${check.kind}`);
  }

  #add(reach: Reach, check: FittingUpdate, update: Uint8Array, origin: unknown, isOwn: boolean): void {
    this.#listener.coming(check, origin, isOwn);
    reach.note(check);
    this.#note(update);
    this.#listener.came(update, origin, check);
  }

  /** The document itself. Edits made on it are heard like all others. */
  get doc(): Y.Doc {
    const doc = this.#doc ?? this.#listen(new Y.Doc());
    const updates = this.#doc === null ? [...(this.#state ? [this.#state] : []), ...this.#tail] : this.#ahead;
    this.#doc = doc;
    this.#ahead = [];
    if (updates.length > 0)
      doc.transact(() => {
        for (const update of updates) Y.applyUpdate(doc, update, REPLAY);
      }, REPLAY);
    return doc;
  }

  #listen(doc: Y.Doc): Y.Doc {
    doc.on('update', (update: Uint8Array, origin: unknown) => {
      if (origin === REPLAY) return;
      this.#noteWorkedOut(update, origin);
    });
    return doc;
  }

  #note(update: Uint8Array): void {
    this.#vector = null;
    this.#bytes += update.length;
    if (this.#state === null) return;
    this.#tail.push(update);
    if (this.#tail.length > MAX_TAIL) this.encoded();
  }

  #reachNow(): Reach {
    if (this.#reach !== null) return this.#reach;
    const reach = new Reach();
    const { check } = checkState(this.encoded(), this.#identity.name);
    if (check.kind !== 'fits') throw new Error(`the encoded document is ${check.kind}`);
    reach.note(check);
    this.#reach = reach;
    return reach;
  }

  /** Checks an update against the document; changes nothing. */
  check(update: Uint8Array): UpdateCheck {
    return checkUpdate(this.#reachNow(), this.#identity, update, this.#writer);
  }

  /**
   * Takes an update that {@link check} found to fit.
   * @param isComplete whether it may repeat what is known; then it is applied at once, and only what is new is heard of
   * @throws Error when Yjs fails on it
   */
  take(update: Uint8Array, check: FittingUpdate, isComplete: boolean, origin: unknown): TakeResult {
    if (check.isPlain && !isComplete && this.#hasNothingWaiting) {
      const copy = update.slice();
      if (this.#doc !== null) this.#ahead.push(copy);
      this.#add(this.#reachNow(), check, copy, origin, true);
      return 'taken';
    }
    const { doc } = this;
    const wasWaiting = !this.#hasNothingWaiting;
    Y.applyUpdate(doc, update, origin);
    if (wasWaiting || this.#hasNothingWaiting) return 'taken';
    // Structs that wait for each other in a circle pass the check; Yjs sets them aside. They must not stay.
    doc.store.pendingStructs = null;
    doc.store.pendingDs = null;
    return 'circle';
  }

  get #hasNothingWaiting(): boolean {
    const store = this.#doc?.store;
    return store === undefined || (store.pendingStructs === null && store.pendingDs === null);
  }

  /**
   * The whole document as one update, encoded once for all who ask until it changes.
   * @param isFolded whether what was deleted must be left out: rows that were merged may hold it still
   */
  encoded(isFolded = false): Uint8Array {
    const isReady = this.#tail.length === 0 && (this.#isFolded || !isFolded);
    if (this.#state !== null && isReady) return this.#state;
    const state = Y.encodeStateAsUpdate(this.doc);
    this.#isFolded = true;
    this.#state = state;
    this.#frame = null;
    this.#tail = [];
    this.#bytes = state.length;
    return state;
  }

  /** Updates that make the document, in their order. Nothing is worked out for them but where the document is not whole. */
  get updates(): readonly Uint8Array[] {
    return this.#state === null ? [this.encoded()] : [this.#state, ...this.#tail];
  }

  /**
   * Frames that give a newcomer the document: an encoded state, and what was edited since. The last one answers the question, since
   * whoever has the answer takes what it has for the document.
   */
  framesForNewcomer(): Buffer[] {
    const state = this.#state ?? this.encoded();
    // Where more has been edited than there was, folding it pays with the first who comes.
    if (this.#bytes > 2 * state.length && this.#bytes > state.length + FOLD_BYTES) this.encoded();
    const isAlone = this.#tail.length === 0;
    if (this.#frame === null || this.#isFrameAlone !== isAlone)
      this.#frame = frameOf({ kind: isAlone ? 'step2' : 'update', update: this.#state ?? state });
    this.#isFrameAlone = isAlone;
    if (isAlone) return [this.#frame];
    const tail = this.#tail.length === 1 ? this.#tail[0]! : Y.mergeUpdates(this.#tail);
    this.#tail = [tail];
    return [this.#frame, frameOf({ kind: 'step2', update: tail })];
  }

  /** What the document holds beyond a state vector. @throws Error when the vector does not decode */
  beyond(vector: Uint8Array): Uint8Array {
    return Y.encodeStateAsUpdate(this.doc, vector);
  }

  /** The document's state vector, encoded. */
  vector(): Uint8Array {
    // Of a document that was put aside it was made then.
    this.#vector ??= Y.encodeStateVector(this.#reachNow().clocks);
    return this.#vector;
  }

  /** Keeps the encoded document alone until somebody needs more. */
  putAside(): void {
    this.#frame = null;
    // What a document reaches takes more than the encoded state of a small one, also where no Y.Doc was needed.
    if ((this.#reach === null && this.#doc === null) || !this.#hasNothingWaiting) return;
    this.encoded();
    this.vector();
    this.#doc?.destroy();
    this.#doc = null;
    this.#reach = null;
  }

  /** Lets go of the Y.Doc. */
  destroy(): void {
    this.#doc?.destroy();
  }
}
