/** Whose share a request uses: told by its cookie, for the board that its address names. */
import type { Context } from 'hono';
import type { Authorize } from '../authorize.ts';
import { PerSpan, type Regulars, type Share, shareOf, shareOfStrangers } from '../shares.ts';

/** Somebody whose cookie it is, and whether they became a person only a short time ago. */
interface CookiePerson {
  readonly personId: string;
  readonly isNew: boolean;
}

export interface RequestSharesDeps {
  readonly authorize: Authorize;
  /** Whose cookie came along; null where there are no links, and with them nobody is known. */
  readonly personOf: ((c: Context) => Promise<CookiePerson | null>) | null;
  readonly regulars: Regulars;
  readonly addressOf: (c: Context) => string;
  readonly now: () => number;
}

/** Looking for whom a cookie belongs to costs the store; of one address it is done so often in ten seconds at most. */
const LOOKS = 2_000;
const SPAN_MS = 10_000;
const BOARD = /^\/api\/(boards|lessons)\/([A-Za-z0-9_-]{1,64})(?:\/|$)/;

export class RequestShares {
  readonly #deps: RequestSharesDeps;
  readonly #looks = new PerSpan({ person: 0, newcomer: 0, newcomers: 0, strangers: LOOKS }, SPAN_MS);
  /** Several look for the same request. */
  readonly #asked = new WeakMap<Request, Promise<Share>>();

  constructor(deps: RequestSharesDeps) {
    this.#deps = deps;
  }

  /** Rejects as the store does. */
  of(c: Context): Promise<Share> {
    const asked = this.#asked.get(c.req.raw) ?? this.#of(c);
    this.#asked.set(c.req.raw, asked);
    return asked;
  }

  async #of(c: Context): Promise<Share> {
    const { regulars, addressOf, now, personOf } = this.#deps;
    const address = addressOf(c);
    if (personOf === null) return [{ kind: 'newcomers', key: address }];
    const strangers = shareOfStrangers(address);
    const cookie = c.req.header('cookie');
    if (cookie === undefined) return strangers;
    const [, of, board = ''] = BOARD.exec(c.req.path) ?? [];
    const known = regulars.find(cookie, board, now());
    if (known !== null) return known;
    if (this.#looks.add(strangers, now()) > 0) return strangers;
    const share =
      board === ''
        ? await this.#ofPerson(c, personOf, strangers)
        : await this.#onBoard(c, board, of === 'lessons', address);
    regulars.note(cookie, board, share, now());
    return share;
  }

  async #onBoard(c: Context, board: string, isLesson: boolean, address: string): Promise<Share> {
    const asker = { headers: { cookie: c.req.header('cookie') }, address };
    // Whether there is such a board is for the route to find out: whom no link let in is a stranger anyway.
    const pass = isLesson
      ? await this.#deps.authorize(asker, { id: board, kind: 'lesson', createdAt: 0 }, 'lesson')
      : await this.#deps.authorize(asker, { id: board, kind: 'board', createdAt: 0 }, 'design');
    return shareOf(pass, board, address);
  }

  /** No link is about this request: only who was known before has a share of their own. */
  async #ofPerson(
    c: Context,
    personOf: NonNullable<RequestSharesDeps['personOf']>,
    strangers: Share,
  ): Promise<Share> {
    const person = await personOf(c);
    return person === null || person.isNew ? strangers : [{ kind: 'person', key: person.personId }];
  }
}
