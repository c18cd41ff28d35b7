/** Coming to a board: by its link or by what one holds already, and what one may do there. */
import { canWrite } from '../../engine/document/index.ts';
import {
  ApiError,
  enterBoard,
  fetchBoard,
  fetchStanding,
  keepPersonId,
  type LeftCopy,
  putAside,
  readLeftCopies,
  rememberedRole,
  rememberRole,
  type Standing,
  secretIn,
} from '../sync/index.ts';
import { t } from '../text/index.ts';
import { sayServerError } from '../words/index.ts';

/** A board that may be opened. */
export interface OpenedBoard {
  readonly canEdit: boolean;
  readonly isDemo: boolean;
  /** Whether it is a board of its own: no demo, no branch of another. */
  readonly isWhole: boolean;
  /** Null where the server knows no links; undefined when it could not be asked. */
  readonly standing: Standing | null | undefined;
  /** What is to be said about coming in; empty = nothing. */
  readonly message: string;
}

/** The board, or in a sentence why it does not open. */
export type BoardOpening =
  | ({ readonly ok: true } & OpenedBoard)
  | {
      readonly ok: false;
      readonly message: string;
      readonly left: readonly LeftCopy[];
    };

/** What the server says of a board and who asks. */
type Asked = Pick<OpenedBoard, 'canEdit' | 'isDemo' | 'isWhole' | 'standing'>;

const keyOf = (boardId: string): string => `larkboard.opened.${boardId}`;

/** As what the board opened in this browser last; null where it never did, or may no more. It is no right: the server goes by its own. */
export function openedBefore(boardId: string): OpenedBoard | null {
  const kept = localStorage.getItem(keyOf(boardId));
  // A link in the address may change everything.
  if (kept === null || secretIn(location.hash) !== null) return null;
  try {
    return { ...(JSON.parse(kept) as Asked), message: '' };
  } catch (cause) {
    if (!(cause instanceof SyntaxError)) throw cause;
    forgetOpened(boardId);
    return null;
  }
}

/** It is not to be opened so again. */
export function forgetOpened(boardId: string): void {
  localStorage.removeItem(keyOf(boardId));
}

/** Whether the server says just what it said before. */
export async function isAsBefore(boardId: string, before: OpenedBoard): Promise<boolean> {
  const { message: _message, ...was } = before;
  try {
    const { board, standing } = askServer(boardId);
    return JSON.stringify({ ...(await board), standing: await standing }) === JSON.stringify(was);
  } catch (error) {
    if (!(error instanceof ApiError)) throw error;
    // Away: that is what this browser keeps it for, and the line says so.
    return error.kind === 'unreachable';
  }
}

/** Asks what the board is and who one is there, both at once. */
function askServer(boardId: string): {
  readonly board: Promise<Omit<Asked, 'standing'>>;
  readonly standing: Promise<Standing | null>;
} {
  const board = fetchBoard(boardId).then(({ canWrite = true, kind }) => ({
    canEdit: canWrite,
    isDemo: kind === 'demo',
    isWhole: kind === 'board',
  }));
  const standing = fetchStanding(boardId);
  // Where the board is not there, that alone counts.
  standing.catch(() => {});
  return { board, standing };
}

/** Why a board does not open, in a sentence. */
function whyNotOpen(error: ApiError): string {
  switch (error.kind) {
    case 'unknown-board':
      return t('closed.unknownBoard');
    case 'revoked':
      return t('closed.revoked');
    case 'unknown-link':
      return t('links.dead');
    case 'too-many-tries':
      return t('links.tooMany');
    default:
      return sayServerError(error);
  }
}

/** What whoever worked on a board that is gone, or gone for them, may still save of it. */
export async function readLeft(boardId: string): Promise<readonly LeftCopy[]> {
  return rememberedRole(boardId) === null ? [] : readLeftCopies(boardId);
}

/**
 * Comes in by the link in the address, if there is one, and asks the server what one may do. Without the server a board opens from what
 * this browser keeps, and merges when the connection is back.
 */
export async function openBoard(boardId: string): Promise<BoardOpening> {
  let canEdit = true;
  let isDemo = false;
  let isWhole = false;
  let standing: Standing | null | undefined;
  let message = '';
  try {
    const isLinkDead = await enterByAddress(boardId);
    const asked = askServer(boardId);
    // The board first: it tells a link taken back from a board that one never was in.
    const board = await asked.board.catch((error: unknown) => {
      if (isLinkDead && error instanceof ApiError && error.kind === 'unknown-board')
        throw new ApiError('unknown-link', 'the link opens nothing', error);
      throw error;
    });
    ({ canEdit, isDemo, isWhole } = board);
    standing = await asked.standing;
    if (standing !== null) keepPersonId(standing.personId);
    const before = rememberedRole(boardId);
    const isLess = !canEdit && before !== null && canWrite(before, 'design');
    // Edits that the server will not take must not go on looking like part of the board.
    if (isLess) await putAside(boardId);
    if (standing !== null) rememberRole(boardId, standing.role);
    localStorage.setItem(keyOf(boardId), JSON.stringify({ ...board, standing }));
    if (isLess) message = t('links.lessNow');
    if (isLinkDead) message = t('links.deadButIn');
    return { ok: true, canEdit, isDemo, isWhole, standing, message };
  } catch (error) {
    if (!(error instanceof ApiError)) throw error;
    if (error.kind !== 'unreachable') {
      const isGone = error.kind === 'unknown-board' || error.kind === 'revoked';
      forgetOpened(boardId);
      return { ok: false, message: whyNotOpen(error), left: isGone ? await readLeft(boardId) : [] };
    }
    const role = rememberedRole(boardId);
    return {
      ok: true,
      canEdit: role === null ? canEdit : canWrite(role, 'design'),
      isDemo,
      isWhole,
      standing,
      message,
    };
  }
}

/**
 * Comes in by the link in the address, if there is one, and takes its secret out of the address once the server has
 * answered. @returns whether the link opens nothing
 */
async function enterByAddress(boardId: string): Promise<boolean> {
  const secret = secretIn(location.hash);
  if (secret === null) return false;
  let isDead = false;
  try {
    await enterBoard(boardId, secret);
  } catch (error) {
    if (!(error instanceof ApiError && error.kind === 'unknown-link')) throw error;
    isDead = true;
  }
  history.replaceState(history.state, '', location.pathname + location.search);
  return isDead;
}
