export type { KnotAddress, Presence } from './presence.ts';
export { canManage, canWrite, type Right, ROLES, type Role, readRole, rightOf } from './roles.ts';
export {
  BOARD_PARTS,
  type BoardPart,
  CLOSE_CODES,
  type CloseReason,
  LIMITS,
  MESSAGE_AUTH,
  MESSAGE_NOTICE,
  MESSAGE_PRESENCE,
  MESSAGE_QUERY_PRESENCE,
  MESSAGE_SAVED_MARK,
  MESSAGE_SYNC,
  type NoticeCode,
  roomName,
  SYNC_PATH,
} from './wire.ts';
