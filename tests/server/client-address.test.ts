/** Who may read the metrics. */
import { afterAll, beforeAll, expect, it } from 'vitest';
import { isFromThisMachine } from '../../server/client-address.ts';
import { readSettings } from '../../server/index.ts';
import { ask } from '../support/ask.ts';
import { startTestServer, type TestServer } from './test-server.ts';

const TOKEN = 'a-token-of-the-operator';
let plain: TestServer;
let behindProxy: TestServer;

beforeAll(async () => {
  plain = await startTestServer({ env: { METRICS_TOKEN: TOKEN } });
  behindProxy = await startTestServer({ env: { TRUST_PROXY: '1' } });
});
afterAll(async () => {
  await plain.close();
  await behindProxy.close();
});

async function statusOf(server: TestServer, headers: Readonly<Record<string, string>>): Promise<number> {
  const answer = await ask(`${server.http}/metrics`, { headers });
  const text = await answer.text();
  expect(text.includes('larkboard_rooms')).toBe(answer.status === 200);
  return answer.status;
}

it('[V466] are there for the machine itself', async () => {
  for (const server of [plain, behindProxy]) expect(await statusOf(server, {})).toBe(200);
});

it('[V466] are not there for whom a proxy on this machine speaks for, unless they show the token', async () => {
  const forwarded = { 'x-forwarded-for': '192.0.2.1' };
  for (const server of [plain, behindProxy]) expect(await statusOf(server, forwarded)).toBe(403);
  for (const [authorization, status] of [
    [`Bearer ${TOKEN}`, 200],
    [`bearer ${TOKEN}`, 200],
    [`Bearer ${TOKEN}x`, 403],
    [`Bearer ${TOKEN.slice(1)}`, 403],
    ['Bearer ', 403],
    [`Basic ${TOKEN}`, 403],
    [TOKEN, 403],
  ] as const)
    expect([authorization, await statusOf(plain, { ...forwarded, authorization })]).toEqual([
      authorization,
      status,
    ]);
  // Where no token is set none opens them.
  for (const authorization of ['Bearer ', 'Bearer null', `Bearer ${TOKEN}`])
    expect(await statusOf(behindProxy, { ...forwarded, authorization })).toBe(403);
});

it('[V466] what counts as the machine itself', () => {
  const from = (
    socket: string,
    trustProxy: boolean,
    headers: Readonly<Record<string, string>> = {},
  ): boolean => isFromThisMachine((name) => headers[name], socket, trustProxy);
  for (const trustProxy of [false, true]) {
    for (const socket of ['127.0.0.1', '127.8.9.10', '::1', '::ffff:127.0.0.1']) {
      expect(from(socket, trustProxy), socket).toBe(true);
      // A proxy on this machine, for somebody elsewhere.
      for (const headers of [
        { 'x-forwarded-for': '192.0.2.1' },
        { 'x-forwarded-for': '127.0.0.1, 192.0.2.1' },
        { 'x-forwarded-for': '' },
        { forwarded: 'for=127.0.0.1' },
        { 'x-real-ip': '127.0.0.1' },
        { via: '1.1 proxy' },
        { 'x-forwarded-proto': 'https' },
      ])
        expect(from(socket, trustProxy, headers), JSON.stringify(headers)).toBe(false);
    }
    for (const socket of [
      '192.0.2.1',
      '10.0.0.1',
      '::ffff:192.0.2.1',
      '2001:db8::1',
      '127.evil',
      '',
      'unknown',
    ])
      for (const headers of [{}, { 'x-forwarded-for': '127.0.0.1' }])
        expect(from(socket, trustProxy, headers), socket).toBe(false);
  }
  // What a trusted proxy says of somebody on this machine; without trust anybody may have said it.
  const local = { 'x-forwarded-for': '192.0.2.1, ::1' };
  expect([from('127.0.0.1', true, local), from('127.0.0.1', false, local)]).toEqual([true, false]);
});

it('[V14] [V466] a token that could be guessed stops the start, and stands in no message', () => {
  expect(readSettings({}).metricsToken).toBeNull();
  expect(readSettings({ METRICS_TOKEN: TOKEN }).metricsToken).toBe(TOKEN);
  for (const bad of ['short', 'with space and more', 'x'.repeat(201)]) {
    expect(() => readSettings({ METRICS_TOKEN: bad })).toThrow('METRICS_TOKEN');
    expect(() => readSettings({ METRICS_TOKEN: bad })).not.toThrow(bad);
  }
});
