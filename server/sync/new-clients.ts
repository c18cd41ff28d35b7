/**
 * Client ids that a socket brings into a document. A page draws one for each visit, so edits of a page hold one that is new, or
 * those of other tabs too; the answer to a step 1 after long work without a line holds one for each visit since. Every id stays in the
 * document, and in the state vector of everybody who joins.
 */
import type { SyncLimits } from './limits.ts';
import type { Placing } from './placing.ts';
import type { ReceiveResult, RoomMember } from './room-member.ts';

/** Whether a socket may bring the ids of an update that fits; if not, what to answer. */
export function refusalOfClients(
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
