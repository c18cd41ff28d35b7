/**
 * Where this browser keeps what a person did on a board, so that undo goes on after a reload, a crash and a renewal.
 *
 * One database for all boards. A record is one edit, its key `[board, person, when, tab, number]`: those of one person on one
 * board stand together in the order in which they were done. A step that was taken back goes, in every tab. What is kept is
 * bounded by bytes and age; where the browser gives no database, or takes it away, undo ends with the page.
 */
import {
  type Edit,
  encodeEdit,
  type OwnStep,
  readEdit,
  type StepKeeper,
} from '../../engine/document/index.ts';
import { newId } from './person.ts';

const NAME = 'larkboard-steps';
const EDITS = 'edits';
const MOST_BYTES = 4_000_000;
const MOST_DAYS = 30;

export interface StepOwner {
  readonly boardId: string;
  readonly personId: string;
  /** The Yjs client as which the person writes now. */
  readonly client: number;
  /** The time in ms since 1970. */
  readonly now: () => number;
  /** Bytes of all steps at most; for tests. */
  readonly mostBytes?: number;
}

type Key = readonly [board: string, person: string, at: number, tab: string, number: number];

interface Kept {
  readonly step: string;
  readonly way: OwnStep['way'];
  readonly client: number;
  readonly bytes: Uint8Array;
}

interface Shelved {
  readonly keys: Key[];
  bytes: number;
}

function done<T>(request: IDBRequest<T>): Promise<T> {
  return new Promise((resolve, reject) => {
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error);
  });
}

async function openDatabase(): Promise<IDBDatabase | null> {
  try {
    const opening = indexedDB.open(NAME, 1);
    opening.onupgradeneeded = () => opening.result.createObjectStore(EDITS);
    return await done(opening);
  } catch (error) {
    // The disk is full, or the person lets sites keep nothing.
    if (!(error instanceof DOMException)) throw error;
    return null;
  }
}

export class StepShelf implements StepKeeper {
  /** What was kept, the oldest first. */
  readonly steps: readonly OwnStep[];
  /** Yjs clients as which the person wrote it. */
  readonly clients: ReadonlySet<number>;
  /** Told of a step that was taken back in another tab. */
  onDropped: (step: OwnStep) => void = () => {};
  readonly #owner: StepOwner;
  readonly #ids: Map<OwnStep, string>;
  /** By step, the oldest first. */
  readonly #shelved: Map<string, Shelved>;
  readonly #tab = newId();
  readonly #channel: BroadcastChannel;
  #db: IDBDatabase | null;
  #count = 0;

  /** What this browser keeps of the owner's steps; null where it gives the page no database. */
  static async open(owner: StepOwner): Promise<StepShelf | null> {
    const db = await openDatabase();
    return db && new StepShelf(db, owner, await readKept(db, owner));
  }

  private constructor(db: IDBDatabase, owner: StepOwner, kept: readonly (readonly [Key, Kept])[]) {
    this.#db = db;
    this.#owner = owner;
    const steps = new Map<string, { readonly way: OwnStep['way']; readonly edits: Edit[] }>();
    this.#shelved = new Map();
    const unread: string[] = [];
    for (const [key, { step, way, bytes }] of kept) {
      this.#note(step, key, bytes.length);
      const read = readEdit(bytes);
      const known = steps.get(step) ?? { way, edits: [] };
      steps.set(step, known);
      if (read.ok) known.edits.push(read.edit);
      else unread.push(step);
    }
    // Half a step cannot be taken back as one.
    for (const step of new Set(unread)) {
      steps.delete(step);
      this.#drop(step);
    }
    this.steps = [...steps.values()];
    this.#ids = new Map([...steps].map(([id, step]) => [step, id]));
    this.clients = new Set(kept.map(([, { client }]) => client));
    db.onversionchange = () => this.#lose();
    db.onclose = () => this.#lose();
    this.#channel = new BroadcastChannel(NAME);
    this.#channel.onmessage = ({ data }: MessageEvent<unknown>) => {
      for (const [step, id] of this.#ids) if (id === data) this.#onDroppedElsewhere(step, id);
    };
  }

