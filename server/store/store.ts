/**
 * Where boards are kept: a record for each board and, for each of its documents, a log of rows.
 *
 * A document is the merge of all its rows, in any order, each once or more often (Yjs updates commute and repeat
 * without harm). So a row may be written again after a failure whose outcome is unknown, and a snapshot may stand for
 * rows that a reader has already seen.
 *
 * Every write has reached the disk when its promise fulfils. A write that fails rejects with a {@link StoreError}; it
 * then either happened as a whole or not at all.
 */
import { BOARD_PARTS, type BoardPart, LESSON_PART } from '../../engine/document/index.ts';

/**
 * `demo`: made from the demo data, there for everybody, not to be edited. `branch`: of a proposal, listed nowhere but there. `lesson`: no
 * board but a lesson given on one, with a document of its own and none of a board's.
 */
export const BOARD_KINDS = ['board', 'demo', 'branch', 'lesson'] as const;
/** One of {@link BOARD_KINDS}. */
export type BoardKind = (typeof BOARD_KINDS)[number];

/** The documents of a record of this kind. */
export function partsOf(kind: BoardKind): readonly BoardPart[] {
  return kind === 'lesson' ? [LESSON_PART] : BOARD_PARTS;
}

export interface BoardRecord {
  readonly id: string;
  readonly kind: BoardKind;
  /** Milliseconds since 1970 (UTC). */
  readonly createdAt: number;
}

/** Address of one document. */
export interface DocumentAddress {
  readonly board: string;
  readonly part: BoardPart;
}

/** One row of a document's log: an update, or a snapshot that stands for earlier rows. */
export interface StoredRow {
  /** Counts up; unique in the whole store. */
  readonly seq: number;
  readonly bytes: Uint8Array;
  /** Its bytes are not those that were written; only where it was asked for. */
  readonly isDamaged?: true;
}

/** A row of a document whose past is kept. */
export interface WrittenRow extends StoredRow {
  /** Number of the ended or present generation in which it gave way to a snapshot; null where it is still in the log. */
  readonly generation: number | null;
  /** Who wrote it, as was said when it was added; empty where nobody said. */
  readonly by: string;
}

export interface PastSize {
  /** Of all rows. */
  readonly bytes: number;
  /** Who wrote the oldest row of which somebody said; empty where there is none. */
  readonly oldestBy: string;
}

/** The oldest rows of a document's past, which give way. */
export interface PastFold {
  readonly seqs: readonly number[];
  /** The generation of the last of them. */
  readonly generation: number;
  /** Holds all that those of that generation hold, and takes the place of the last; null: nothing does. */
  readonly base: Uint8Array | null;
}

/**
 * Whether the rows of a document stay, as its past, when a snapshot or a new generation takes their place: who wrote what is read from them
 * (`server/journal`).
 */
export function keepsPast(part: BoardPart): boolean {
  return part === 'design';
}

/** Stands for who wrote a snapshot whose rows are in the past: nothing in it is not there too. */
export const OF_PAST_ROWS = '=';

/** How rows that are not as they were written are told of. */
export interface LoadOptions {
  readonly damaged?: 'mark';
}

/** A new last state of a generation that has ended. */
export interface LastState {
  readonly generation: number;
  readonly bytes: Uint8Array;
  /** Version of the one in whose place it goes; where that is another by now, the row is refused as `overtaken`. */
  readonly version: number;
}

/** A generation that has ended, in a list. */
export interface EndedGeneration {
  readonly generation: number;
  /** The name drawn when it began; empty where none was. */
  readonly drawn: string;
  /** How many times its last state gave way to another. */
  readonly version: number;
}

/** What a row rests on, and what goes with it. */
export interface RowOptions {
  /** Generation that the row belongs to. Once that has ended the row is refused as `outdated`. */
  readonly generation?: number;
  /** Who wrote it, in a small text that the store does not look into. */
  readonly by?: string;
  /** Takes the place of the last state of an ended generation, in the same step, if that is still the one it was made from. */
  readonly lastState?: LastState;
}

export interface Renewal {
  /** The rows that the document has now. */
  readonly seqs: readonly number[];
  readonly snapshot: Uint8Array;
  /** Number of the generation that ends. */
  readonly generation: number;
  /** The name that was drawn for it; empty where none was. */
  readonly drawn: string;
  /** Its last state. */
  readonly lastState: Uint8Array;
}

/**
 * What is kept beside a board's documents, such as a version. The store does not look inside: `kind` and `id` name it
 * within its board, `about` is a small text (JSON) that lists show, `bytes` is the thing itself.
 */
export interface KeptRecord {
  readonly board: string;
  readonly kind: string;
  readonly id: string;
  readonly about: string;
  readonly bytes: Uint8Array;
}

/** A record that is made together with its board. */
export type FirstRecord = Omit<KeptRecord, 'board'>;

/** A record in a list: without its bytes, only how many they are. */
export interface ListedRecord extends Omit<KeptRecord, 'bytes'> {
  readonly size: number;
}

/** A record as far as it is counted. */
export type RecordAmong = Pick<ListedRecord, 'id' | 'about'>;

/** Whether two lists hold the same records, in whatever order. */
export function areSameRecords(a: readonly RecordAmong[], b: readonly RecordAmong[]): boolean {
  const abouts = new Map(a.map(({ id, about }) => [id, about]));
  return a.length === b.length && b.every(({ id, about }) => abouts.get(id) === about);
}

export interface CheckReport {
  readonly boards: number;
  readonly documents: number;
  readonly rows: number;
  readonly records: number;
  /** Of rows and records. */
  readonly bytes: number;
  /** What is wrong, in words; empty when all is well. */
  readonly faults: readonly string[];
}

