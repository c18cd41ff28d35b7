/** The built page: files as they are, `index.html` for the start page and for each board. */
import { existsSync } from 'node:fs';
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { serveStatic } from '@hono/node-server/serve-static';
import { type Context, Hono } from 'hono';
import { HttpProblem } from './problem.ts';

/** What the page may load: itself, and pictures it makes. Sockets only to where it came from. */
const CONTENT_SECURITY_POLICY = [
  "default-src 'self'",
  "script-src 'self'",
  "style-src 'self' 'unsafe-inline'",
  "img-src 'self' data: blob:",
  "font-src 'self' data:",
  "connect-src 'self'",
  "worker-src 'self' blob:",
  "object-src 'none'",
  "base-uri 'none'",
  "frame-ancestors 'none'",
].join('; ');

/** @param folder the built page; when it is not there, its addresses answer 404 */
export function pageRoutes(folder: string): Hono {
  const app = new Hono();
  const page = async (c: Context, status: 200 | 404 = 200): Promise<Response> => {
    let html: string;
    try {
      html = await readFile(join(folder, 'index.html'), 'utf8');
    } catch (cause) {
      if ((cause as NodeJS.ErrnoException).code !== 'ENOENT') throw cause;
      throw new HttpProblem(404, {
        kind: 'no-page',
        message: 'the page has not been built; run npm run build',
      });
    }
    c.header('Content-Security-Policy', CONTENT_SECURITY_POLICY);
    c.header('Cache-Control', 'no-cache');
    return c.html(html, status);
  };
  for (const path of ['/', '/index.html', '/board/*', '/help']) app.get(path, (c) => page(c));
  if (!existsSync(folder)) return app;
  const files = serveStatic({ root: folder });
  app.use('*', async (c, next) => {
    const found = await files(c, next);
    // Names under /assets carry a hash of their content. Set on the answer: what is said to the context comes too late for it.
    const isHashed = c.req.path.startsWith('/assets/');
    const howLong = isHashed ? 'public, max-age=31536000, immutable' : 'no-cache';
    if (found instanceof Response) found.headers.set('Cache-Control', howLong);
    return found;
  });
  // A person who mistyped an address gets a page that says so; a program gets the problem as JSON.
  app.get('*', (c, next) => {
    const isPerson = c.req.header('accept')?.includes('text/html') === true;
    return isPerson && !/^\/(api|sync|schema|assets)\//.test(c.req.path) ? page(c, 404) : next();
  });
  return app;
}
