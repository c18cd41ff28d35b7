/**
 * What is worked out of copies of other generations: whole documents are read for it, so it is done in the thread for large
 * work. The bytes come from outside and pass the same checks as all others.
 */
import { randomBytes } from 'node:crypto';
import { inflateRawSync } from 'node:zlib';
import * as Y from 'yjs';
import { partOf } from '../../../engine/document/index.ts';
import type { Job } from '../../work/index.ts';
import { packLastState } from './beginning.ts';
import { bringOver } from './bring-over.ts';
import { COMPACT } from './compact-job.ts';
import { checkCopy, checkState, checkUpdate, type UpdateCheck } from '../check-update.ts';
import { countSteps, mostSteps } from '../count-steps.ts';
import { type Identity, isSameGeneration } from '../identity.ts';
import { Reach } from '../reach.ts';
import { isCostly } from '../trials.ts';

/** Why a copy may not be taken from anybody. */
export interface CopyRefusal {
  readonly message: string;
  /** Whether it takes Yjs too many steps. */
  readonly isTooMuch: boolean;
}

const TOO_MUCH: CopyRefusal = { message: 'the copy takes too many steps', isTooMuch: true };

export interface BringInput {
  /** The last state of the ended generation, packed. */
  readonly lastState: Uint8Array;
  readonly identity: Identity;
  /** What the copy holds beyond that state, or all of it. */
  readonly copy: Uint8Array;
  /** The present document. */
  readonly present: readonly Uint8Array[];
  /** See `SyncLimits.steps`. */
  readonly steps: number;
}

export type BringOutput =
  /** The copy is not what may be taken from anybody. */
  | ({ readonly kind: 'refused' } & CopyRefusal)
  /** The copy builds on something that the last state does not hold. */
  | { readonly kind: 'misfit'; readonly message: string }
  /** The last state cannot be read. */
  | { readonly kind: 'damaged'; readonly message: string }
  | {
      readonly kind: 'brought';
      /** What to add to the present document; null when that holds it all. */
      readonly update: Uint8Array | null;
      /** The last state with what the copy held, packed, and the bytes of it unpacked. */
      readonly lastState: Uint8Array;
      readonly lastStateBytes: number;
      readonly commands: number;
      readonly refused: readonly string[];
      /** The whole copy, where some of it has no place in the present document. */
      readonly leftOver: Uint8Array | null;
    };

/** Whether what passes the checks still takes Yjs too many steps. */
function isTooMuch(reach: Reach, check: UpdateCheck & { kind: 'fits' }, updates: Uint8Array[], most: number) {
  return (
    isCostly(reach, check.placing, most) &&
    countSteps(updates, (structs) => mostSteps(most, structs)) === null
  );
}

/** Whether an update holds nothing but deletions that a document, as it is encoded, has too. */
function isHeldBy(state: Uint8Array, update: Uint8Array): boolean {
  let decoded: ReturnType<typeof Y.decodeUpdate>;
  try {
    decoded = Y.decodeUpdate(update);
  } catch {
    // What does not decode is told so by the check.
    return false;
  }
  if (decoded.structs.length > 0) return false;
  const held = Y.decodeUpdate(state).ds.clients;
  for (const [client, deletions] of decoded.ds.clients) {
    const known = held.get(client) ?? [];
    let at = 0;
    // In the state they come one after the other; in an update that does not keep to it they are found to be more.
    for (const { clock, len } of deletions) {
      while (at < known.length && known[at]!.clock + known[at]!.len <= clock) at += 1;
      const one = known[at];
      if (one === undefined || one.clock > clock || one.clock + one.len < clock + len) return false;
    }
  }
  return true;
}

/** @throws Error when the present document cannot be read */
function bring({ lastState, identity, copy, present, steps }: BringInput): BringOutput {
  const kept = inflateRawSync(lastState);
  // Most who come late have nothing unsaved, and documents need not be built for them.
  if (isHeldBy(kept, copy)) {
    const nothing = { update: null, commands: 0, refused: [], leftOver: null };
    return { kind: 'brought', lastState, lastStateBytes: kept.length, ...nothing };
  }
  const { identity: named, check: whole } = checkState(kept, identity.name);
  if (whole.kind !== 'fits' || !isSameGeneration(named, identity))
    return {
      kind: 'damaged',
      message: whole.kind === 'fits' ? 'it is another generation' : `it is ${whole.kind}`,
    };
  const reach = new Reach();
  reach.note(whole);
  const check = checkUpdate(reach, identity, copy);
  if (check.kind === 'malformed' || check.kind === 'alien')
    return { kind: 'refused', message: check.message, isTooMuch: false };
  if (check.kind !== 'fits' && check.kind !== 'empty')
    return { kind: 'misfit', message: 'message' in check ? check.message : 'it names another generation' };
  if (check.kind === 'fits' && isTooMuch(reach, check, [kept, copy], steps))
    return { kind: 'refused', ...TOO_MUCH };
  const [base, mine, into] = [new Y.Doc(), new Y.Doc(), new Y.Doc()];
  try {
    for (const doc of [base, mine]) Y.applyUpdate(doc, kept);
    Y.applyUpdate(mine, copy);
    // Structs that wait for each other in a circle pass the check. In the last state they would be kept for ever.
    if (mine.store.pendingStructs !== null || mine.store.pendingDs !== null)
      return { kind: 'refused', message: 'structs build on each other in a circle', isTooMuch: false };
    for (const update of present) Y.applyUpdate(into, update);
    const updates: Uint8Array[] = [];
    into.on('update', (update: Uint8Array) => updates.push(update));
    const { commands, refused } = bringOver(base, mine, into, () => randomBytes(9).toString('base64url'));
    const state = Y.encodeStateAsUpdate(mine);
    return {
      kind: 'brought',
      update: updates.length === 0 ? null : Y.mergeUpdates(updates),
      lastState: updates.length === 0 ? lastState : packLastState(state),
      lastStateBytes: state.length,
      commands,
      refused,
      leftOver: refused.length === 0 ? null : state,
    };
  } finally {
    for (const doc of [base, mine, into]) doc.destroy();
  }
}

export interface LooseInput {
  /** All of a copy. */
  readonly copy: Uint8Array;
  /** Name of the document. */
  readonly name: string;
  readonly steps: number;
}

/** @returns why a copy of a generation that is not kept is not what may be taken from anybody; null when it may */
function judgeLoose({ copy, name, steps }: LooseInput): CopyRefusal | null {
  const check = checkCopy(copy, partOf(name));
  if (check.kind !== 'fits') return { message: check.message, isTooMuch: false };
  return isTooMuch(new Reach(), check, [copy], steps) ? TOO_MUCH : null;
}

export const BRING: Job<BringInput, BringOutput> = { name: 'bring-over', run: bring };
export const JUDGE_LOOSE: Job<LooseInput, CopyRefusal | null> = { name: 'judge-loose-copy', run: judgeLoose };
/** The state vector of a packed last state. */
export const LAST_STATE_VECTOR: Job<Uint8Array, Uint8Array> = {
  name: 'last-state-vector',
  run: (lastState) => Y.encodeStateVectorFromUpdate(inflateRawSync(lastState)),
};

/** What the thread for large work does for generations and copies of them. */
export const COPY_JOBS = [BRING, COMPACT, JUDGE_LOOSE, LAST_STATE_VECTOR];
