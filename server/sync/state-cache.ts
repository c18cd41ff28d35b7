/**
 * The encoded state of a document for those who join, made once for all of them. What is edited afterwards gathers behind it, so
 * that joining a busy room does not encode it each time.
 */
import * as Y from 'yjs';
import { step2Frame, updateFrame } from './frames.ts';

/** Updates behind the encoded state after which it is made anew. */
const TAIL_UPDATES = 200;

export class StateCache {
  #state: Uint8Array | null = null;
  #frame: Buffer | null = null;
  #tail: Uint8Array[] = [];

  /** The last encoded state; null when there is none or something was edited since. */
  get current(): Uint8Array | null {
    return this.#tail.length === 0 ? this.#state : null;
  }

  /** Notes an edit. */
  add(update: Uint8Array): void {
    if (this.#state === null) return;
    this.#tail.push(update);
    if (this.#tail.length > TAIL_UPDATES) this.#set(null);
  }

  /** The whole document as it is. */
  stateOf(doc: () => Y.Doc): Uint8Array {
    const { current } = this;
    if (current !== null) return current;
    const state = Y.encodeStateAsUpdate(doc());
    this.#set(state);
    return state;
  }

  /** Frames that give a newcomer the document: an encoded state, and what was edited since. */
  framesFor(doc: () => Y.Doc): Buffer[] {
    const state = this.#state ?? this.stateOf(doc);
    this.#frame ??= step2Frame(state);
    if (this.#tail.length === 0) return [this.#frame];
    const tail = this.#tail.length === 1 ? this.#tail[0]! : Y.mergeUpdates(this.#tail);
    this.#tail = [tail];
    return [this.#frame, updateFrame(tail)];
  }

  #set(state: Uint8Array | null): void {
    this.#state = state;
    this.#frame = null;
    this.#tail = [];
  }
}
