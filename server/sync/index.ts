export { checkCopy, checkState, checkUpdate, type UpdateCheck } from './check-update.ts';
export { DEFAULT_SYNC_LIMITS, type SyncLimits } from './limits.ts';
export { type DocumentLog, readRows } from './log-rows.ts';
export { Rate } from './rate.ts';
export { Reach } from './reach.ts';
export { Room } from './room.ts';
export type { RoomWatch } from './room-member.ts';
export { type RoomHold, Rooms, TooManyRooms } from './rooms.ts';
export { isOriginAllowed, SyncUpgrade } from './upgrade.ts';
