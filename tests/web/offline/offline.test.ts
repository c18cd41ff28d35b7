/** What a page does where the browser keeps nothing for it, and how it comes to a newer version. */
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';

type Offline = typeof import('../../../web/offline/index.ts');

/** As at the start of a page: nothing is known of another one. */
async function begin(): Promise<Offline> {
  vi.resetModules();
  return import('../../../web/offline/index.ts');
}

afterEach(() => {
  vi.unstubAllGlobals();
  vi.unstubAllEnvs();
});

describe('local storage', () => {
  /** What a browser gives a page. */
  function stubStorage(storage: object | null, kept: Readonly<Record<string, string>> = {}): void {
    const window = {};
    vi.stubGlobal('window', window);
    if (storage !== null) vi.stubGlobal('localStorage', Object.assign(Object.create(storage), kept));
    else
      Object.defineProperty(globalThis, 'localStorage', {
        configurable: true,
        get: () => {
          throw new DOMException('sites may keep nothing', 'SecurityError');
        },
      });
  }
  afterEach(() => {
    Reflect.deleteProperty(globalThis, 'localStorage');
  });
  const lent = (): Storage => (window as unknown as { readonly localStorage: Storage }).localStorage;

  it('is left alone where it works', async () => {
    const { lendStorage, keepsNothing } = await begin();
    const done: string[] = [];
    stubStorage({
      setItem: (key: string) => done.push(`set ${key}`),
      removeItem: (key: string) => done.push(`removed ${key}`),
    });
    lendStorage();
    expect([keepsNothing(), lent(), done]).toEqual([
      false,
      undefined,
      ['set larkboard.probe', 'removed larkboard.probe'],
    ]);
  });

  it('[B150] where there is none, the page keeps things for itself, and says so', async () => {
    const { lendStorage, keepsNothing } = await begin();
    stubStorage(null);
    expect(keepsNothing()).toBe(false);
    lendStorage();
    expect(keepsNothing()).toBe(true);
    const storage = lent();
    storage.setItem('larkboard.language', 'de');
    storage.setItem('larkboard.unit', 'mm');
    expect([storage.length, storage.key(1), storage.key(2)]).toEqual([2, 'larkboard.unit', null]);
    storage.removeItem('larkboard.unit');
    expect([
      storage.getItem('larkboard.language'),
      storage.getItem('larkboard.unit'),
      storage.length,
    ]).toEqual(['de', null, 1]);
  });

  it('where it is full, what it holds is there for this page, and what is kept now goes with it', async () => {
    const { lendStorage, keepsNothing } = await begin();
    const setItem = (): void => {
      throw new DOMException('full', 'QuotaExceededError');
    };
    stubStorage({ setItem }, { 'larkboard.language': 'de' });
    lendStorage();
    lent().setItem('larkboard.unit', 'mm');
    expect([keepsNothing(), lent().getItem('larkboard.language'), lent().getItem('larkboard.unit')]).toEqual([
      true,
      'de',
      'mm',
    ]);
  });

  it('a fault is none to pass over', async () => {
    const { lendStorage } = await begin();
    stubStorage({});
    expect(lendStorage).toThrow(TypeError);
  });
});

describe('a newer version of the page', () => {
  class Target extends EventTarget {
    waiting: Worker | null = null;
    installing: Worker | null = null;
    controller: object | null = {};
    readonly registered: string[] = [];
    answer: () => Promise<unknown> = () => Promise.resolve(registration);
    register(path: string): Promise<unknown> {
      this.registered.push(path);
      return this.answer();
    }
  }
  class Worker extends EventTarget {
    state = 'installing';
    readonly told: unknown[] = [];
    postMessage(message: unknown): void {
      this.told.push(message);
    }
    turn(state: string): void {
      this.state = state;
      this.dispatchEvent(new Event('statechange'));
    }
  }
  let container: Target;
  let registration: Target;
  let reloads: number;

  beforeEach(() => {
    container = new Target();
    registration = new Target();
    reloads = 0;
    vi.stubGlobal('navigator', { serviceWorker: container });
    vi.stubGlobal('location', {
      reload: () => {
        reloads += 1;
      },
    });
    vi.stubEnv('DEV', false);
  });

  /** One that is found while the page is open. */
  function found(): Worker {
    const worker = new Worker();
    registration.installing = worker;
    registration.dispatchEvent(new Event('updatefound'));
    return worker;
  }
  const settled = (): Promise<unknown> => new Promise((resolve) => setImmediate(resolve));

  it('is told once it is whole, and takes over when the maker wants it', async () => {
    const { keepOffline, isUpdateReady, onUpdateReady, takeUpdate } = await begin();
    let told = 0;
    const stop = onUpdateReady(() => {
      told += 1;
    });
    onUpdateReady(() => stop());
    keepOffline();
    await settled();
    const worker = found();
    expect([isUpdateReady(), told]).toEqual([false, 0]);
    worker.turn('installed');
    expect([isUpdateReady(), told]).toEqual([true, 1]);
    takeUpdate();
    expect([worker.told, reloads]).toEqual([['take-over'], 0]);
    container.dispatchEvent(new Event('controllerchange'));
    container.dispatchEvent(new Event('controllerchange'));
    expect(reloads).toBe(1);
    found().turn('installed');
    expect(told).toBe(1);
  });

  it('is told of one that waits since an earlier visit', async () => {
    const { keepOffline, isUpdateReady } = await begin();
    registration.waiting = new Worker();
    keepOffline();
    await settled();
    expect([container.registered, isUpdateReady()]).toEqual([['/service-worker.js'], true]);
  });

  it('the first one is no newer one, and one that fails is none', async () => {
    const { keepOffline, isUpdateReady } = await begin();
    keepOffline();
    await settled();
    found().turn('redundant');
    container.controller = null;
    found().turn('installed');
    registration.installing = null;
    registration.dispatchEvent(new Event('updatefound'));
    expect(isUpdateReady()).toBe(false);
  });

  it('that another tab has taken, the page only has to load', async () => {
    const { keepOffline, takeUpdate } = await begin();
    takeUpdate();
    expect(reloads).toBe(1);
    keepOffline();
    await settled();
    const worker = found();
    worker.turn('installed');
    worker.turn('activated');
    takeUpdate();
    expect([worker.told, reloads]).toEqual([[], 2]);
  });

  it('is not looked for while the page is made, nor where the browser has no workers', async () => {
    const { keepOffline } = await begin();
    vi.stubEnv('DEV', true);
    keepOffline();
    vi.stubEnv('DEV', false);
    vi.stubGlobal('navigator', {});
    keepOffline();
    expect(container.registered).toEqual([]);
  });

  it('where the browser refuses, the page works with a connection only', async () => {
    const { keepOffline, isUpdateReady } = await begin();
    for (const refusal of [new DOMException('not here', 'SecurityError'), new TypeError('no such file')]) {
      container.answer = () => Promise.reject(refusal);
      keepOffline();
    }
    await settled();
    expect([container.registered.length, isUpdateReady()]).toEqual([2, false]);
  });
});
