/** What the page asks of a browser when it comes to a board, for tests without one: databases, sockets, and a server in memory. */
import { IDBFactory, IDBKeyRange } from 'fake-indexeddb';
import { vi } from 'vitest';
import { MemoryRooms } from './memory-rooms.ts';

/** A browser that has kept nothing yet. `vi.unstubAllGlobals` takes it away. @returns the rooms that its sockets come to */
export function stubBrowser(): MemoryRooms {
  const rooms = new MemoryRooms();
  vi.stubGlobal('indexedDB', new IDBFactory());
  vi.stubGlobal('IDBKeyRange', IDBKeyRange);
  vi.stubGlobal('WebSocket', rooms.socketClass);
  return rooms;
}

const NO_ROOM = 'no room';
let isExpected = false;

/** y-indexeddb leaves it to nobody that no database opens, which browsers write to their console. All else that nobody awaits still fails the test. */
function expectNoRoom(): void {
  if (isExpected) return;
  isExpected = true;
  const listeners = process.rawListeners('unhandledRejection');
  process.removeAllListeners('unhandledRejection');
  process.on('unhandledRejection', (error, promise) => {
    if (String(error).endsWith(NO_ROOM)) return;
    for (const listener of listeners) listener.call(process, error, promise);
  });
}

/** From now on the browser gives the page no database, or none of these names: it says so later, or throws. */
export function refuseDatabases(isRefused: (name: string) => boolean = () => true, throws = false): void {
  expectNoRoom();
  const { indexedDB } = globalThis;
  const open = indexedDB.open.bind(indexedDB);
  indexedDB.open = (name, version) => {
    if (!isRefused(name)) return open(name, version);
    if (throws) throw new DOMException(NO_ROOM, 'SecurityError');
    const opening = {
      error: new DOMException(NO_ROOM, 'QuotaExceededError'),
    } as unknown as IDBOpenDBRequest;
    setImmediate(() => opening.onerror?.({ target: opening } as unknown as Event));
    return opening;
  };
}

/** Names of all that the browser keeps. */
export async function keptNames(): Promise<readonly (string | undefined)[]> {
  return (await indexedDB.databases()).map(({ name }) => name).sort();
}
