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
import { step2Frame, updateFrame } from './frames.ts';
import { clientOf, type Identity, identityUpdate } from './identity.ts';

/** Updates behind the encoded state after which it is made anew. */
const MAX_TAIL = 1_000;
/** A tail of so many bytes may be sent as it is, whatever stands before it. */
const FOLD_BYTES = 16 * 1024;
/** Origin of what is replayed on a Y.Doc made later: everybody has heard of it. */
const REPLAY = Symbol('replay');

/** An update without content, as Yjs encodes it. */
const EMPTY = Uint8Array.of(0, 0);

/** How taking an update that fits has ended; `circle`: its structs wait for each other and nothing was taken. */
export type TakeResult = 'taken' | 'circle';

export class LiveDocument {
  readonly #onUpdate: (update: Uint8Array, origin: unknown) => void;
  #identity: Identity;
  /** Client id of the identity. */
  #writer: number;
  #state: Uint8Array | null = null;
  #frame: Buffer | null = null;
  #tail: Uint8Array[] = [];
  #doc: Y.Doc | null = null;
  #ahead: Uint8Array[] = [];
  /** Null while put aside; then the vector says the same. */
  #clocks: Map<number, number> | null = new Map();
  #vector: Uint8Array | null = null;
  #bytes = 0;

  /** @param onUpdate hears of every edit, whether taken from a socket or made on {@link doc} */
  constructor(name: string, onUpdate: (update: Uint8Array, origin: unknown) => void) {
    this.#identity = { name, generation: 1 };
    this.#writer = clientOf(this.#identity);
    this.#onUpdate = onUpdate;
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

  /**
   * Begins with what the store holds; once, before anything else.
   * @returns whether it is whole; false when some of it builds on what is missing
   */
  open(stored: Uint8Array | null): boolean {
    const { name } = this.#identity;
    const state = stored ?? EMPTY;
    const { generation, check } = checkState(state, name);
    this.#identity = { name, generation };
    this.#writer = clientOf(this.#identity);
    const own = identityUpdate(this.#identity);
    if (check.kind === 'fits') {
      const isNamed = check.ends.has(this.#writer);
      if (isNamed) this.#begin(state);
      else this.#begin(check.ends.size === 0 ? own : Y.mergeUpdates([state, own]));
      this.#clocks = new Map(check.ends);
    } else {
      // Yjs keeps the rest until what is missing comes; nothing encoded by others could say so.
      const doc = this.#listen(new Y.Doc());
      this.#doc = doc;
      Y.applyUpdate(doc, state, REPLAY);
      Y.applyUpdate(doc, own, REPLAY);
      this.#readClocks();
      this.#bytes = state.length;
      return false;
    }
    this.#clocks?.set(this.#writer, 1);
    return true;
  }

  #begin(state: Uint8Array): void {
    this.#state = state;
    this.#bytes = state.length;
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
      for (const [client, end] of Y.parseUpdateMeta(update).to) this.#allClocks().set(client, end);
      this.#note(update);
      this.#onUpdate(update, origin);
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

  #allClocks(): Map<number, number> {
    this.#clocks ??= Y.decodeStateVector(this.vector());
    return this.#clocks;
  }

  #readClocks(): void {
    if (this.#doc !== null) this.#clocks = Y.decodeStateVector(Y.encodeStateVector(this.#doc));
    this.#vector = null;
  }

  /** Checks an update against the document; changes nothing. */
  check(update: Uint8Array): UpdateCheck {
    return checkUpdate(this.#allClocks(), this.#identity, update, this.#writer);
  }

  /**
   * Takes an update that {@link check} found to fit.
   * @param isComplete whether it may repeat what is known; then it is applied at once, and only what is new is heard of
   * @throws Error when Yjs fails on it
   */
  take(
    update: Uint8Array,
    check: UpdateCheck & { readonly kind: 'fits' },
    isComplete: boolean,
    origin: unknown,
  ): TakeResult {
    if (check.isPlain && !isComplete && this.#hasNothingWaiting) {
      const copy = update.slice();
      const clocks = this.#allClocks();
      for (const [client, end] of check.ends) clocks.set(client, end);
      if (this.#doc !== null) this.#ahead.push(copy);
      this.#note(copy);
      this.#onUpdate(copy, origin);
      return 'taken';
    }
    const { doc } = this;
    const wasWaiting = !this.#hasNothingWaiting;
    Y.applyUpdate(doc, update, origin);
    if (wasWaiting || this.#hasNothingWaiting) return 'taken';
    // Structs that wait for each other in a circle pass the check; Yjs sets them aside. They must not stay.
    doc.store.pendingStructs = null;
    doc.store.pendingDs = null;
    this.#readClocks();
    return 'circle';
  }

  get #hasNothingWaiting(): boolean {
    const store = this.#doc?.store;
    return store === undefined || (store.pendingStructs === null && store.pendingDs === null);
  }

  /** The whole document as one update, encoded once for all who ask until it changes. */
  encoded(): Uint8Array {
    if (this.#state !== null && this.#tail.length === 0) return this.#state;
    const state = Y.encodeStateAsUpdate(this.doc);
    this.#state = state;
    this.#frame = null;
    this.#tail = [];
    this.#bytes = state.length;
    return state;
  }

  /** Frames that give a newcomer the document: an encoded state, and what was edited since. */
  framesForNewcomer(): Buffer[] {
    const state = this.#state ?? this.encoded();
    // Where more has been edited than there was, folding it pays with the first who comes.
    if (this.#bytes > 2 * state.length && this.#bytes > state.length + FOLD_BYTES) this.encoded();
    this.#frame ??= step2Frame(this.#state ?? state);
    if (this.#tail.length === 0) return [this.#frame];
    const tail = this.#tail.length === 1 ? this.#tail[0]! : Y.mergeUpdates(this.#tail);
    this.#tail = [tail];
    return [this.#frame, updateFrame(tail)];
  }

  /** What the document holds beyond a state vector. @throws Error when the vector does not decode */
  beyond(vector: Uint8Array): Uint8Array {
    return Y.encodeStateAsUpdate(this.doc, vector);
  }

  /** The document's state vector, encoded. */
  vector(): Uint8Array {
    // Without clocks the document was put aside, and the vector made then.
    this.#vector ??= Y.encodeStateVector(this.#clocks ?? new Map<number, number>());
    return this.#vector;
  }

  /** Keeps the encoded document alone until somebody needs more. */
  putAside(): void {
    this.#frame = null;
    if (this.#doc === null || !this.#hasNothingWaiting) return;
    this.encoded();
    this.vector();
    this.#doc.destroy();
    this.#doc = null;
    this.#clocks = null;
  }

  /** Lets go of the Y.Doc. */
  destroy(): void {
    this.#doc?.destroy();
  }
}
