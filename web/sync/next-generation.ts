/**
 * What the server hands over when it begins the next generation of a board, with what is in hand here put on it. Fetched when that happens for
 * the first time: what the server says meanwhile waits, what is edited meanwhile goes on in the former document.
 */
import * as Y from 'yjs';
import { carryOver, type DesignSnapshot, IDENTITY_ROOT, readDesign } from '../../engine/document/index.ts';
import { newId } from './person.ts';

/** What has come of the next generation. */
interface Arriving {
  /** With what it begins. */
  readonly state: Uint8Array;
  /** What was edited in it since, in order. */
  readonly later: readonly Uint8Array[];
}

export interface NextGeneration {
  readonly doc: Y.Doc;
  readonly generation: string;
  readonly updates: readonly Uint8Array[];
  /** What it began with; null where nothing was in hand. */
  readonly began: DesignSnapshot | null;
}

/**
 * @param former holds all that the ended generation held, and what is in hand
 * @param isInHand whether it may hold more than that
 * @param origin of what comes from the server
 * @returns the document, its generation as copies are named by it, and the updates that the server has not got; null when what is in hand
 *   cannot be put on it
 * O(document). Rule W1040.
 */
export function nextGeneration(
  former: Y.Doc,
  { state, later }: Arriving,
  isInHand: boolean,
  origin: unknown,
): NextGeneration | null {
  const doc = new Y.Doc();
  // Presence goes by it, and who did what. Nothing is written under it in the next generation yet.
  doc.clientID = former.clientID;
  Y.applyUpdate(doc, state, origin);
  const updates: Uint8Array[] = [];
  const gather = (update: Uint8Array): unknown => updates.push(update);
  doc.on('update', gather);
  const began = isInHand ? readDesign(doc) : null;
  if (isInHand && !carryOver(former, doc, newId)) {
    doc.destroy();
    return null;
  }
  doc.off('update', gather);
  for (const update of later) Y.applyUpdate(doc, update, origin);
  // `<room>~<number>~<drawn name>`.
  const text = String(doc.getMap(IDENTITY_ROOT).get('name'));
  return { doc, generation: text.slice(text.indexOf('~') + 1), updates, began };
}
