/**
 * Who may do what. The one table of rights: the server enforces it per document, the page only follows it.
 * A right is to a whole document of a board, never to parts of an update.
 */
import type { BoardPart } from './wire.ts';

/** What a person may be at a board, from most rights to fewest. */
export const ROLES = ['owner', 'co-maker', 'reviewer', 'learner', 'onlooker'] as const;
/** One of {@link ROLES}. */
export type Role = (typeof ROLES)[number];

/** `write` includes `read`. */
type Right = 'none' | 'read' | 'write';

const RIGHTS: Readonly<Record<Role, Readonly<Record<BoardPart, Right>>>> = {
  owner: { design: 'write', talk: 'write', lesson: 'write' },
  'co-maker': { design: 'write', talk: 'write', lesson: 'write' },
  reviewer: { design: 'read', talk: 'write', lesson: 'none' },
  learner: { design: 'read', talk: 'write', lesson: 'read' },
  onlooker: { design: 'read', talk: 'read', lesson: 'none' },
};

/**
 * To what share of its limit each role may fill a document; 0 where it may not write. Whoever has more to answer for has room left when
 * others have used theirs up: owners clear and bring versions back, and what learners say never keeps a teacher from speaking.
 */
const QUOTAS: Readonly<Record<Role, Readonly<Record<BoardPart, number>>>> = {
  owner: { design: 9 / 8, talk: 9 / 8, lesson: 9 / 8 },
  'co-maker': { design: 1, talk: 1, lesson: 1 },
  reviewer: { design: 0, talk: 7 / 8, lesson: 0 },
  learner: { design: 0, talk: 3 / 4, lesson: 0 },
  onlooker: { design: 0, talk: 0, lesson: 0 },
};

/** What the role may do with one document of a board. */
function rightOf(role: Role, part: BoardPart): Right {
  return RIGHTS[role][part];
}

/** Whether this role may open this document at all. */
export function canRead(role: Role, part: BoardPart): boolean {
  return rightOf(role, part) !== 'none';
}

/** Whether edits of this role to this document are taken. */
export function canWrite(role: Role, part: BoardPart): boolean {
  return rightOf(role, part) === 'write';
}

/** To what share of its limit this role may fill a document; 0 where it may not write. */
export function quotaOf(role: Role, part: BoardPart): number {
  return QUOTAS[role][part];
}

/**
 * Whether edits to a document come by sockets. Else none of them is taken there, whatever the role: the talk is written by the server
 * alone, on behalf of whoever may, so that nobody speaks in another's name.
 */
export function isWrittenBySockets(part: BoardPart): boolean {
  return part !== 'talk';
}

/** Whether this role makes and revokes links, restores versions, accepts proposals and deletes the board. */
export function canManage(role: Role): boolean {
  return role === 'owner';
}

/** Whether this role makes proposals: branches of the board to work on, for the owner to accept or decline. */
export function canPropose(role: Role): boolean {
  return role !== 'onlooker';
}

/**
 * What somebody of this role on a board is on a branch of it. Who proposes works there like a co-maker, whatever they may
 * on the board, as long as they may propose at all; once the proposal is closed everybody only looks.
 */
export function roleOnBranch(role: Role, isProposer: boolean, isOpen: boolean): Role {
  if (!isOpen) return 'onlooker';
  return isProposer && canPropose(role) && role !== 'owner' ? 'co-maker' : role;
}

/** Reads a role from outside; null when it is none. */
export function readRole(value: unknown): Role | null {
  return ROLES.find((role) => role === value) ?? null;
}
