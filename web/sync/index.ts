export {
  ApiError,
  type BoardSummary,
  copyBoard,
  createBoard,
  fetchBoard,
  fetchBoardFile,
  fetchDemos,
} from './api.ts';
export { BoardSession, type PersonHere, type SavedState } from './board-session.ts';
export { newId, type Person, readPerson, renamePerson } from './person.ts';
