/** Access by links as the server takes it in: who may come in, who owns a new board, and the HTTP of links. */
import type { Context, Hono } from 'hono';
import type { Authorize } from '../authorize.ts';
import { Access } from './access.ts';
import { type AccessRoutesDeps, accessRoutes, ensurePerson, ownBoardsRoutes } from './access-routes.ts';
import type { AccessStore } from './access-store.ts';
import { authorizeByLinks } from './authorize-by-links.ts';
import { GuessLimiter, type GuessLimits } from './guess-limiter.ts';
import { HandOvers } from './hand-over.ts';
import { handOverRoutes } from './hand-over-routes.ts';

export interface PlugAccessDeps {
  readonly store: AccessStore;
  /** Whether a board is open to look at for everybody. */
  readonly isOpen: (boardId: string) => Promise<boolean>;
  readonly now: () => number;
  readonly addressOf: (c: Context) => string;
  readonly isSecure: (c: Context) => boolean;
  /** Addresses at which devices in the house reach the server, as far as the asker may know them; default none. */
  readonly ownAddresses?: (c: Context) => readonly string[];
  readonly guessLimits?: GuessLimits;
}

export interface PluggedAccess {
  readonly access: Access;
  readonly authorize: Authorize;
  /** Makes whoever asked the owner of a new board. The secret of their link is in the answer, the only time it can be read. */
  readonly onMade: (
    c: Context,
    boardId: string,
  ) => Promise<{ readonly role: string; readonly secret: string }>;
  readonly api: readonly { readonly path: string; readonly app: Hono }[];
  readonly close: () => Promise<void>;
}

export function plugAccess(deps: PlugAccessDeps): PluggedAccess {
  const { store, now, addressOf, isSecure } = deps;
  const access = new Access({ store, now, isOpen: deps.isOpen });
  const limiter = new GuessLimiter(now, deps.guessLimits);
  const routes: AccessRoutesDeps = { access, limiter, addressOf, isSecure };
  const handOvers = new HandOvers({ access, store, now });
  const { ownAddresses = () => [] } = deps;
  return {
    access,
    authorize: authorizeByLinks(access),
    onMade: async (c, boardId) => {
      const { secret } = await access.makeOwner(await ensurePerson(routes, c), boardId);
      return { role: 'owner', secret };
    },
    api: [
      { path: '/boards/:id', app: accessRoutes(routes, now) },
      { path: '/boards/:id/hand-over', app: handOverRoutes({ ...routes, handOvers, ownAddresses }, now) },
      { path: '/mine', app: ownBoardsRoutes(routes) },
    ],
    close: () => store.close(),
  };
}
