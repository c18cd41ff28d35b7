/** The built page as it is given out. */
import { createHash } from 'node:crypto';
import { mkdirSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { brotliCompressSync, gunzipSync, gzipSync } from 'node:zlib';
import { afterAll, beforeEach, describe, expect, it } from 'vitest';
import { HttpProblem, pageRoutes } from '../../../server/http/index.ts';
import { closeAccessServer, Person, startAccessServer } from '../access-people.ts';
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

describe('what is sent with the page', () => {
  const HTML = '<body><!--answers--><script>hello()</script></body>';

  /** What is sent along with the page of a board, by address; null where nothing is. */
  function sentWith(html: string): Readonly<Record<string, Record<string, unknown>>> | null {
    const [, json] = /<script type="application\/json" id="answers">([\s\S]*?)<\/script>/.exec(html) ?? [];
    return json === undefined ? null : JSON.parse(json);
  }

  it('[V470] what the page asks first goes along, to whom it is there for and to nobody else', async () => {
    writeFileSync(at('index.html'), HTML);
    const server = await startAccessServer({ pageFolder: folder.path });
    const [owner, pupil, stranger, nobody] = [0, 1, 2, 3].map(() => new Person(server));
    const { id } = await owner!.makeBoard();
    await owner!.ask('PUT', `/api/boards/${id}/file`, {
      ...(await owner!.ask('GET', `/api/boards/${id}/file`)).json,
      title: '</script><script>alert(1)</script>',
    });
    await pupil!.enter(id, (await owner!.makeLink(id, 'learner')).secret);
    await stranger!.makeBoard();
    const path = `/api/boards/${id}`;
    for (const [person, role] of [
      [owner!, 'owner'],
      [pupil!, 'learner'],
    ] as const) {
      const page = await person.ask('GET', `/board/${id}`);
      const sent = sentWith(page.text)!;
      for (const each of [path, `${path}/me`, `${path}/sight`])
        expect(sent[each]).toEqual((await person.ask('GET', each)).json);
      expect(sent[`${path}/me`]).toMatchObject({ role, personId: await person.idOn(id) });
      expect(sent[`${path}/sight`]).toMatchObject({
        strings: 8,
        rows: 12,
        svg: expect.stringMatching(/^<svg/),
      });
      // Nobody on the way keeps it, and a title ends no element.
      expect(page.headers.get('cache-control')).toBe('private, no-store');
      expect(page.text.match(/<\/script>/g)).toHaveLength(2);
    }
    for (const person of [stranger!, nobody!])
      for (const board of [id, 'A'.repeat(22)]) {
        const page = await person.ask('GET', `/board/${board}`);
        expect([page.status, page.text, page.headers.get('cache-control')]).toEqual([200, HTML, 'no-cache']);
      }
    // Other pages have none; a link that was taken back ends it.
    expect((await owner!.ask('GET', '/')).text).toBe(HTML);
    const links = (await owner!.ask('GET', `${path}/links`)).json as unknown as {
      id: string;
      role: string;
    }[];
    await owner!.ask('DELETE', `${path}/links/${links.find(({ role }) => role === 'learner')!.id}`);
    expect((await pupil!.ask('GET', `/board/${id}`)).text).toBe(HTML);
    await closeAccessServer(server);
  });

  it('[V470] [V-A9] a visit by the page alone extends the session too', async () => {
    writeFileSync(at('index.html'), HTML);
    let now = 1_800_000_000_000;
    const server = await startAccessServer({ pageFolder: folder.path, now: () => now });
    const owner = new Person(server);
    const { id } = await owner.makeBoard();
    now += 2 * 24 * 60 * 60 * 1000;
    const page = await owner.ask('GET', `/board/${id}`);
    expect(page.headers.get('set-cookie')).toContain('Max-Age');
    expect((await owner.ask('GET', `/board/${id}`)).headers.get('set-cookie')).toBeNull();
    await closeAccessServer(server);
  });

  it('[V470] the script in the page runs by its hash, and no other that stands there', async () => {
    writeFileSync(at('index.html'), HTML);
    const policy = (await get('/board/kites')).headers.get('content-security-policy');
    const hash = createHash('sha256').update('hello()').digest('base64');
    expect(policy?.split('; ')).toContain(`script-src 'self' 'sha256-${hash}'`);
  });

  it('[V471] goes packed to whoever takes it so, page and files, and plain to others', async () => {
    const code = `export const reeds = '${'reed '.repeat(400)}';`;
    writeFileSync(at('index.html'), HTML);
    writeFileSync(at('assets/part-1a2b3c.js'), code);
    writeFileSync(at('assets/part-1a2b3c.js.br'), brotliCompressSync(code));
    writeFileSync(at('assets/part-1a2b3c.js.gz'), gzipSync(code));
    const app = pageRoutes(folder.path);
    const ask = (path: string, encoding?: string): Promise<Response> =>
      Promise.resolve(
        app.request(path, { headers: encoding === undefined ? {} : { 'accept-encoding': encoding } }),
      );
    for (const [takes, gives] of [
      ['gzip, deflate, br', 'br'],
      ['gzip', 'gzip'],
      [undefined, null],
    ] as const) {
      const answer = await ask('/assets/part-1a2b3c.js', takes);
      expect(answer.headers.get('content-encoding')).toBe(gives);
      expect(answer.headers.get('content-type')).toContain('javascript');
      expect(answer.headers.get('cache-control')).toContain('immutable');
      const bytes = Buffer.from(await answer.arrayBuffer());
      if (gives === null) expect(bytes.toString()).toBe(code);
      else expect(bytes.length).toBeLessThan(code.length / 10);
    }
    const page = await ask('/board/kites', 'gzip, deflate, br');
    expect([page.headers.get('content-encoding'), page.headers.get('vary')]).toEqual([
      'gzip',
      'Accept-Encoding',
    ]);
    expect(gunzipSync(Buffer.from(await page.arrayBuffer())).toString()).toBe(HTML);
    rmSync(at('assets/part-1a2b3c.js.br'));
    rmSync(at('assets/part-1a2b3c.js.gz'));
  });
});
