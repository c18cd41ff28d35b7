/** The only part of the engine that knows Yjs, and what browser and server say to each other. */
export {
  ADMISSION,
  IDENTITY_ROOT,
  isAdmitted,
  type RootRule,
  ruleOf,
  type ValueRule,
} from './admission.ts';
export type {
  Command,
  CommandError,
  CommandErrorKind,
  CommandKind,
  CommandResult,
  GaugePatch,
  PiecePatch,
} from './command.ts';
export { compactDesign } from './compact.ts';
export {
  type Applied,
  applyChanges,
  type BroughtBack,
  bringBack,
  type Change,
  type ColourwayHead,
  type Conflict,
  changeKey,
  compareDesigns,
  type Ends,
  type Extent,
  isShown,
  type KeyedDesign,
  type Merge,
  mergeDesigns,
  neededBy,
  type PieceField,
  readKeyed,
  readKeyedUpdate,
  type Shade,
} from './compare/index.ts';
export { Design, type DesignListener, type DesignOptions, MakerOrigin } from './design.ts';
export { type Migration, type MigrationResult, migrateDesign } from './migrate.ts';
export { applyCommand, becomeCommand } from './prepare-apply.ts';
export type { KnotAddress, Presence, RowAddress, StringAddress } from './presence.ts';
export {
  type PlainProblemKind,
  PROBLEM_KINDS,
  type ProblemKind,
  type ValuedProblem,
} from './problem-kinds.ts';
export { type DesignChange, type DesignSnapshot, readDesign } from './read-design.ts';
export { readPresence } from './read-presence.ts';
export { REPAIR_KINDS, type Repair, type RepairKind } from './repair.ts';
export {
  canManage,
  canPropose,
  canWrite,
  isServerWritten,
  type Right,
  ROLES,
  type Role,
  readRole,
  rightOf,
  roleOnBranch,
} from './roles.ts';
export { DOCUMENT_VERSION, type IdSource } from './schema.ts';
export {
  addressOfEntry,
  copyTalk,
  type EntryAddress,
  type EntryPlace,
  MAX_MENTIONS,
  MAX_REMARK_CHARACTERS,
  PANEL_ENTRIES,
  type Pin,
  type PinPlace,
  placeOfEntry,
  placeOfPin,
  type Remark,
  readPin,
  readTalk,
  readTalkSend,
  remarkIdOf,
  type SendError,
  type SendResult,
  type Speaker,
  Talk,
  type TalkCommand,
  type TalkError,
  type TalkOptions,
  type TalkResult,
  type TalkSend,
  type TalkSnapshot,
  type Thread,
} from './talk/index.ts';
export type { DocumentState } from './version.ts';
export {
  BOARD_PARTS,
  type BoardPart,
  CLOSE_CODES,
  type CloseReason,
  LIMITS,
  MESSAGE_AUTH,
  MESSAGE_COPY_PIECE,
  MESSAGE_NOTICE,
  MESSAGE_PRESENCE,
  MESSAGE_QUERY_PRESENCE,
  MESSAGE_SAVED_MARK,
  MESSAGE_SYNC,
  NOTICE_CODES,
  type NoticeCode,
  partOf,
  roomName,
  SYNC_PATH,
  SYNC_STEP_1,
  SYNC_STEP_2,
  SYNC_UPDATE,
} from './wire.ts';
export {
  type CopyPiece,
  encodeCopyPiece,
  encodeNotice,
  encodePieceWanted,
  encodeSavedMark,
  readCopyPiece,
  readNotice,
  readPieceWanted,
  readSavedMark,
} from './wire-codec.ts';
export { writeBoard } from './write-board.ts';
