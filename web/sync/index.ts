export { answerAhead, forgetAhead } from './ahead.ts';
export {
  ApiError,
  ask,
  type BoardSummary,
  createBoard,
  fetchBoard,
  fetchBoardFile,
  fetchDemos,
  post,
  request,
} from './api.ts';
export { BoardLine, type SavedState } from './board-line.ts';
export { BoardSession } from './board-session.ts';
export { emptyCopy, loadCopy, putAside } from './copies.ts';
export { countKeychains, forgetKeychains, KEYCHAIN_BOARD, keychainKeys } from './kept-keychains.ts';
export { isInLesson, keepInLesson, onLesson } from './lesson-here.ts';
export { LessonSession, type OwnNews } from './lesson-session.ts';
export {
  addressOfLink,
  endLinkAt,
  enterBoard,
  fetchLinks,
  fetchOwnBoards,
  fetchStanding,
  type Link,
  makeLink,
  rememberedRole,
  rememberRole,
  type Standing,
  secretIn,
  takeBackLink,
} from './links.ts';
export { dropCopies, type LeftCopy, looksAlike, readCopy, readLeftCopies, withCopy } from './local-copy.ts';
export type { PersonHere, PersonLeft } from './people-here.ts';
export {
  keepLook,
  keepPersonId,
  newId,
  onPersonChange,
  type Person,
  readPerson,
  renamePerson,
} from './person.ts';
export {
  acceptProposal,
  declineProposal,
  fetchProposal,
  fetchProposalSides,
  fetchProposals,
  handInProposal,
  makeProposal,
  type Proposal,
  type ProposalSides,
  withdrawProposal,
} from './proposals.ts';
export { StepShelf } from './step-shelf.ts';
export { TalkSession } from './talk-session.ts';
export { fetchVisitEdits, fetchVisits, type PastVisit, type VisitEdits } from './visits.ts';
export {
  deleteVersion,
  fetchVersion,
  fetchVersions,
  keepPresent,
  nameVersion,
  renameVersion,
  type Version,
  type VersionKind,
  type VersionList,
} from './versions.ts';
export { whoHasOpen } from './who-has-open.ts';
