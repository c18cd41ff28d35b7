/** The built page as it is given out. */
import { mkdirSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeEach, describe, expect, it } from 'vitest';
import { HttpProblem, pageRoutes } from '../../../server/http/index.ts';
import { temporaryFolder } from '../test-server.ts';

const folder = temporaryFolder();
const at = (path: string): string => join(folder.path, path);
let thrown: unknown;

beforeEach(() => {
  thrown = null;
  rmSync(at('index.html'), { recursive: true, force: true });
  mkdirSync(at('assets'), { recursive: true });
  writeFileSync(at('index.html'), '<title>reeds</title>');
  writeFileSync(at('assets/part-1a2b3c.js'), 'export {}');
  writeFileSync(at('icon.svg'), '<svg xmlns="http://www.w3.org/2000/svg"/>');
});
afterAll(() => folder.remove());

/** What is answered; what is thrown instead is kept, as the server's own handler would get it. */
async function get(path: string, accept = 'text/html', from = folder.path): Promise<Response> {
  const app = pageRoutes(from);
  app.onError((error, c) => {
    thrown = error;
    return c.text('', 500);
  });
  app.notFound((c) => c.json({ error: 'not-found' }, 404));
  return app.request(path, { headers: { accept } });
}

describe('the page', () => {
  it('[V358] is asked for anew each time, with its policy; what carries a hash in its name is kept', async () => {
    for (const path of ['/', '/board/kites', '/help']) {
      const answer = await get(path);
      expect([path, answer.status, await answer.text()]).toEqual([path, 200, '<title>reeds</title>']);
      expect(answer.headers.get('cache-control')).toBe('no-cache');
      expect(answer.headers.get('content-security-policy')).toContain("frame-ancestors 'none'");
    }
    for (const [path, says] of [
      ['/assets/part-1a2b3c.js', 'public, max-age=31536000, immutable'],
      ['/icon.svg', 'no-cache'],
    ] as const) {
      const answer = await get(path, '*/*');
      expect([path, answer.status, answer.headers.get('cache-control')]).toEqual([path, 200, says]);
    }
  });

  it('[V7] is shown to a person who mistyped an address, as not found; a program, and whoever asks for a part or the API, is told so', async () => {
    const mistyped = await get('/bord/kites');
    expect([mistyped.status, await mistyped.text()]).toEqual([404, '<title>reeds</title>']);
    for (const [path, accept] of [
      ['/bord/kites', 'application/json'],
      ['/assets/gone-9z8y7x.js', 'text/html'],
      ['/api/boards', 'text/html'],
    ] as const) {
      const answer = await get(path, accept);
      expect([path, answer.status, await answer.json()]).toEqual([path, 404, { error: 'not-found' }]);
    }
    // Whoever does not say what they take is a program.
    const silent = await pageRoutes(folder.path).request('/bord/kites');
    expect([silent.status, await silent.text()]).not.toContain('<title>reeds</title>');
  });

  it('that was never built is said to be so, with what to run; one that cannot be read is a fault', async () => {
    const unbuilt = {
      status: 404,
      problem: { kind: 'no-page', message: expect.stringContaining('npm run build') },
    };
    rmSync(at('index.html'));
    for (const from of [folder.path, at('nowhere')]) {
      await get('/', 'text/html', from);
      expect(thrown).toBeInstanceOf(HttpProblem);
      expect(thrown).toMatchObject(unbuilt);
    }
    mkdirSync(at('index.html'));
    await get('/');
    expect(thrown).toMatchObject({ code: 'EISDIR' });
  });
});
