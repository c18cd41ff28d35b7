/** What the log says of requests that the store could not do. */
import { expect, test } from 'vitest';
import { machineClock } from '../../server/index.ts';
import { ask } from '../support/ask.ts';
import { HandClock } from '../support/hand-clock.ts';
import { makeBoard, startTestServer } from './test-server.ts';

test('[V346] a board that is full is said once a minute, however often somebody asks, and counted', async () => {
  const clock = new HandClock(machineClock);
  const server = await startTestServer({
    clock,
    env: { MAX_DOCUMENT_BYTES: '12000', REQUEST_TIMES: '1000' },
  });
  const board = await makeBoard(server);
  const at = `${server.http}/api/boards/${board}/file`;
  const file = (await (await ask(at)).json()) as object;
  const body = JSON.stringify({ ...file, piece: { notes: 'n'.repeat(3_000) } });
  const said = (): readonly { unwritten: number }[] =>
    server.lines.filter((line) => line.includes('"store-error"')).map((line) => JSON.parse(line));
  const put = async (): Promise<number> => (await ask(at, { method: 'PUT', body })).status;
  const refuse = async (times: number): Promise<void> => {
    for (let i = 0; i < times; i += 1) expect(await put()).toBe(507);
  };
  while ((await put()) === 200);
  await refuse(19);
  expect(said()).toMatchObject([{ kind: 'full', unwritten: 0 }]);
  clock.turn(61_000);
  await refuse(2);
  expect(said()).toMatchObject([{ unwritten: 0 }, { kind: 'full', unwritten: 19 }]);
  expect(server.metrics.valueOf('larkboard_store_errors_total', { kind: 'full' })).toBe(22);
  await server.close();
});
