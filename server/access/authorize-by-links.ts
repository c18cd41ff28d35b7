/** Rights by the links a person came in by: what HTTP and sockets ask before anything opens. */
import { parse } from 'hono/utils/cookie';
import { canWrite } from '../../engine/document/index.ts';
import type { Authorize } from '../authorize.ts';
import type { Access } from './access.ts';
import { SESSION_COOKIE } from './access-routes.ts';

/** Said of a board that is not there as of one the asker holds no link of. */
const UNKNOWN = { denied: 'unknownBoard', message: 'no such board' } as const;

/**
 * Asks for the standing of whoever sent the cookie. Someone without a cookie gets no name on an open board: their presence would
 * have to carry the empty id, which is none.
 */
export function authorizeByLinks(access: Access): Authorize {
  return async ({ headers }, board, part) => {
    const cookie = headers.cookie ?? '';
    const personId = await access.personOf(parse(cookie, SESSION_COOKIE)[SESSION_COOKIE]);
    const standing = await access.standing(personId, board.id);
    if (standing !== null) {
      const { role, endsAt, linkId, branchOf } = standing;
      return {
        role,
        canWrite: canWrite(role, part),
        personId: standing.personId,
        isAdmitted: linkId !== null,
        isNew: access.isNew(standing.personId),
        endsAt,
        branchOf,
      };
    }
    if (personId !== null && (await access.wasIn(personId, board.id)))
      return { denied: 'revoked', message: 'the link was taken back or has ended' };
    return UNKNOWN;
  };
}
