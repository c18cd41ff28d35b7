/** What is to be answered to an update from a socket, as far as that is known from its check. */
import type { UpdateCheck } from './check-update.ts';
import type { Deletions } from './freed-bytes.ts';
import type { SyncLimits } from './limits.ts';
import type { Placing } from './placing.ts';
import type { ReceiveResult, Refusal, RoomMember } from './room-member.ts';
import type { UnsavedShare } from './unsaved.ts';

export type FittingUpdate = UpdateCheck & { readonly kind: 'fits' };

const NONE: Deletions = new Map();

export function isFitting(judged: FittingUpdate | ReceiveResult): judged is FittingUpdate {
  return typeof judged === 'object' && 'kind' in judged && judged.kind === 'fits';
}

/** What a room knows of itself. */
export interface JudgingRoom {
  /** Whether nothing is taken now, because it could not be stored or the next generation begins. */
  readonly takesNothing: boolean;
  readonly unsaved: Pick<UnsavedShare, 'mayTake'>;
  /** Whether the document may grow by so many bytes, less what goes with these deletions, to so many times its limit. */
  hasRoomFor(bytes: number, times: number, deletions: Deletions): boolean;
}

export interface ArrivingUpdate {
  readonly check: UpdateCheck;
  readonly bytes: number;
  /** Whether it answers a step 1. */
  readonly isComplete: boolean;
}

/** @returns the check of an update that may be taken; else why it is not, or need not be */
export function judgeUpdate(
  update: ArrivingUpdate,
  member: RoomMember,
  limits: SyncLimits,
  room: JudgingRoom,
): FittingUpdate | ReceiveResult {
  const { check, bytes, isComplete } = update;
  switch (check.kind) {
    case 'empty':
      return 'taken';
    case 'other-generation':
      return check;
    case 'malformed':
    case 'foreign':
    case 'alien':
      return { reason: 'malformed', message: check.message };
    case 'unmet':
      return room.takesNothing ? 'store-failing' : 'unmet';
    case 'fits': {
      if (room.takesNothing) return 'store-failing';
      const refusal = refusalOfClients(check.placing, member, isComplete, limits);
      if (refusal !== null) return refusal;
      if (!room.unsaved.mayTake(bytes)) return 'store-failing';
      return refusalOfSize(check, bytes, member, limits, room) ?? check;
    }
  }
}

/**
 * What only deletes is always taken: in the end it makes room. The document is worked out for it where much of it has gathered. Else what
 * it deletes makes room for what it brings: the copy of whoever was turned away holds that still, and sends it along.
 */
function refusalOfSize(
  check: FittingUpdate,
  bytes: number,
  { quota }: RoomMember,
  limits: SyncLimits,
  room: JudgingRoom,
): Refusal | null {
  const isDeleting = check.ends.size === 0;
  const times = isDeleting ? 2 : quota;
  if (room.hasRoomFor(bytes, times, isDeleting ? NONE : check.deletions) || isDeleting) return null;
  return { reason: 'boardFull', message: `a document has at most ${limits.documentBytes} bytes` };
}

/**
 * A page draws a client id for each visit, so edits of a page hold one that is new, or those of other tabs too; the answer to a
 * step 1 after long work without a line holds one for each visit since. Every id stays in the document, and in the state vector
 * of everybody who joins.
 */
function refusalOfClients(
  { clients }: Placing,
  member: RoomMember,
  isComplete: boolean,
  limits: SyncLimits,
): ReceiveResult | null {
  if (clients === 0) return null;
  const brought = member.newClients + clients;
  // An honest page holds them all, and sends them when asked for everything.
  if (!isComplete && brought > limits.newClients) return 'unmet';
  if (brought > limits.newClientsInCopy)
    return { reason: 'tooLarge', message: `brings more than ${limits.newClientsInCopy} client ids` };
  return null;
}
