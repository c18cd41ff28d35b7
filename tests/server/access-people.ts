/** A server with links, and people who keep their cookie as a browser does. */
import { getConnInfo } from '@hono/node-server/conninfo';
import * as Y from 'yjs';
import type { BoardPart, Role } from '../../engine/document/index.ts';
import { type AccessStore, plugAccess } from '../../server/access/index.ts';
import { SqliteAccessStore } from '../../server/access/sqlite-access-store.ts';
import { forwardedAddress, forwardedSecure, machineClock } from '../../server/index.ts';
import { ask } from '../support/ask.ts';
import { message, RawClient } from './raw-client.ts';
import { startTestServer, type TestServer, type TestServerOptions } from './test-server.ts';

export interface Answer {
  readonly status: number;
  readonly headers: Headers;
  readonly text: string;
  readonly json: Readonly<Record<string, unknown>>;
}

export interface AccessServer extends TestServer {
  readonly people: Person[];
}

/** Links are kept in SQLite, in memory; the proxy in front is trusted, so that people can come from several addresses. */
export async function startAccessServer(
  options: TestServerOptions = {},
  links: AccessStore = new SqliteAccessStore(':memory:'),
): Promise<AccessServer> {
  const now = options.now ?? (options.clock ?? machineClock).now;
  const server = await startTestServer({
    ...options,
    env: {
      MAX_NEW_PER_ADDRESS: '1000000',
      MAX_CONNECTIONS_PER_ADDRESS: '10000',
      MAX_CONNECTIONS_PER_PERSON: '1000',
      MAX_CONNECTIONS_OF_NEWCOMERS: '10000',
      MAX_CONNECTIONS_OF_STRANGERS: '10000',
      TRUST_PROXY: '1',
      ...options.env,
    },
    access: (store) => {
      const plugged = plugAccess({
        store: links,
        isOpen: async (id) => (await store.board(id))?.kind === 'demo',
        now,
        addressOf: (c) =>
          forwardedAddress(c.req.header('x-forwarded-for'), getConnInfo(c).remote.address ?? '', true),
        isSecure: (c) => forwardedSecure(c.req.header('x-forwarded-proto'), true),
      });
      return {
        authorize: plugged.authorize,
        onMade: plugged.onMade,
        api: plugged.api,
        access: plugged.access,
        onClose: plugged.close,
      };
    },
  });
  return { ...server, people: [] };
}

export class Person {
  readonly #server: AccessServer;
  readonly #address: string;
  cookie = '';
  readonly sockets: RawClient[] = [];

  constructor(server: AccessServer, address = '192.0.2.1') {
    this.#server = server;
    this.#address = address;
    server.people.push(this);
  }

  async ask(
    method: string,
    path: string,
    body?: unknown,
    headers: Readonly<Record<string, string>> = {},
  ): Promise<Answer> {
    const answer = await ask(this.#server.http + path, {
      method,
      headers: { cookie: this.cookie, 'x-forwarded-for': this.#address, ...headers },
      ...(body === undefined ? {} : { body: JSON.stringify(body) }),
    });
    const set = answer.headers.get('set-cookie');
    if (set !== null) this.cookie = set.split(';')[0]!;
    const text = await answer.text();
    const json: unknown = text.startsWith('{') || text.startsWith('[') ? JSON.parse(text) : {};
    return { status: answer.status, headers: answer.headers, text, json: json as Answer['json'] };
  }

  /** @param query what stands behind the part, from its `?` on */
  socket(
    board: string,
    part: BoardPart,
    headers: Readonly<Record<string, string>> = {},
    query = '',
  ): RawClient {
    const made = new RawClient(`${this.#server.ws}/${board}/${part}${query}`, {
      headers: { cookie: this.cookie, 'x-forwarded-for': this.#address, ...headers },
    });
    made.socket.on('error', () => {});
    this.sockets.push(made);
    return made;
  }

  /** Makes a board of 8 strings and 12 rows, and owns it. */
  async makeBoard(): Promise<{ readonly id: string; readonly secret: string }> {
    const made = await this.ask('POST', '/api/boards', { strings: 8, rows: 12, title: 'kites' });
    if (made.status !== 201) throw new Error(`board not made: ${made.text}`);
    return { id: made.json.id as string, secret: made.json.secret as string };
  }

  /** Makes a link, as its owner. */
  async makeLink(
    board: string,
    role: Role,
    endsAt: number | null = null,
  ): Promise<{ readonly id: string; readonly secret: string }> {
    const made = await this.ask('POST', `/api/boards/${board}/links`, { role, endsAt });
    if (made.status !== 201) throw new Error(`link not made: ${made.text}`);
    return { id: made.json.id as string, secret: made.json.secret as string };
  }

  enter(board: string, secret: string): Promise<Answer> {
    return this.ask('POST', `/api/boards/${board}/enter`, { secret });
  }

  async idOn(board: string): Promise<string> {
    const me = await this.ask('GET', `/api/boards/${board}/me`);
    if (me.status !== 200) throw new Error(`not in: ${me.text}`);
    return me.json.personId as string;
  }
}

/** Waits until the server has read everything the client sent: it answers in order. */
export async function heardOut(client: RawClient): Promise<void> {
  const before = client.heard.length;
  client.send(message(0, 0, Y.encodeStateVector(client.doc)));
  await client.waitFor((one) => one.kind === 'step2' && client.heard.indexOf(one) >= before);
}

/** Ends every socket, then the server. */
export async function closeAccessServer(server: AccessServer): Promise<void> {
  for (const person of server.people) for (const socket of person.sockets) socket.close();
  await server.close();
}

/** A new board with somebody of the role in it, beside its owner. */
export async function someone(
  role: Role,
  server: AccessServer,
  owner: Person,
): Promise<{ readonly board: string; readonly person: Person }> {
  const { id } = await owner.makeBoard();
  const person = new Person(server);
  const entered = await person.enter(id, (await owner.makeLink(id, role)).secret);
  if (entered.json.role !== role) throw new Error(`came in as ${entered.json.role} by a link for ${role}`);
  return { board: id, person };
}
