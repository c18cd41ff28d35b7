/** The page without a connection: from where each address is served, what is kept of the server's answers, and when a version goes. */
import { beforeAll, beforeEach, describe, expect, it, vi } from 'vitest';

/** A version is named by the build; here it is not. */
const VERSION = 'larkboard-page-__FILES__';
const ANSWERS = 'larkboard-answers';
const ORIGIN = 'https://boards.example';

class FakeCache {
  readonly kept = new Map<string, Response>();
  readonly #key = (request: Request | string, isWhole = true): string => {
    const url = new URL(typeof request === 'string' ? request : request.url, ORIGIN);
    return isWhole ? url.href : url.origin + url.pathname;
  };
  async match(request: Request | string, { ignoreSearch = false } = {}): Promise<Response | undefined> {
    return this.kept.get(this.#key(request, !ignoreSearch))?.clone();
  }
  async put(request: Request, response: Response): Promise<void> {
    this.kept.set(this.#key(request), response);
  }
  async delete(request: Request): Promise<boolean> {
    return this.kept.delete(this.#key(request));
  }
  async addAll(files: readonly string[]): Promise<void> {
    for (const file of files) this.kept.set(this.#key(file), new Response(`file ${file}`));
  }
}

let stored: Map<string, FakeCache>;
/** What the network answers; null = there is none. */
let network: ((request: Request) => Response) | null;
let done: string[];
const scope = new EventTarget();

beforeAll(async () => {
  vi.stubGlobal('self', {
    addEventListener: scope.addEventListener.bind(scope),
    skipWaiting: async () => void done.push('took over'),
    clients: { claim: async () => void done.push('claimed') },
  });
  vi.stubGlobal('location', new URL(ORIGIN));
  vi.stubGlobal('caches', {
    open: async (name: string) => {
      if (!stored.has(name)) stored.set(name, new FakeCache());
      return stored.get(name);
    },
    keys: async () => [...stored.keys()],
    delete: async (name: string) => stored.delete(name),
  });
  vi.stubGlobal('fetch', async (request: Request) => {
    if (network === null) throw new TypeError('no network');
    return network(request);
  });
  await import('../../../web/offline/service-worker.ts');
});
beforeEach(() => {
  stored = new Map([
    [VERSION, new FakeCache()],
    [ANSWERS, new FakeCache()],
  ]);
  network = ({ url }) => new Response(`network ${new URL(url).pathname}`);
  done = [];
});

/** Whatever the browser asks: the text, `error`, or null where it is left to the browser. */
async function askedFor(
  path: string,
  { method = 'GET', mode = 'cors' }: { method?: string; mode?: string } = {},
): Promise<string | null> {
  const request = new Request(new URL(path, ORIGIN), { method });
  Object.defineProperty(request, 'mode', { value: mode });
  const asked: Promise<Response>[] = [];
  const event = Object.assign(new Event('fetch'), {
    request,
    respondWith: (one: Promise<Response>) => asked.push(one),
  });
  scope.dispatchEvent(event);
  const [answer] = asked;
  return answer === undefined
    ? null
    : answer.then(
        (response) => response.text(),
        () => 'error',
      );
}

async function live(kind: 'install' | 'activate'): Promise<void> {
  const waiting: Promise<unknown>[] = [];
  scope.dispatchEvent(
    Object.assign(new Event(kind), { waitUntil: (until: Promise<unknown>) => waiting.push(until) }),
  );
  await Promise.all(waiting);
}

const keep = (name: string, path: string, text: string): unknown =>
  stored.get(name)?.kept.set(new URL(path, ORIGIN).href, new Response(text));

describe('[X21] what is served', () => {
  it.each(['/', '/help', '/board/kites', '/board/kites?look=chart'])(
    'the page at %s is the one that is kept',
    async (path) => {
      keep(VERSION, '/', 'the page');
      network = null;
      expect(await askedFor(path, { mode: 'navigate' })).toBe('the page');
    },
  );

  it('a page is fetched where it is not kept, or is none of ours', async () => {
    expect(await askedFor('/', { mode: 'navigate' })).toBe('network /');
    keep(VERSION, '/', 'the page');
    expect(await askedFor('/healthz', { mode: 'navigate' })).toBe('network /healthz');
  });

  it('a file of this version comes from here, and any other from the server', async () => {
    keep(VERSION, '/assets/base.js', 'kept base');
    expect(await askedFor('/assets/base.js?v=2')).toBe('kept base');
    expect(await askedFor('/assets/other.js')).toBe('network /assets/other.js');
    network = null;
    expect(await askedFor('/assets/other.js')).toBe('error');
  });

  it('what is written, asked by HEAD, or asked of others is left to the browser', async () => {
    keep(VERSION, '/assets/base.js', 'kept base');
    expect(await askedFor('/api/boards', { method: 'POST' })).toBeNull();
    expect(await askedFor('/assets/base.js', { method: 'HEAD' })).toBeNull();
    expect(await askedFor('https://elsewhere.example/assets/base.js')).toBeNull();
  });
});

describe('[X21] what the server said', () => {
  const PATHS = ['/api/demos', '/api/boards/kites', '/api/boards/kites/file'];
  it.each(PATHS)('%s is asked first, and kept for when there is no connection', async (path) => {
    expect(await askedFor(path)).toBe(`network ${path}`);
    network = null;
    expect(await askedFor(path)).toBe(`network ${path}`);
    network = () => new Response('newer');
    expect(await askedFor(path)).toBe('newer');
    network = null;
    expect(await askedFor(path)).toBe('newer');
  });

  it.each(['/api/mine', '/api/boards/kites/me', '/api/boards/kites/links'])(
    '%s is never kept',
    async (path) => {
      await askedFor(path);
      network = null;
      expect(await askedFor(path)).toBe('error');
      expect(stored.get(ANSWERS)?.kept.size).toBe(0);
    },
  );

  it.each([
    [404, 'error'],
    [403, 'error'],
    [503, 'kept'],
    [429, 'kept'],
  ])('[B152] after a %i without a connection: %s', async (status, then) => {
    keep(ANSWERS, '/api/boards/kites', 'kept');
    network = () => new Response('no', { status });
    expect(await askedFor('/api/boards/kites')).toBe('no');
    network = null;
    expect(await askedFor('/api/boards/kites')).toBe(then);
  });
});

describe('a version of the page', () => {
  it('makes its own place when it is installed', async () => {
    stored.clear();
    await live('install');
    expect([...stored.keys()]).toEqual([VERSION]);
  });

  it('takes those before it away once it is in use, and nothing else', async () => {
    for (const name of ['larkboard-page-old', 'of-somebody-else']) stored.set(name, new FakeCache());
    await live('activate');
    expect([...stored.keys()]).toEqual([VERSION, ANSWERS, 'of-somebody-else']);
    expect(done).toEqual(['claimed']);
  });

  it('takes over when it is told to, and by nothing else', () => {
    scope.dispatchEvent(new MessageEvent('message', { data: 'hello' }));
    expect(done).toEqual([]);
    scope.dispatchEvent(new MessageEvent('message', { data: 'take-over' }));
    expect(done).toEqual(['took over']);
  });
});
