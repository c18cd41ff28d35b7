/** Every route that takes JSON, sent the same bad bodies. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { ask } from '../../support/ask.ts';
import { type AccessServer, closeAccessServer, Person, startAccessServer } from '../access-people.ts';

let server: AccessServer;
let owner: Person;
let board: string;
/** A proposal, a version and a link of the board. */
let ids: Readonly<Record<'proposal' | 'version' | 'link', string>>;

beforeAll(async () => {
  server = await startAccessServer();
  owner = new Person(server);
  ({ id: board } = await owner.makeBoard());
  const made = async (path: string, body: unknown): Promise<string> => {
    const answer = await owner.ask('POST', `/api/boards/${board}/${path}`, body);
    expect(answer.status, answer.text).toBe(201);
    return answer.json.id as string;
  };
  ids = {
    proposal: await made('proposals', { title: 'warmer edge' }),
    version: await made('versions', { name: 'first' }),
    link: await made('links', { role: 'reviewer' }),
  };
});
afterAll(() => closeAccessServer(server));

const ROUTES: readonly (readonly [string, () => string])[] = [
  ['POST', () => '/api/boards'],
  ['POST', () => `/api/boards/${board}/enter`],
  ['POST', () => `/api/boards/${board}/links`],
  ['PATCH', () => `/api/boards/${board}/links/${ids.link}`],
  ['POST', () => `/api/boards/${board}/talk`],
  ['POST', () => `/api/boards/${board}/versions`],
  ['PATCH', () => `/api/boards/${board}/versions/${ids.version}`],
  ['POST', () => `/api/boards/${board}/proposals`],
  ['POST', () => `/api/boards/${board}/proposals/${ids.proposal}/decline`],
  ['POST', () => `/api/boards/${board}/proposals/${ids.proposal}/accept`],
];

const BODIES: readonly (readonly [string, string, number, string, string])[] = [
  ['nothing', '', 400, 'not-json', ''],
  ['JSON cut off', '{"title":', 400, 'not-json', ''],
  ['a list', '[{}]', 422, 'not-an-object', ''],
  ['null', 'null', 422, 'not-an-object', ''],
  ['a field that there is not', '{"toString":1}', 422, 'unknown-field', 'toString'],
];

describe('bodies', () => {
  it.each(BODIES)('[V210] %s is refused alike by every route', async (_what, body, status, kind, path) => {
    for (const [method, address] of ROUTES) {
      const { cookie } = owner;
      const answer = await ask(server.http + address(), { method, body, headers: { cookie } });
      expect(await answer.json(), `${method} ${address()}`).toMatchObject({ error: { kind, path } });
      expect(answer.status, `${method} ${address()}`).toBe(status);
    }
  });

  it('[V210] whoever may not know of a board is told the same by every route', async () => {
    const stranger = new Person(server);
    for (const [method, address] of ROUTES.slice(1)) {
      const answer = await stranger.ask(
        method,
        address(),
        address().endsWith('/enter') ? { secret: 'x' } : {},
      );
      expect(answer.status, `${method} ${address()}: ${answer.text}`).toBe(404);
    }
  });
});
