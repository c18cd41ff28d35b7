/** A person at any server, over HTTP and sockets alone, who keeps the cookie as a browser does. */
import { randomBytes } from 'node:crypto';
import * as Y from 'yjs';
import { type BoardPart, type Command, Design } from '../../engine/document/index.ts';
import { message, RawClient } from '../server/raw-client.ts';
import { ask } from './ask.ts';

/** Fresh ids as the page makes them. */
export const newId = (): string => randomBytes(8).toString('hex');

export interface Answer {
  readonly status: number;
  readonly bytes: Uint8Array;
  /** What the body's JSON says; an empty object where it is none. */
  readonly json: unknown;
}

export class Caller {
  readonly http: string;
  readonly cookie: { value: string };

  /** @param cookie as a browser sends it; empty = nobody yet */
  constructor(http: string, cookie = '') {
    this.http = http;
    this.cookie = { value: cookie };
  }

  async ask(method: string, path: string, body?: unknown): Promise<Answer> {
    const answer = await ask(this.http + path, {
      method,
      headers: this.cookie.value === '' ? {} : { cookie: this.cookie.value },
      ...(body === undefined
        ? {}
        : { body: body instanceof Uint8Array ? Buffer.from(body) : JSON.stringify(body) }),
    });
    const set = answer.headers.get('set-cookie');
    if (set !== null) this.cookie.value = set.split(';')[0]!;
    const bytes = new Uint8Array(await answer.arrayBuffer());
    const isJson = answer.headers.get('content-type')?.includes('json') === true;
    return {
      status: answer.status,
      bytes,
      json: isJson ? JSON.parse(Buffer.from(bytes).toString()) : {},
    };
  }

  /** What the answer's JSON says. @throws Error when the server refuses */
  async get<T>(path: string): Promise<T> {
    return (await this.#must('GET', path)).json as T;
  }

  /** @throws Error when the server refuses */
  async post<T>(path: string, body?: unknown): Promise<T> {
    return (await this.#must('POST', path, body)).json as T;
  }

  /** The body as bytes. @throws Error when the server refuses */
  async bytes(path: string): Promise<Uint8Array> {
    return (await this.#must('GET', path)).bytes;
  }

  /** Comes to a board by a link. @returns the role, or null when the link opens nothing */
  async enter(board: string, secret: string): Promise<string | null> {
    const { status, json } = await this.ask('POST', `/api/boards/${board}/enter`, { secret });
    if (status === 404) return null;
    if (status !== 200) throw new Error(`entering ${board}: ${status} ${JSON.stringify(json)}`);
    return (json as { role: string }).role;
  }

  /** The id under which the server knows this person. */
  async idOn(board: string): Promise<string> {
    return (await this.get<{ personId: string }>(`/api/boards/${board}/me`)).personId;
  }

  /** A socket to one document, not asked for anything yet. */
  socket(board: string, part: BoardPart): RawClient {
    const headers = this.cookie.value === '' ? {} : { cookie: this.cookie.value };
    return new RawClient(`${this.http.replace('http', 'ws')}/sync/${board}/${part}`, { headers });
  }

  /** What a document of a board holds now. */
  async read<T>(board: string, part: BoardPart, reader: (doc: Y.Doc) => T): Promise<T> {
    const client = await this.socket(board, part).join();
    try {
      return reader(client.doc);
    } finally {
      client.close();
    }
  }

  /** Works on the design and leaves once all of it is on the disk. */
  async work(board: string, use: (hand: Hand) => void): Promise<void> {
    const hand = new Hand(await this.socket(board, 'design').join());
    use(hand);
    await hand.save();
    hand.leave();
  }

  async #must(method: string, path: string, body?: unknown): Promise<Answer> {
    const answer = await this.ask(method, path, body);
    if (answer.status >= 300)
      throw new Error(`${method} ${path}: ${answer.status} ${Buffer.from(answer.bytes).toString()}`);
    return answer;
  }
}

/** Somebody's hand on a design, each command a step of its own. */
export class Hand {
  readonly client: RawClient;
  readonly design: Design;
  #before: Uint8Array;
  #mark = 0;

  constructor(client: RawClient) {
    this.client = client;
    this.design = new Design(client.doc, { makerId: newId(), newId, captureMs: 0 });
    this.#before = Y.encodeStateVector(client.doc);
  }

  /** Runs commands that must be taken. */
  run(...commands: readonly Command[]): void {
    for (const command of commands) {
      const result = this.design.run(command);
      if (!result.ok) throw new Error(`${command.kind} was refused: ${result.error.message}`);
    }
  }

  /** Sends what was done since the last time, and waits until it is on the disk. */
  async save(): Promise<void> {
    this.client.send(message(0, 2, Y.encodeStateAsUpdate(this.client.doc, this.#before)));
    this.#before = Y.encodeStateVector(this.client.doc);
    this.#mark += 1;
    const mark = this.#mark;
    this.client.mark(mark);
    await this.client.waitFor((one) => one.kind === 'saved' && one.mark >= mark);
  }

  leave(): void {
    this.design.dispose();
    this.client.close();
  }
}
