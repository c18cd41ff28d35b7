import { createServer, type Server } from 'node:http';
import type { AddressInfo, Socket } from 'node:net';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { ask } from '../support/ask.ts';

let server: Server;
let url: string;
const sockets = new Set<Socket>();
const wishes: (string | undefined)[] = [];

beforeEach(async () => {
  sockets.clear();
  wishes.length = 0;
  server = createServer((request, response) => {
    sockets.add(request.socket);
    wishes.push(request.headers.connection);
    request.resume().on('end', () => response.end(request.headers['x-word'] ?? 'silence'));
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  url = `http://127.0.0.1:${(server.address() as AddressInfo).port}/`;
});
afterEach(async () => {
  await new Promise((resolve) => server.close(resolve));
});

it('what tests ask goes out on a connection of its own, which nobody keeps', async () => {
  for (const method of ['GET', 'POST', 'PUT'])
    expect(await (await ask(url, { method, headers: { 'x-word': method } })).text()).toBe(method);
  expect(wishes).toEqual(['close', 'close', 'close']);
  expect(sockets.size).toBe(3);
});
