/** What is to be answered to an update from a socket, as far as that is known from its check. */
import type { UpdateCheck } from './check-update.ts';
import type { SyncLimits } from './limits.ts';
import type { Placing } from './placing.ts';
import type { ReceiveResult, RoomMember } from './room-member.ts';

export type FittingUpdate = UpdateCheck & { readonly kind: 'fits' };

export function isFitting(judged: FittingUpdate | ReceiveResult): judged is FittingUpdate {
  return typeof judged === 'object' && 'kind' in judged && judged.kind === 'fits';
}

/** @returns the check of an update that may be taken; else why it is not, or need not be */
export function judgeUpdate(
  check: UpdateCheck,
  member: RoomMember,
  isComplete: boolean,
  { limits, isStoreFailing }: { readonly limits: SyncLimits; readonly isStoreFailing: boolean },
): FittingUpdate | ReceiveResult {
  switch (check.kind) {
    case 'empty':
      return 'taken';
    case 'former':
      return check;
    case 'malformed':
    case 'foreign':
    case 'alien':
      return { reason: 'malformed', message: check.message };
    case 'unmet':
      return isStoreFailing ? 'store-failing' : 'unmet';
    case 'fits':
      return isStoreFailing
        ? 'store-failing'
        : (refusalOfClients(check.placing, member, isComplete, limits) ?? check);
  }
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
