/**
 * The page without a connection.
 *
 * The files of one version of the page are kept together under that version's name and served from there, so that pages and
 * what they fetch later always belong together. What the server says is asked for first, and kept for when it cannot be reached.
 * A newer version waits until the maker takes it or closes the page.
 */

/** Only what this file uses of the service worker's scope: the DOM types and those of workers exclude each other. */
interface LifeEvent extends Event {
  waitUntil(done: Promise<unknown>): void;
}
interface FetchEvent extends LifeEvent {
  readonly request: Request;
  respondWith(response: Promise<Response>): void;
}
const scope = self as unknown as {
  addEventListener(kind: 'install' | 'activate', listener: (event: LifeEvent) => void): void;
  addEventListener(kind: 'fetch', listener: (event: FetchEvent) => void): void;
  addEventListener(kind: 'message', listener: (event: MessageEvent) => void): void;
  skipWaiting(): Promise<void>;
  readonly clients: { claim(): Promise<void> };
};

/** Filled in by the build: `[version, ...addresses]`. */
const [VERSION = '', ...FILES] = '__FILES__'.split('\n');
const PAGE = `larkboard-page-${VERSION}`;
const ANSWERS = 'larkboard-answers';
/** Answers worth keeping: which boards there are, what one may do there, and what a board looks like. */
const KEPT = /^\/api\/(demos|boards\/[\w-]+(\/file)?)$/;

scope.addEventListener('install', (event) => {
  event.waitUntil(caches.open(PAGE).then((cache) => cache.addAll(FILES)));
});

scope.addEventListener('activate', (event) => {
  event.waitUntil(
    caches
      .keys()
      .then((names) =>
        Promise.all(
          names
            .filter((name) => name.startsWith('larkboard-page-') && name !== PAGE)
            .map((name) => caches.delete(name)),
        ),
      )
      .then(() => scope.clients.claim()),
  );
});

scope.addEventListener('message', (event) => {
  if (event.data === 'take-over') void scope.skipWaiting();
});

scope.addEventListener('fetch', (event) => {
  const { request } = event;
  const url = new URL(request.url);
  if (request.method !== 'GET' || url.origin !== location.origin) return;
  if (request.mode === 'navigate') event.respondWith(servePage(request, url));
  else if (KEPT.test(url.pathname)) event.respondWith(askFirst(request));
  else event.respondWith(serveFile(request));
});

async function servePage(request: Request, { pathname }: URL): Promise<Response> {
  if (pathname !== '/' && pathname !== '/help' && !pathname.startsWith('/board/')) return fetch(request);
  const cache = await caches.open(PAGE);
  return (await cache.match('/')) ?? fetch(request);
}

async function serveFile(request: Request): Promise<Response> {
  const cache = await caches.open(PAGE);
  return (await cache.match(request, { ignoreSearch: true })) ?? fetch(request);
}

async function askFirst(request: Request): Promise<Response> {
  const cache = await caches.open(ANSWERS);
  let response: Response;
  try {
    response = await fetch(request);
  } catch (error) {
    const kept = await cache.match(request);
    if (kept === undefined) throw error;
    return kept;
  }
  if (response.ok) await cache.put(request, response.clone());
  // A board that was deleted, or closed to whoever sits here, is not kept either; what else goes wrong passes.
  else if (response.status === 404 || response.status === 403) await cache.delete(request);
  return response;
}

export {};
