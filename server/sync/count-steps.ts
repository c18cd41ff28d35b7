/**
 * Counts the steps that Yjs takes to place the structs of a document, by placing them: see `placing.ts`, whose estimate is never
 * less. For a thread of its own.
 */
import * as Y from 'yjs';
import { COPIED_PER_STEP, STEPS_PER_CLIENT } from './placing.ts';

/** What is counted. */
export interface StepCount {
  /** Beyond one a struct. */
  readonly steps: number;
  readonly structs: number;
}

/** Steps that building a document of so many structs may take, beyond one a struct. */
export function mostSteps(most: number, structs: number): number {
  return most + structs;
}

class TooMany extends Error {}

/**
 * Places updates one after the other in an empty document.
 * @param most steps, for a document of so many structs
 * @returns null when it takes more
 * @throws as Yjs does
 */
export function countSteps(
  updates: readonly Uint8Array[],
  most: (structs: number) => number,
): StepCount | null {
  let steps = 0;
  let structs = 0;
  const { integrate } = Y.Item.prototype;
  const { splice, mergeWith } = Y.ContentAny.prototype;
  const count = (more: number): void => {
    steps += more;
    if (steps > most(structs)) throw new TooMany();
  };
  Y.Item.prototype.integrate = function (transaction, offset) {
    structs += 1;
    count(offset > 0 ? 0 : Math.max(0, scanned(this, transaction.doc.store) - 1));
    integrate.call(this, transaction, offset);
  };
  Y.ContentAny.prototype.splice = function (offset) {
    count(Math.floor(this.arr.length / COPIED_PER_STEP));
    return splice.call(this, offset);
  };
  Y.ContentAny.prototype.mergeWith = function (right) {
    count(Math.floor((this.arr.length + (right as Y.ContentAny).arr.length) / COPIED_PER_STEP));
    return mergeWith.call(this, right);
  };
  const doc = new Y.Doc();
  try {
    for (const update of updates) Y.applyUpdate(doc, update);
    count(doc.store.clients.size * STEPS_PER_CLIENT);
    return { steps, structs };
  } catch (cause) {
    if (cause instanceof TooMany) return null;
    throw cause;
  } finally {
    Object.assign(Y.Item.prototype, { integrate });
    Object.assign(Y.ContentAny.prototype, { splice, mergeWith });
    doc.destroy();
  }
}

/**
 * Items that placing one goes past, as Item.integrate of Yjs 13.6 does, and on the way to the first value of a key.
 * @param item as it is before it is placed
 */
function scanned(item: Y.Item, store: Y.Doc['store']): number {
  const { left, right, parent, parentSub } = item;
  if (!(parent instanceof Y.AbstractType)) return 0;
  const isInPlace = left === null ? right !== null && right.left === null : left.right === right;
  if (isInPlace) return 0;
  let passed = 0;
  let other = left === null ? parent._start : left.right;
  if (left === null && parentSub !== null) {
    other = parent._map.get(parentSub) ?? null;
    for (; other !== null && other.left !== null; other = other.left) passed += 1;
  }
  const before = new Set<unknown>();
  for (; other !== null && other !== right; other = other.right) {
    passed += 1;
    before.add(other);
    if (Y.compareIDs(item.origin, other.origin)) {
      if (other.id.client >= item.id.client && Y.compareIDs(item.rightOrigin, other.rightOrigin)) break;
    } else if (other.origin === null || !before.has(Y.getItem(store, other.origin))) break;
  }
  return passed;
}
