/** The only part of the engine that knows Yjs, and what browser and server say to each other. */
export { IDENTITY_ROOT, isAdmitted, type RootRule, ruleOf } from './admission.ts';
export { carryOver } from './carry-over.ts';
export type { Command, CommandError, CommandResult } from './command.ts';
export { compactDesign, putWholeBoard } from './compact.ts';
export {
  type Applied,
  applyChanges,
  bringBack,
  type Change,
  type Conflict,
  changeKey,
  compareDesigns,
  type Extent,
  isShown,
  type KeyedDesign,
  type Merge,
  mergeDesigns,
  neededBy,
  readKeyed,
  readKeyedUpdate,
} from './compare/index.ts';
export { BareDesign, type DesignListener, type UndoNews } from './design.ts';
export { Design } from './full-design.ts';
export { hidesOthers, isBase } from './hidden-by.ts';
export {
  changesOf,
  type Edit,
  encodeEdit,
  foldEdits,
  type Held,
  heldBy,
  isListRoot,
  type KeyChange,
  readEdit,
  UNDO_KIT,
  writerOf,
} from './journal/index.ts';
export {
  dropDrawings,
  isSaidBy,
  keepDrawing,
  type LearnerEntry,
  type LearnerSays,
  type Lesson,
  type LessonNews,
  type LessonPlace,
  type LessonSaying,
  MAX_STOP_CHARACTERS,
  MAX_STROKE_NUMBERS,
  MAX_TOLD_CHARACTERS,
  placeText,
  readLesson,
  readNews,
  readPlace,
  readSaying,
  removeStop,
  type Stop,
  type Told,
  takeLead,
  writePlan,
  writeStop,
  writeTeachersPlace,
} from './lesson/index.ts';
export type { OwnStep, StepKeeper } from './maker-steps.ts';
export {
  isBack,
  type Lost,
  LOST_KINDS,
  type LostPlace,
  type OthersEdit,
  OwnWork,
  placeOfLost,
  presentValue,
  putBack,
  watchEdits,
} from './notices/index.ts';
export { applyCommand, becomeCommand } from './prepare-apply.ts';
export { LATER_COMMANDS } from './later-commands.ts';
export { loadBoard } from './prepare-load.ts';
export { setPart, setThread } from './prepare-supplies.ts';
export type { KnotAddress, Opened, Presence, RowAddress, Seat, StringAddress } from './presence.ts';
export type { PlainProblemKind, ValuedProblem } from './problem-kinds.ts';
export { type DesignSnapshot, readDesign } from './read-design.ts';
export { readPerson, readPresence } from './read-presence.ts';
export {
  canManage,
  canPropose,
  canRead,
  canWrite,
  isWrittenBySockets,
  quotaOf,
  ROLES,
  type Role,
  readRole,
  roleOnBranch,
} from './roles.ts';
export { DOCUMENT_VERSION, type IdSource, type Roots, readScope, rootsOf } from './schema.ts';
export {
  addressOfEntry,
  COST_VALUES,
  copyTalk,
  type EntryPlace,
  MAX_REMARK_CHARACTERS,
  type Pin,
  type PinPlace,
  placeOfPin,
  type Remark,
  readTalk,
  readTalkSend,
  remarkIdOf,
  type Speaker,
  Talk,
  type TalkCommand,
  type TalkError,
  type TalkSend,
  type TalkSnapshot,
  type Thread,
} from './talk/index.ts';
export { wellFormed } from './text.ts';
export {
  designText,
  type TextListener,
  mergeTexts,
  type TextPlace,
  type TextRefusal,
  type TextSource,
} from './texts/index.ts';
export {
  BOARD_PARTS,
  type BoardPart,
  CLOSE_CODES,
  type CloseReason,
  DOCUMENT_PARTS,
  FOLLOWS_RENEWALS,
  HEARS_PROPOSALS,
  LESSON_PART,
  LIMITS,
  MESSAGE_AUTH,
  MESSAGE_COPY_PIECE,
  MESSAGE_LESSON,
  MESSAGE_NOTICE,
  MESSAGE_PRESENCE,
  MESSAGE_PROPOSALS,
  MESSAGE_QUERY_PRESENCE,
  MESSAGE_RENEWED,
  MESSAGE_SAVED_MARK,
  MESSAGE_SYNC,
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
  encodeFollowed,
  encodeLessonText,
  encodeNotice,
  encodePieceWanted,
  encodeProposalsNews,
  encodeRenewed,
  encodeSavedMark,
  readCopyPiece,
  readLessonText,
  readNotice,
  readPieceWanted,
  readRenewed,
  readSavedMark,
} from './wire-codec.ts';
export { takeBackVisit, type WouldBe, wouldTakeBack } from './take-back-visit.ts';
export { writeBoard } from './write-board.ts';