  added(step: OwnStep, edit: Edit): void {
    const id = this.#ids.get(step) ?? newId();
    this.#ids.set(step, id);
    const bytes = encodeEdit(edit);
    const { boardId, personId, client, now } = this.#owner;
    const key: Key = [boardId, personId, now(), this.#tab, this.#count++];
    const kept: Kept = { step: id, way: step.way, client, bytes };
    this.#write((edits) => edits.put(kept, key as unknown as IDBValidKey));
    this.#note(id, key, bytes.length);
    this.#bound();
  }

  dropped(step: OwnStep): void {
    const id = this.#ids.get(step);
    if (id === undefined) return;
    this.#ids.delete(step);
    this.#drop(id);
    this.#channel.postMessage(id);
  }

  /** Takes away all that is kept of the board, whoever did it. */
  forgetBoard(): void {
    const { boardId } = this.#owner;
    this.#write((edits) => edits.delete(IDBKeyRange.bound([boardId], [boardId, []])));
    this.#shelved.clear();
  }

  /** Lets go of the database; what is on its way is still kept. */
  close(): void {
    this.#channel.close();
    this.#db?.close();
    this.#db = null;
  }

  #onDroppedElsewhere(step: OwnStep, id: string): void {
    this.#ids.delete(step);
    this.#shelved.delete(id);
    this.onDropped(step);
  }

  #note(step: string, key: Key, bytes: number): void {
    const shelved = this.#shelved.get(step) ?? { keys: [], bytes: 0 };
    this.#shelved.set(step, shelved);
    shelved.keys.push(key);
    shelved.bytes += bytes;
  }

  #drop(step: string): void {
    const keys = this.#shelved.get(step)?.keys ?? [];
    this.#shelved.delete(step);
    this.#write((edits) => {
      for (const key of keys) edits.delete(key as unknown as IDBValidKey);
    });
  }

  /** The oldest steps go, and one that is too large by itself. */
  #bound(): void {
    let bytes = 0;
    for (const shelved of this.#shelved.values()) bytes += shelved.bytes;
    for (const [step, shelved] of this.#shelved) {
      if (bytes <= (this.#owner.mostBytes ?? MOST_BYTES)) return;
      bytes -= shelved.bytes;
      this.#drop(step);
    }
  }

  #write(act: (edits: IDBObjectStore) => unknown): void {
    if (this.#db === null) return;
    try {
      const writing = this.#db.transaction(EDITS, 'readwrite', { durability: 'relaxed' });
      writing.onabort = () => this.#lose();
      act(writing.objectStore(EDITS));
    } catch (error) {
      // The browser has taken it away.
      if (!(error instanceof DOMException)) throw error;
      this.#lose();
    }
  }

  /** Undo goes on in this page. */
  #lose(): void {
    this.#db?.close();
    this.#db = null;
  }
}

/** The owner's records in their order; those of anybody that are too old go. */
async function readKept(
  db: IDBDatabase,
  { boardId, personId, now }: StepOwner,
): Promise<readonly (readonly [Key, Kept])[]> {
  const edits = db.transaction(EDITS, 'readwrite').objectStore(EDITS);
  const oldest = now() - MOST_DAYS * 24 * 3600 * 1000;
  const keys = (await done(edits.getAllKeys())) as unknown as readonly Key[];
  for (const key of keys) if (key[2] < oldest) edits.delete(key as unknown as IDBValidKey);
  const own = keys.filter(([board, person, at]) => board === boardId && person === personId && at >= oldest);
  const range = IDBKeyRange.bound([boardId, personId, oldest], [boardId, personId, []]);
  const kept: readonly Kept[] = own.length === 0 ? [] : await done(edits.getAll(range));
  return kept.map((one, i) => [own[i]!, one]);
}
