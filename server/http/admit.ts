/**
 * Which board a request is about, who asks, and what they may do there: here for all routes, as `read-body.ts` reads the bodies of all. A
 * refusal is thrown, and becomes an answer in `app.ts` alone, so that one fault has one status.
 */
import type { Context } from 'hono';
import type { BoardPart, PlainProblemKind } from '../../engine/document/index.ts';
import type { Authorize, Denial, Pass } from '../authorize.ts';
import { type BoardRecord, partsOf, type Store } from '../store/index.ts';
import { HttpProblem, type ProblemStatus } from './problem.ts';

interface Admitted {
  readonly record: BoardRecord;
  readonly pass: Pass;
}

/**
 * The board named by the `:id` of the address, and the asker's pass to one of its documents. Whoever may not even know of the
 * board gets the answer of a board that is not there.
 * @throws HttpProblem 404 `unknown-board`; 403 or 429 when the asker is denied
 */
export type Admit = (c: Context, part: BoardPart) => Promise<Admitted>;

export interface AdmitDeps {
  readonly store: Pick<Store, 'board'>;
  readonly authorize: Authorize;
  readonly addressOf: (c: Context) => string;
}

/** Status and kind of the answer to somebody who is denied. */
const DENIALS: Readonly<Record<Denial['denied'], readonly [ProblemStatus, PlainProblemKind]>> = {
  unknownBoard: [404, 'unknown-board'],
  forbidden: [403, 'forbidden'],
  revoked: [403, 'revoked'],
  tooFast: [429, 'too-fast'],
};

function refusal({ denied, message }: Denial): HttpProblem {
  const [status, kind] = DENIALS[denied];
  return new HttpProblem(status, { kind, path: 'id', message });
}

/** Asks the store for the board and `authorize` for the asker, anew for each request. */
export function admitBy({ store, authorize, addressOf }: AdmitDeps): Admit {
  return async (c, part) => {
    const id = c.req.param('id') ?? '';
    const record = /^[A-Za-z0-9_-]{1,64}$/.test(id) ? await store.board(id) : null;
    if (record === null || !partsOf(record.kind).includes(part))
      throw refusal({ denied: 'unknownBoard', message: 'no such board' });
    const pass = await authorize({ headers: c.req.header(), address: addressOf(c) }, record, part);
    if ('denied' in pass) throw refusal(pass);
    return { record, pass };
  };
}
