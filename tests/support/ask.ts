/**
 * Asks over HTTP on a connection of its own. `fetch` keeps connections, and the server closes one that was quiet for five
 * seconds. A test that was busy for so long, waiting for another process or packing something large, has not heard of
 * that yet; its next request goes out on the closed connection and fails: "other side closed".
 */
export function ask(url: string, init: RequestInit = {}): Promise<Response> {
  const headers = new Headers(init.headers);
  headers.set('connection', 'close');
  return fetch(url, { ...init, headers });
}
