/** A few bytes that ask for much. */
import { afterAll, beforeAll, expect, test } from 'vitest';
import { CLOSE_CODES } from '../../../engine/document/index.ts';
import { MemoryStore } from '../../../server/store/memory-store.ts';
import { until } from '../../support/until.ts';
import { FaultyStore } from '../faulty-store.ts';
import { message, presenceMessage, RawClient } from '../raw-client.ts';
import { makeBoard, startTestServer, type TestServer } from '../test-server.ts';

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

test('[V45] marks without end do not gather while the store fails', async () => {
  const store = new FaultyStore(new MemoryStore());
  const failing = await startTestServer({ store });
  const id = await makeBoard(failing);
  const maker = await new RawClient(`${failing.ws}/${id}/design`).join();
  maker.mark(1);
  await maker.savedMark(1);
  store.fault = { kind: 'full', when: 'before' };
  maker.edit((doc) => doc.getMap('meta').set('title', 'kites'));
  maker.mark(2);
  await maker.waitFor(({ kind }) => kind === 'notice');
  const other = await new RawClient(`${failing.ws}/${id}/design`).join();
  const frames = Array.from({ length: 11 }, (_, i) =>
    Buffer.concat(Array.from({ length: 100 }, (_, j) => message(100, i * 100 + j + 1))),
  );
  for (const frame of frames.slice(0, 9)) other.send(new Uint8Array(frame));
  await other.reached();
  expect(other.closeCode).toBeNull();
  for (const frame of frames.slice(9)) other.send(new Uint8Array(frame));
  await until('the one who gathers marks is put out', () => other.closeCode === CLOSE_CODES.tooFast);
  // Who only waits for an edit stays, and hears of it in the end.
  store.fault = null;
  await maker.savedMark(2);
  maker.close();
  await failing.close();
});
