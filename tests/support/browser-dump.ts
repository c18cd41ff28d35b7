/** What a browser keeps for the page, as JSON: every database, every entry, local storage and cookies; and back into another browser. */
import type { Browser, Page } from 'playwright-core';
import * as Y from 'yjs';
import { type Visitor, visit } from './browser.ts';

/** Bytes in base64, or any other value as it is. */
type Kept = { readonly bytes: string } | { readonly value: unknown };

export interface StoreDump {
  readonly name: string;
  readonly keyPath: string | readonly string[] | null;
  readonly autoIncrement: boolean;
  readonly entries: readonly { readonly key: IDBValidKey; readonly kept: Kept }[];
}

export interface BrowserDump {
  readonly cookies: readonly { readonly name: string; readonly value: string }[];
  readonly localStorage: Readonly<Record<string, string>>;
  readonly databases: readonly {
    readonly name: string;
    readonly version: number;
    readonly stores: readonly StoreDump[];
  }[];
}

/** Reads all that the page's browser keeps for it, while the page goes on. */
export async function dumpBrowser({ context, page }: Visitor): Promise<BrowserDump> {
  const cookies = (await context.cookies()).map(({ name, value }) => ({ name, value }));
  const kept = await page.evaluate(async () => {
    const done = <T>(request: IDBRequest<T>): Promise<T> =>
      new Promise((resolve, reject) => {
        request.onsuccess = () => resolve(request.result);
        request.onerror = () => reject(request.error);
      });
    const asKept = (value: unknown): Kept => {
      const bytes = value instanceof ArrayBuffer ? new Uint8Array(value) : value;
      if (!(bytes instanceof Uint8Array)) return { value };
      return { bytes: btoa(Array.from(bytes, (byte) => String.fromCharCode(byte)).join('')) };
    };
    const databases = [];
    for (const { name } of await indexedDB.databases()) {
      const db = await done(indexedDB.open(name!));
      const stores = [];
      for (const storeName of db.objectStoreNames) {
        const store = db.transaction(storeName).objectStore(storeName);
        const [keys, values] = await Promise.all([done(store.getAllKeys()), done(store.getAll())]);
        stores.push({
          name: storeName,
          keyPath: store.keyPath,
          autoIncrement: store.autoIncrement,
          entries: keys.map((key, i) => ({ key, kept: asKept(values[i]) })),
        });
      }
      databases.push({ name: name!, version: db.version, stores });
      db.close();
    }
    return { localStorage: { ...localStorage }, databases };
  });
  return { cookies, ...kept };
}

/** A visitor in a new profile that keeps what the dump says, at this address; no page is open in it yet. */
export async function visitWith(browser: Browser, http: string, dump: BrowserDump): Promise<Visitor> {
  const visitor = await visit(browser, 'about:blank');
  const { context } = visitor;
  await context.addCookies(dump.cookies.map(({ name, value }) => ({ name, value, url: http })));
  // An answer of the server that is no page: things are kept for its address, and nothing of ours runs in it.
  const plain = await context.newPage();
  await plain.goto(`${http}/healthz`);
  await restore(plain, dump);
  await plain.close();
  return visitor;
}

async function restore(page: Page, { localStorage: texts, databases }: BrowserDump): Promise<void> {
  await page.evaluate(
    async (text) => {
      const given = JSON.parse(text) as Pick<BrowserDump, 'localStorage' | 'databases'>;
      const unpack = (kept: Kept): unknown =>
        'bytes' in kept ? Uint8Array.from(atob(kept.bytes), (char) => char.charCodeAt(0)) : kept.value;
      for (const [key, text] of Object.entries(given.localStorage)) localStorage.setItem(key, text);
      for (const { name, version, stores } of given.databases)
        await new Promise<void>((resolve, reject) => {
          const opening = indexedDB.open(name, version);
          opening.onerror = () => reject(opening.error);
          opening.onupgradeneeded = () => {
            for (const { name: storeName, keyPath, autoIncrement, entries } of stores) {
              const store = opening.result.createObjectStore(storeName, {
                keyPath: keyPath as string | string[] | null,
                autoIncrement,
              });
              for (const { key, kept } of entries)
                if (keyPath === null) store.put(unpack(kept), key);
                else store.put(unpack(kept));
            }
          };
          opening.onsuccess = () => {
            opening.result.close();
            resolve();
          };
        });
    },
    // As text: the type of what a page is given is worked out too deep for the compiler.
    JSON.stringify({ localStorage: texts, databases }),
  );
}

/** The document that a database of a dump holds. @throws Error when the dump has no such database */
export function documentIn(dump: BrowserDump, name: string): Y.Doc {
  const database = dump.databases.find((one) => one.name === name);
  const updates = database?.stores.find((store) => store.name === 'updates');
  if (updates === undefined) throw new Error(`the browser keeps no ${name}`);
  const doc = new Y.Doc();
  for (const { kept } of updates.entries)
    if ('bytes' in kept) Y.applyUpdate(doc, Buffer.from(kept.bytes, 'base64'));
  return doc;
}
