/** How a link stands in a table, the same in every database. */
import { readRole } from '../../engine/document/index.ts';
import { StoreError } from '../store/index.ts';
import type { LinkRecord } from './access-store.ts';

/** A row as the drivers give it: one of them writes large numbers as text. */
export interface LinkRow {
  readonly id: string;
  readonly board: string;
  readonly role: string;
  readonly name: string;
  readonly secret_hash: string;
  readonly created_at: number | string;
  readonly ends_at: number | string | null;
  readonly revoked_at: number | string | null;
  /** Of how a person came in by it: 1 or true where a hand-over let them look only. */
  readonly looks?: number | boolean;
}

/** @throws StoreError when the row holds no role */
export function readLink(row: LinkRow): LinkRecord {
  const role = readRole(row.role);
  if (role === null)
    throw new StoreError('damaged', `link ${row.id} holds the unknown role ${JSON.stringify(row.role)}`);
  return {
    id: row.id,
    boardId: row.board,
    role: row.looks ? 'onlooker' : role,
    name: row.name,
    secretHash: row.secret_hash,
    createdAt: Number(row.created_at),
    endsAt: row.ends_at === null ? null : Number(row.ends_at),
    revokedAt: row.revoked_at === null ? null : Number(row.revoked_at),
  };
}

/** What may change of a link. */
export type LinkPatch = Partial<Pick<LinkRecord, 'name' | 'endsAt' | 'revokedAt'>>;

const COLUMNS: Readonly<Record<keyof LinkPatch, string>> = {
  name: 'name',
  endsAt: 'ends_at',
  revokedAt: 'revoked_at',
};

/** The columns that a change writes, and no others: two changes at once must not take each other back. */
export function changedColumns(
  patch: LinkPatch,
): readonly { readonly column: string; readonly value: string | number | null }[] {
  return (Object.keys(COLUMNS) as (keyof LinkPatch)[]).flatMap((field) => {
    const value = patch[field];
    return value === undefined ? [] : [{ column: COLUMNS[field], value }];
  });
}

/** Values in the order id, board, role, name, hash of the secret, made, ends, taken back. */
export function linkValues(link: LinkRecord): readonly (string | number | null)[] {
  const { id, boardId, role, name, secretHash, createdAt, endsAt, revokedAt } = link;
  return [id, boardId, role, name, secretHash, createdAt, endsAt, revokedAt];
}
