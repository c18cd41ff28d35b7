/** Lets the browser keep the page, so that it starts without a connection, and tells when a newer version is ready. */

type Listener = () => void;

let waiting: ServiceWorker | null = null;
const listeners = new Set<Listener>();

function found(worker: ServiceWorker): void {
  waiting = worker;
  for (const listener of [...listeners]) listener();
}

function watch(registration: ServiceWorkerRegistration): void {
  if (registration.waiting !== null) found(registration.waiting);
  registration.addEventListener('updatefound', () => {
    const worker = registration.installing;
    worker?.addEventListener('statechange', () => {
      // At the very first visit there is no older version that this one waits for.
      if (worker.state === 'installed' && navigator.serviceWorker.controller !== null) found(worker);
    });
  });
}

/** Registers the service worker of a built page. Does nothing where the browser has none or the page is served for development. */
export function keepOffline(): void {
  if (!('serviceWorker' in navigator) || import.meta.env.DEV) return;
  navigator.serviceWorker.register('/service-worker.js').then(watch, (error: unknown) => {
    // Private windows and strict settings refuse it; the page then works with a connection only, as any page.
    if (!(error instanceof DOMException || error instanceof TypeError)) throw error;
  });
}

/** Whether a newer version waits to take over. */
export function isUpdateReady(): boolean {
  return waiting !== null;
}

/** @returns stops it */
export function onUpdateReady(listener: Listener): () => void {
  listeners.add(listener);
  return () => listeners.delete(listener);
}

/** Lets the newer version take over, unless it did in another tab, and loads the page anew. */
export function takeUpdate(): void {
  if (waiting?.state !== 'installed') {
    location.reload();
    return;
  }
  navigator.serviceWorker.addEventListener('controllerchange', () => location.reload(), { once: true });
  waiting.postMessage('take-over');
}
