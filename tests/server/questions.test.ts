/** A few bytes that ask for much. */
import { afterAll, beforeAll, expect, test } from 'vitest';
import { CLOSE_CODES } from '../../engine/document/index.ts';
import { message, presenceMessage, RawClient } from './raw-client.ts';
import { makeBoard, startTestServer, type TestServer, until } from './test-server.ts';

let server: TestServer;
let board: string;
beforeAll(async () => {
  server = await startTestServer();
  board = await makeBoard(server);
});
afterAll(async () => {
  await server.close();
});

const joined = (): Promise<RawClient> => new RawClient(`${server.ws}/${board}/design`).join();
/** One frame that holds a message many times. */
const repeated = (bytes: Uint8Array, times: number): Uint8Array =>
  new Uint8Array(Buffer.concat(Array.from({ length: times }, () => bytes)));

for (const [what, question, answer] of [
  ['everybody', message(3), 'presence'],
  ['the document', message(0, 0, new Uint8Array([0])), 'step2'],
] as const)
  test(`[V215] one frame that asks a hundred times for ${what} is not answered a hundred times`, async () => {
    const shown = await joined();
    shown.socket.send(
      presenceMessage([
        { client: 7, clock: 1, state: JSON.stringify({ person: { id: 'p', name: 'x'.repeat(3000) } }) },
      ]),
    );
    const client = await joined();
    const before = client.heard.length;
    client.socket.send(repeated(question, 100));
    expect(await client.closed).toBe(CLOSE_CODES.tooFast);
    const answers = client.heard.slice(before).filter(({ kind }) => kind === answer);
    expect(answers.length).toBeLessThanOrEqual(21);
    shown.close();
  });

test('[V215] who asks now and then is answered each time', async () => {
  const client = await joined();
  for (let times = 1; times <= 8; times += 1) {
    const before = client.heard.length;
    client.socket.send(message(3));
    client.socket.send(message(0, 0, new Uint8Array([0])));
    await until('both answers', () => {
      const kinds = client.heard.slice(before).map(({ kind }) => kind);
      return kinds.includes('presence') && kinds.includes('step2');
    });
  }
  expect(client.closeCode).toBeNull();
  client.close();
});
