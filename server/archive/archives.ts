/** Boards as a whole: packed into an archive, loaded from one, deleted for good. */
import { randomBytes } from 'node:crypto';
import * as Y from 'yjs';
import {
  type BoardPart,
  compactDesign,
  copyTalk,
  DOCUMENT_VERSION,
  readDesign,
  readTalk,
} from '../../engine/document/index.ts';
import { formatBoard } from '../../engine/index.ts';
import { newBoardId } from '../boards/index.ts';
import type { BoardRecord, KeptRecord, Store } from '../store/index.ts';
import { checkCopy, DEFAULT_SYNC_LIMITS, type Rooms } from '../sync/index.ts';
import { ArchiveError, DESIGN, TALK } from './archive-format.ts';
import { readArchive } from './read-archive.ts';
import { writeArchive } from './write-archive.ts';

export interface ArchivesDeps {
  readonly store: Store;
  readonly rooms: Rooms;
  readonly now: () => number;
  /** Forgets the links of a deleted board, and with them everybody's rights on it and its branches. */
  readonly forgetLinks: (board: string) => Promise<void>;
}

/** Kinds of records that a new board may begin with: what belongs to nobody and leads nowhere else. */
const LOADED_KINDS: ReadonlySet<string> = new Set(['version']);

export class Archives {
  readonly #deps: ArchivesDeps;

  constructor(deps: ArchivesDeps) {
    this.#deps = deps;
  }

  /** All that is kept of a board, edits on their way to the disk included. @throws ArchiveError 'too-large' */
  async pack(board: string): Promise<{ readonly title: string; readonly bytes: Uint8Array }> {
    const { store, now } = this.#deps;
    const design = await this.#holding(board, 'design', (doc) => {
      const compact = compactDesign(doc);
      return { board: readDesign(doc).board, bytes: Y.encodeStateAsUpdate(compact ?? doc) };
    });
    const talk = await this.#holding(board, 'talk', (doc) => {
      const snapshot = readTalk(doc);
      const copy = copyTalk(snapshot, (id) => id);
      return { text: snapshot.threads, bytes: Y.encodeStateAsUpdate(copy) };
    });
    const records: KeptRecord[] = [];
    for (const { kind, id } of await store.records(board, null)) {
      const record = await store.record(board, kind, id);
      if (record !== null) records.push(record);
    }
    const { title } = design.board;
    const content = {
      title,
      boardFile: formatBoard(design.board),
      design: design.bytes,
      talk: talk.bytes,
      talkText: talk.text,
      records,
    };
    return { title, bytes: await writeArchive(content, now()) };
  }

  /**
   * Makes a new board of an archive, or nothing at all.
   * @throws ArchiveError naming the part that cannot be read
   */
  async load(packed: Uint8Array): Promise<BoardRecord> {
    const { store, now } = this.#deps;
    const archive = await readArchive(packed);
    const design = cleanDesign(archive.design, DESIGN);
    const idOf = strangers();
    const talk = cleanTalk(archive.talk, idOf);
    const records = archive.records
      .filter(({ kind }) => LOADED_KINDS.has(kind))
      .map((record) => ({ ...record, about: cleanAbout(record.about, record.id, idOf) }));
    const board: BoardRecord = { id: newBoardId(), kind: 'board', createdAt: now() };
    const documents = [
      { part: 'design', bytes: design },
      { part: 'talk', bytes: talk },
    ] as const;
    if (!(await store.addBoard(board, documents))) throw new Error('a new random board id was taken');
    try {
      for (const { kind, id, about, bytes } of records)
        await store.putRecord({ board: board.id, kind, id, about, bytes });
    } catch (cause) {
      await store.removeBoard(board.id);
      throw cause;
    }
    return board;
  }

  /**
   * Deletes a board for good: what is stored of it, then everybody's sockets, then its links and branches. A write that comes later
   * finds no board. Ends in between leave links that open nothing.
   * @returns false when it was gone already
   */
  async remove(board: string): Promise<boolean> {
    const { store, rooms, forgetLinks } = this.#deps;
    const isRemoved = await store.removeBoard(board);
    rooms.closeBoard(board);
    await forgetLinks(board);
    return isRemoved;
  }

  async #holding<T>(board: string, part: 'design' | 'talk', read: (doc: Y.Doc) => T): Promise<T> {
    const hold = await this.#deps.rooms.hold({ board, part });
    try {
      return read(hold.room.doc);
    } finally {
      hold.release();
    }
  }
}

/** A document of an update from outside, no larger than a room would take. @throws ArchiveError */
function documentOf(update: Uint8Array, path: string, part: BoardPart): Y.Doc {
  if (update.length > DEFAULT_SYNC_LIMITS.documentBytes)
    throw new ArchiveError('too-large', path, `has more than ${DEFAULT_SYNC_LIMITS.documentBytes} bytes`);
  const check = checkCopy(update, part);
  if (check.kind === 'unmet') throw new ArchiveError('damaged', path, 'lacks a part of its own past');
  if (check.kind !== 'fits' && check.kind !== 'empty')
    throw new ArchiveError('damaged', path, `is no document that can be read: ${check.kind}`);
  const doc = new Y.Doc();
  Y.applyUpdate(doc, update);
  if (doc.store.pendingStructs !== null || doc.store.pendingDs !== null)
    throw new ArchiveError('damaged', path, 'lacks a part of its own past');
  return doc;
}

/** The design alone, under the same ids: nothing else that the update held comes along. */
function cleanDesign(update: Uint8Array, path: string): Uint8Array {
  const doc = documentOf(update, path, 'design');
  const version = doc.getMap('meta').get('version');
  if (typeof version === 'number' && version > DOCUMENT_VERSION)
    throw new ArchiveError(
      'newer-archive',
      path,
      `is of version ${version}; this server reads up to ${DOCUMENT_VERSION}`,
    );
  const compact = compactDesign(doc);
  if (compact === null) throw new ArchiveError('damaged', path, 'holds no board');
  return Y.encodeStateAsUpdate(compact);
}

/** Gives every person of an archive an id that is nobody's here: an archive cannot make a person of this server say something. */
function strangers(): (person: string) => string {
  const ids = new Map<string, string>();
  return (person) => {
    const known = ids.get(person) ?? `away-${randomBytes(12).toString('base64url')}`;
    ids.set(person, known);
    return known;
  };
}

/** What is told of a version, by a stranger. @throws ArchiveError */
function cleanAbout(about: string, id: string, idOf: (person: string) => string): string {
  let value: Record<string, unknown>;
  try {
    value = JSON.parse(about) as Record<string, unknown>;
  } catch (cause) {
    throw new ArchiveError('damaged', `record ${id}`, 'says nothing that can be read', { cause });
  }
  const by = value?.by as { personId?: unknown } | null | undefined;
  if (typeof by?.personId !== 'string') return about;
  return JSON.stringify({ ...value, by: { ...by, personId: idOf(by.personId) } });
}

/** The talk alone. @throws ArchiveError */
function cleanTalk(update: Uint8Array, idOf: (person: string) => string): Uint8Array {
  const talk = readTalk(documentOf(update, TALK, 'talk'));
  if (talk.isNewer) throw new ArchiveError('newer-archive', TALK, 'is of a later version');
  return Y.encodeStateAsUpdate(copyTalk(talk, idOf));
}
