/** A room without sockets and rooms around it. */
import { FewAtATime } from '../../server/few-at-a-time.ts';
import { Log, Metrics } from '../../server/index.ts';
import type { Relay } from '../../server/relay/index.ts';
import { MemoryRelayHub } from '../../server/relay/memory-relay.ts';
import type { DocumentAddress, Store } from '../../server/store/index.ts';
import { DEFAULT_SYNC_LIMITS, type SyncLimits } from '../../server/sync/limits.ts';
import { RecentLogs } from '../../server/sync/recent-logs.ts';
import { Room } from '../../server/sync/room.ts';
import type { RoomMember } from '../../server/sync/room-member.ts';
import type { Trials } from '../../server/sync/trials.ts';
import { UnsavedBytes } from '../../server/sync/unsaved.ts';
import { ByteBudget, Work } from '../../server/work/index.ts';
import type { HandClock } from '../support/hand-clock.ts';

export const KITES: DocumentAddress = { board: 'kites', part: 'design' };

/** Somebody who may write and owns nothing. */
export const MEMBER = {
  openedAt: 0,
  newClients: 0,
  canWrite: true,
  quota: 1,
  personId: null,
  begin: () => {},
  wrote: () => {},
} as unknown as RoomMember;

/** Nothing is costly. */
const NO_TRIALS = {
  try: () => Promise.reject(new Error('nothing was to be tried')),
} as unknown as Trials;

export interface BareRoomOptions {
  readonly trials?: Trials;
  readonly relay?: Relay;
  readonly limits?: SyncLimits;
}

/** The design of the board `kites`, opened from that store; by default among nodes. */
export async function openBareRoom(
  store: Store,
  clock: HandClock,
  options: BareRoomOptions = {},
): Promise<Room> {
  const limits = options.limits ?? DEFAULT_SYNC_LIMITS;
  const room = new Room('kites/design', KITES, {
    store,
    relay: options.relay ?? new MemoryRelayHub().node(),
    log: new Log(() => {}, clock.now, 'error'),
    metrics: new Metrics(),
    limits,
    clock,
    rereading: new FewAtATime(4),
    unsaved: new UnsavedBytes(limits.unsavedBytesInAll),
    recent: new RecentLogs(),
    trials: options.trials ?? NO_TRIALS,
    work: new Work(null, clock),
    copyBytes: new ByteBudget(limits.copyBytesInAll),
    readAnew: () => {},
    onPresence: () => {},
    onBroken: () => {},
  });
  await room.open();
  return room;
}
