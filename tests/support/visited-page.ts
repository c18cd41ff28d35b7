/** A page that comes to boards, without a browser: its address, what it keeps, its sockets, and answers of the server that a test gives. */
import type { LitElement } from 'lit';
import { vi } from 'vitest';
import { stubBrowser } from './fresh-browser.ts';
import { stubPage } from './page-globals.ts';

/** The server says no, with a status and a kind. */
export const refusal = (status: number, kind: string): Response =>
  Response.json({ error: { kind, message: kind } }, { status });

/**
 * A page at `/board/kites?look=chart`, in a browser that has kept nothing. `vi.unstubAllGlobals` takes it away.
 * What is asked of the server is answered by path: with JSON, or a response; what has no answer does not reach the server.
 */
export function stubVisitedPage() {
  const rooms = stubBrowser();
  const kept = stubPage().kept;
  const events = new EventTarget();
  for (const name of ['addEventListener', 'removeEventListener', 'dispatchEvent'] as const)
    vi.stubGlobal(name, events[name].bind(events));
  const address = new URL('https://boards.example/board/kites?look=chart');
  vi.stubGlobal('location', address);
  vi.stubGlobal('history', {
    state: { from: 'start' },
    replaceState: (_state: unknown, _title: string, path: string) => {
      address.href = new URL(path, address).href;
    },
  });
  const answers = new Map<string, unknown>();
  const asked: string[] = [];
  vi.stubGlobal('fetch', async (path: string, { method = 'GET', body }: RequestInit = {}) => {
    asked.push([method, path, ...(body === undefined ? [] : [body])].join(' '));
    if (!answers.has(path)) throw new TypeError('no network');
    const answer = await answers.get(path);
    if (answer instanceof Error) throw answer;
    return answer instanceof Response ? answer.clone() : Response.json(answer);
  });
  return { rooms, kept, address, answers, asked };
}

/** An element that owns controllers, as they see it. */
export function stubHost() {
  const host = {
    isConnected: true,
    updates: 0,
    addController: () => {},
    requestUpdate: () => {
      host.updates += 1;
    },
  };
  return host as typeof host & LitElement;
}