export type StoreFailure =
  | 'full'
  | 'read-only'
  | 'locked'
  | 'damaged'
  | 'unavailable'
  | 'unknown-board'
  | 'outdated'
  | 'overtaken'
  | 'closed';

/** Why the store could not do it. `unknown-board`, `outdated`, `overtaken` and `closed` do not pass by waiting; the others may. */
export class StoreError extends Error {
  readonly kind: StoreFailure;

  constructor(kind: StoreFailure, message: string, options?: ErrorOptions) {
    super(message, options);
    this.name = 'StoreError';
    this.kind = kind;
  }
}

/** Why a single row was not added, while others of the same commit were. */
export type RowRefusal = 'unknown-board' | 'outdated' | 'overtaken';

/** The error for it. */
export function refusalError(refusal: RowRefusal, { board, part }: DocumentAddress): StoreError {
  const messages = {
    'unknown-board': `there is no board ${board}`,
    outdated: `${board}/${part} has a newer generation than this row`,
    overtaken: `an ended generation of ${board}/${part} was written by somebody else meanwhile`,
  };
  return new StoreError(refusal, messages[refusal]);
}

export interface Store {
  /** Makes a board with its first documents and records in one step. @returns false, and changes nothing, when the id is taken. */
  addBoard(
    board: BoardRecord,
    documents: readonly { readonly part: BoardPart; readonly bytes: Uint8Array }[],
    records?: readonly FirstRecord[],
  ): Promise<boolean>;
  board(id: string): Promise<BoardRecord | null>;
  /** All boards of a kind, oldest first. */
  boardsOfKind(kind: BoardKind): Promise<readonly BoardRecord[]>;
  /** All boards that have a record of a kind, oldest first. Goes through all records there are. */
  boardsWithRecord(recordKind: string): Promise<readonly BoardRecord[]>;
  /** Forgets a board, all its documents and all its records. @returns false when there is none. */
  removeBoard(id: string): Promise<boolean>;
  /**
   * The rows of a document by seq; empty for a document never written. Rejects with `damaged` when a row is not as written,
   * unless asked to mark such rows, for whoever makes do with the others.
   */
  load(address: DocumentAddress, options?: LoadOptions): Promise<readonly StoredRow[]>;
  /** Adds a row. @returns its seq. Rejects with `unknown-board`, `outdated` and `overtaken`. */
  append(address: DocumentAddress, bytes: Uint8Array, options?: RowOptions): Promise<number>;
  /**
   * Replaces rows by one snapshot, which must hold all they hold. Rows not named stay. Rows already gone are no error. Where the past is
   * kept, and the generation said, they go there in the same step: not where a log is repaired, since what can't be read is not kept.
   * @returns the snapshot's seq. Rejects with `unknown-board` and `outdated`.
   */
  compact(
    address: DocumentAddress,
    seqs: readonly number[],
    snapshot: Uint8Array,
    generation?: number,
  ): Promise<number>;
  /**
   * Begins a new generation of a document: the snapshot takes the place of its rows, and its last state is put away under
   * the number of the generation it ends. Where the past is kept the rows go there. @returns false, and changes nothing, when the rows are not exactly those named.
   */
  renew(address: DocumentAddress, renewal: Renewal): Promise<boolean>;
  /** The last state of an ended generation; null when there is none. */
  lastState(address: DocumentAddress, generation: number): Promise<Uint8Array | null>;
  /** The ended generations of a document, latest first. */
  endedGenerations(address: DocumentAddress): Promise<readonly EndedGeneration[]>;
  /**
   * All rows that were written to a document whose past is kept, in the log and before it, by seq, save snapshots that stand for such rows.
   * Those that are not as they were written are marked.
   */
  writtenRows(address: DocumentAddress): Promise<readonly WrittenRow[]>;
  /** How much past a document has. */
  pastSize(address: DocumentAddress): Promise<PastSize>;
  /** Lets go of the oldest rows of a document's past. @returns false, and changes nothing, when not all of them are there. */
  foldPast(address: DocumentAddress, fold: PastFold): Promise<boolean>;
  /**
   * Keeps a record in place of the one with the same board, kind and id. With `expected`, only where that one's `about` is
   * exactly this, or null where there must be none: so of two who change a record at once one hears of it.
   * With `among`, only where the records of this board and kind are just these, by id and `about`: so a bound on them that was
   * counted before holds for all nodes, as long as whoever is bound by it says what they counted.
   * @returns false, and changes nothing, when `expected` or `among` does not fit. Rejects with `unknown-board`.
   */
  putRecord(record: KeptRecord, expected?: string | null, among?: readonly RecordAmong[]): Promise<boolean>;
  /** The records of a board of one kind, or of every kind (null), ordered by kind and id, without their bytes. */
  records(board: string, kind: string | null): Promise<readonly ListedRecord[]>;
  /** A record; null when there is none. Rejects with `damaged` when it is not as written. */
  record(board: string, kind: string, id: string): Promise<KeptRecord | null>;
  /** Forgets a record; with `expected`, only where its `about` is exactly this. @returns false when there is none such. */
  removeRecord(board: string, kind: string, id: string, expected?: string): Promise<boolean>;
  /** Reads everything and says what is wrong. */
  check(): Promise<CheckReport>;
  /** Whether the store answers now; rejects when not. */
  ping(): Promise<void>;
  /** Finishes what was begun, then lets go of everything. A second call does nothing. */
  close(): Promise<void>;
}
