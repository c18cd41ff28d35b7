/**
 * Undo and redo of one maker's transactions.
 *
 * Yjs takes back a written key by writing what stood there before, but not when somebody else wrote the key at the same
 * time and lost: then it only deletes, and the key is gone, whatever it held before either wrote. So what stood under a
 * key before this maker wrote it is remembered here, and comes back in that case too. Rules D80 to D86.
 */
import * as Y from 'yjs';
import type { Write } from './writes.ts';

/** What a key held before the item was written, and the step in which it was. */
interface Overwritten {
  readonly value: unknown;
  readonly step: unknown;
}

/** How a colour looks stays when its maker takes it back: others may have given it to strings. */
const LOOKS = /:(name|hex)$/;

/** Takes back, and does again, what one origin wrote to some types; see above for what that is. */
export class MakerUndo {
  readonly #manager: Y.UndoManager;
  readonly #overwritten = new WeakMap<Y.Item, Overwritten>();
  readonly #captureMs: number;
  #openSteps = 0;

  /** Tracks transactions of the origin on these types. */
  constructor(types: readonly Y.AbstractType<unknown>[], origin: object, captureMs: number) {
    this.#captureMs = captureMs;
    this.#manager = new Y.UndoManager([...types], {
      captureTimeout: captureMs,
      trackedOrigins: new Set([origin]),
      deleteFilter: (item) => this.#mayDelete(item),
    });
  }

  /** Whether the transaction was an undo or redo of this maker. */
  isOrigin(origin: unknown): boolean {
    return origin === this.#manager;
  }

  get canUndo(): boolean {
    return this.#manager.canUndo();
  }
  get canRedo(): boolean {
    return this.#manager.canRedo();
  }
  get isStepOpen(): boolean {
    return this.#openSteps > 0;
  }

  /** Applies writes and remembers what they overwrite. `apply` runs them in one transaction of the tracked origin. */
  track(writes: readonly Write[], apply: () => void): void {
    const before = new Map<Y.Map<unknown>, Map<string, { value: unknown; item: Y.Item | undefined }>>();
    for (const write of writes) {
      if (write.do !== 'set') continue;
      const keys = before.get(write.map) ?? new Map();
      before.set(write.map, keys);
      keys.set(write.key, { value: write.map.get(write.key), item: write.map._map.get(write.key) });
    }
    apply();
    const step = this.#manager.undoStack.at(-1);
    for (const [map, keys] of before)
      for (const [key, { value, item }] of keys) {
        const written = map._map.get(key);
        const earlier = item === undefined ? undefined : this.#overwritten.get(item);
        const isSameStep = earlier !== undefined && earlier.step === step;
        // Shared types and documents cannot be written a second time.
        const isPlain = !(value instanceof Y.AbstractType || value instanceof Y.Doc);
        if (written !== undefined)
          this.#overwritten.set(written, {
            step,
            value: isSameStep ? earlier.value : isPlain ? value : undefined,
          });
      }
  }

  /** Takes back the last step that still can be. */
  undo(): boolean {
    return this.#ending(() => this.#manager.undo() !== null);
  }

  redo(): boolean {
    return this.#ending(() => this.#manager.redo() !== null);
  }

  /** The next transaction begins a new step. */
  stop(): void {
    this.#manager.stopCapturing();
  }

  /** All transactions until the returned function is called are one step. May nest; the outermost counts. */
  open(): () => void {
    if (this.#openSteps++ === 0) {
      this.stop();
      this.#manager.captureTimeout = Number.POSITIVE_INFINITY;
    }
    let isOpen = true;
    return () => {
      if (!isOpen) return;
      isOpen = false;
      if (--this.#openSteps > 0) return;
      this.#manager.captureTimeout = this.#captureMs;
      this.stop();
    };
  }

  dispose(): void {
    this.#manager.destroy();
  }

  #ending(act: () => boolean): boolean {
    const done = act();
    this.stop();
    return done;
  }

  /** Asked by Yjs within its undo transaction, after it has written back what it can. */
  #mayDelete(item: Y.Item): boolean {
    const key = item.parentSub;
    const map = item.parent;
    if (key === null || !(map instanceof Y.Map) || map._map.get(key) !== item) return true;
    const overwritten = this.#overwrittenBy(item);
    // Not ours, or what we wrote back ourselves: somebody else wrote here meanwhile, so it stays.
    if (overwritten === null) return false;
    if (overwritten.value === undefined) return key !== 'generation' && !LOOKS.test(key);
    map.set(key, overwritten.value);
    return true;
  }

  /** Follows an item back through its redone copies to the one that a command wrote. */
  #overwrittenBy(item: Y.Item): Overwritten | null {
    let written = item;
    for (;;) {
      const overwritten = this.#overwritten.get(written);
      if (overwritten !== undefined) return overwritten;
      let origin = written.left;
      while (origin !== null && !isRedoneAs(origin, written)) origin = origin.left;
      if (origin === null) return null;
      written = origin;
    }
  }
}

function isRedoneAs(origin: Y.Item, copy: Y.Item): boolean {
  return origin.redone !== null && Y.compareIDs(origin.redone, copy.id);
}
