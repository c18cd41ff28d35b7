/** The end of a server behind a balancer. */
import { expect, test } from 'vitest';
import { machineClock } from '../../server/index.ts';
import { readSettings } from '../../server/settings.ts';
import { ask } from '../support/ask.ts';
import { HandClock } from '../support/hand-clock.ts';
import { until } from '../support/until.ts';
import { RawClient } from './raw-client.ts';
import { makeBoard, startTestServer } from './test-server.ts';

const DRAIN_MS = 600_000;

test('[V334] it is not ready for a while and serves on, then the port closes', async () => {
  const clock = new HandClock(machineClock);
  const server = await startTestServer({ clock, env: { DRAIN_MS: String(DRAIN_MS) } });
  const board = await makeBoard(server);
  expect((await ask(`${server.http}/readyz`)).status).toBe(200);
  let isClosed = false;
  const closed = server.close().then((left) => {
    isClosed = true;
    return left;
  });
  const answer = await ask(`${server.http}/readyz`);
  expect([answer.status, await answer.json()]).toMatchObject([503, { error: { kind: 'not-ready' } }]);
  // Whoever is sent here all the same, or is here already, works on.
  const guest = await new RawClient(`${server.ws}/${board}/design`).join();
  guest.edit((doc) => doc.getMap('meta').set('title', 'reeds'));
  guest.mark(1);
  await guest.savedMark(1);
  await makeBoard(server);
  expect([isClosed, guest.closeCode]).toEqual([false, null]);
  clock.turn(DRAIN_MS);
  expect(await closed).toBe(0);
  await until('the socket is closed', () => guest.closeCode !== null);
  await expect(ask(`${server.http}/readyz`)).rejects.toThrow();
});

test('[V334] [V14] it drains for five seconds where there are other nodes, else not at all', () => {
  const DATABASE_URL = 'postgres://127.0.0.1/boards';
  expect(readSettings({}).drainMs).toBe(0);
  expect(readSettings({ DATABASE_URL, REDIS_URL: 'redis://127.0.0.1' }).drainMs).toBe(5_000);
  expect(readSettings({ DRAIN_MS: '1500' }).drainMs).toBe(1_500);
  expect(() => readSettings({ DRAIN_MS: 'soon' })).toThrow(/DRAIN_MS/);
});
