/** What a page would ask for first, asked in the name of whoever asks for the page. */
import { Hono } from 'hono';
import { describe, expect, it } from 'vitest';
import { askAhead } from '../../../server/http/ask-ahead.ts';

function server() {
  const heard: Readonly<Record<string, string>>[] = [];
  const app = new Hono();
  app.get('/api/open', (c) => {
    heard.push(c.req.header());
    return c.json({ title: 'kites' });
  });
  app.get('/api/me', (c) => {
    c.header('Set-Cookie', 'larkboard=renewed');
    return c.json({ role: 'owner' });
  });
  app.get('/api/closed', (c) => c.json({ error: {} }, 404));
  app.get('/page', async (c) => c.json(await askAhead(app)(c, ['/api/open', '/api/closed', '/api/me'])));
  return { app, heard };
}

describe('asking ahead', () => {
  it('gives what is there for them, and leaves out what is not', async () => {
    const { app } = server();
    const answer = await app.request('/page', { headers: { cookie: 'larkboard=ada' } });
    expect(await answer.json()).toEqual({ '/api/open': { title: 'kites' }, '/api/me': { role: 'owner' } });
    expect(answer.headers.get('set-cookie')).toBe('larkboard=renewed');
  });

  it('asks with all that says who asks and from where, and with nothing that is of the page alone', async () => {
    const { app, heard } = server();
    const own = { cookie: 'larkboard=ada', 'x-forwarded-for': '192.0.2.7' };
    await app.request('/page', {
      headers: { ...own, range: 'bytes=0-9', 'accept-encoding': 'gzip', 'x-request-id': '7' },
    });
    expect(heard).toEqual([own]);
  });

  it('asks for nothing in the name of who has no cookie', async () => {
    const { app, heard } = server();
    expect(await (await app.request('/page')).json()).toEqual({});
    expect(heard).toEqual([]);
  });
});
