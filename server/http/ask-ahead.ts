/** Answers of the API that are sent along with a page, since it would ask for them first. */
import type { Context, Hono } from 'hono';
import type { AskAhead } from './page-routes.ts';

/**
 * Asks the server's own API in the name of whoever asks for the page: the same rights, limits and log as if they had. What is not there for
 * them is not in the answer; the page asks for it itself then, and hears why.
 */
export function askAhead(app: Hono): AskAhead {
  return async (c, paths) => {
    // Without a cookie only open boards are there, and of these it is found out by the page.
    const { cookie } = c.req.header();
    if (cookie === undefined) return {};
    const answers: Record<string, unknown> = {};
    await Promise.all(
      paths.map(async (path) => {
        const answer = await app.request(path, { headers: headersOf(c) }, c.env);
        if (answer.status !== 200) return;
        answers[path] = await answer.json();
        const set = answer.headers.get('set-cookie');
        if (set !== null) c.header('Set-Cookie', set, { append: true });
      }),
    );
    return answers;
  };
}

/** All that says who asks, and from where. */
function headersOf(c: Context): Record<string, string> {
  const { 'accept-encoding': _encoding, 'x-request-id': _id, range: _range, ...headers } = c.req.header();
  return headers;
}
