/** `POST /api/boards/:id/talk`: says something about a board, in the name of the person whose cookie came with it. */
import { type Context, Hono } from 'hono';
import { readTalkSend, type TalkSend } from '../../engine/document/index.ts';
import { type Admit, HttpProblem, limitBody, type ProblemStatus, readJson } from '../http/index.ts';
import { Rate } from '../sync/index.ts';
import type { TalkDone, TalkRooms } from './talk-rooms.ts';

export interface TalkRoutesDeps {
  readonly talk: TalkRooms;
  readonly admit: Admit;
  readonly now: () => number;
}

/** A remark of 4,000 characters, each written as `\uXXXX`, with 20 names. */
const BODY_BYTES = 32 * 1024;
/** Sendings a second, averaged over ten: of one person on one board, and of all on it. */
const PERSON_RATE = 2;
const BOARD_RATE = 20;
const WAIT_S = 10;
/** People and boards remembered for their rates at most. */
const MOST_RATES = 50_000;

/** How often each may do something; memory is bounded, and the count begins anew when it is full. */
class Rates {
  readonly #perSecond: number;
  readonly #rates = new Map<string, Rate>();

  constructor(perSecond: number) {
    this.#perSecond = perSecond;
  }

  allows(key: string, now: number): boolean {
    let rate = this.#rates.get(key);
    if (rate === undefined) {
      if (this.#rates.size >= MOST_RATES) this.#rates.clear();
      rate = new Rate(this.#perSecond);
      this.#rates.set(key, rate);
    }
    return rate.allows(now);
  }
}

type TalkFault = Extract<TalkDone, { ok: false }>['error'];

function statusOf(kind: TalkFault['kind']): ProblemStatus {
  switch (kind) {
    case 'unknown-thread':
    case 'unknown-remark':
      return 404;
    case 'not-yours':
      return 403;
    case 'limit':
    case 'newer-version':
      return 409;
    case 'full':
      return 507;
    case 'out-of-range':
    case 'unknown-pin':
      return 422;
  }
}

async function readSend(c: Context): Promise<TalkSend> {
  const read = readTalkSend(await readJson(c));
  if (!read.ok) throw new HttpProblem(422, read.error);
  return read.value;
}

/** The sub-app; mount under `/api`. */
export function talkRoutes(deps: TalkRoutesDeps): Hono {
  const app = new Hono();
  const perPerson = new Rates(PERSON_RATE);
  const perBoard = new Rates(BOARD_RATE);

  app.post('/boards/:id/talk', limitBody('a remark', BODY_BYTES), async (c) => {
    const { record, pass } = await deps.admit(c, 'talk');
    if (!pass.canWrite)
      throw new HttpProblem(403, { kind: 'forbidden', message: 'you may read what is said here, not speak' });
    const send = await readSend(c);
    // Where the server knows no people, the body alone says who speaks.
    if (pass.personId !== null && pass.personId !== send.by.id)
      throw new HttpProblem(403, {
        kind: 'not-you',
        path: 'by.id',
        message: 'this is not the person of your cookie',
      });
    const now = deps.now();
    if (!perPerson.allows(`${record.id}/${send.by.id}`, now) || !perBoard.allows(record.id, now)) {
      c.header('Retry-After', String(WAIT_S));
      throw new HttpProblem(429, {
        kind: 'too-fast',
        message: 'too much was said here in a few seconds; wait',
      });
    }
    const done = await deps.talk.say(record.id, send, pass.role);
    if (!done.ok) {
      const { kind, path, message } = done.error;
      throw new HttpProblem(statusOf(kind), { kind, path: path === '' ? '' : `command.${path}`, message });
    }
    const { thread, remark, isNew } = done;
    return c.json({ thread, remark }, isNew ? 201 : 200);
  });

  return app;
}
