/** The built page: files as they are, `index.html` for the start page and for each board. */
import { createHash } from 'node:crypto';
import { existsSync } from 'node:fs';
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { gzip } from 'node:zlib';
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

const pack = promisify(gzip);

/** The answer, packed where the browser takes that. */
async function packed(c: Context, html: string, status: 200 | 404): Promise<Response> {
  c.header('Vary', 'Accept-Encoding', { append: true });
  if (c.req.header('accept-encoding')?.includes('gzip') !== true) return c.body(html, status);
  c.header('Content-Encoding', 'gzip');
  return c.body(await pack(html), status);
}

/** JSON that ends no element, whatever a title says. */
function inHtml(value: unknown): string {
  return JSON.stringify(value).replace(/</g, '\\u003c');
}

const BOARD = /^\/board\/([\w-]{1,64})\/?$/;

/** With the scripts that stand in the page itself, by their hashes. */
function policyOf(html: string): string {
  const hashes = [...html.matchAll(/<script>([\s\S]*?)<\/script>/g)].map(
    ([, code = '']) => ` 'sha256-${createHash('sha256').update(code).digest('base64')}'`,
  );
  return CONTENT_SECURITY_POLICY.replace("script-src 'self'", `script-src 'self'${hashes.join('')}`);
}

/** Where the page has room for what is sent along, before its scripts. */
const PLACE = '<!--answers-->';

/** What the API answers to whoever asks for the page, by its address; only where all of it is there for them. */
export type AskAhead = (c: Context, paths: readonly string[]) => Promise<Readonly<Record<string, unknown>>>;

/** The page of a board asks for these first. */
const askedFirst = (id: string): readonly string[] =>
  ['', '/me', '/sight'].map((rest) => `/api/boards/${id}${rest}`);

/** @param folder the built page; when it is not there, its addresses answer 404 */
export function pageRoutes(folder: string, askAhead: AskAhead = async () => ({})): Hono {
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
    c.header('Content-Security-Policy', policyOf(html));
    const board = BOARD.exec(c.req.path)?.[1];
    const answers = board === undefined ? {} : await askAhead(c, askedFirst(board));
    const isPersonal = Object.keys(answers).length > 0;
    // What is sent along is for whoever asked, and nobody on the way keeps it.
    c.header('Cache-Control', isPersonal ? 'private, no-store' : 'no-cache');
    c.header('Content-Type', 'text/html; charset=utf-8');
    const data = `<script type="application/json" id="answers">${inHtml(answers)}</script>`;
    return packed(c, isPersonal ? html.replace(PLACE, () => data) : html, status);
  };
  for (const path of ['/', '/index.html', '/board/*', '/help']) app.get(path, (c) => page(c));
  if (!existsSync(folder)) return app;
  // What the build has packed is sent so.
  const files = serveStatic({ root: folder, precompressed: true });
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
