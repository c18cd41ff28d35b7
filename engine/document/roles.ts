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
type Right = 'read' | 'write';

const RIGHTS: Readonly<Record<Role, Readonly<Record<BoardPart, Right>>>> = {
  owner: { design: 'write', talk: 'write', class: 'write' },
  'co-maker': { design: 'write', talk: 'write', class: 'write' },
  reviewer: { design: 'read', talk: 'write', class: 'read' },
  learner: { design: 'read', talk: 'write', class: 'write' },
  onlooker: { design: 'read', talk: 'read', class: 'read' },
};

/** What the role may do with one document of a board. */
function rightOf(role: Role, part: BoardPart): Right {
  return RIGHTS[role][part];
}

/** Whether edits of this role to this document are taken. */
export function canWrite(role: Role, part: BoardPart): boolean {
  return rightOf(role, part) === 'write';
}

/**
 * Whether the server alone writes a document, on behalf of whoever may: then no socket's edits to it are taken, whatever
 * the role. So nobody speaks in another's name.
 */
export function isServerWritten(part: BoardPart): boolean {
  return part === 'talk';
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
