/**
 * The store of several machines: PostgreSQL. Group commit as in SQLite: what gathers while one statement is under way goes as
 * the next. A commit returns when PostgreSQL has it on its disk (`synchronous_commit` is set to `on` for every connection).
 */
import type pg from 'pg';
import type { BoardPart } from '../../engine/document/index.ts';
import { type Clock, pause } from '../clock.ts';
import { type Answerable, unattended } from '../unattended.ts';
import { rowBytes, takeBatch } from './batch.ts';
import { BEGIN, openPgPool, pgStoreError } from './postgres-connect.ts';
import { bringPgLayout } from './postgres-layout.ts';
import { foldPast, pastAndPresent, pastFaults, pastSize, takeToPast } from './postgres-past.ts';
import {
  checkRecords,
  listRecords,
  oneRecord,
  putRecord,
  putRecordAmong,
  type RecordQuery,
  removeRecord,
} from './postgres-records.ts';
import {
  DOCUMENT_FAULTS,
  endGeneration,
  insertDocuments,
  insertRow,
  insertRows,
  lockBoard,
  lockDocument,
  type NewPgRow,
  replaceLastState,
} from './postgres-rows.ts';
import { BOARDS_LAYOUT } from './postgres-tables.ts';
import { checkValue, haveSame, rowAsWritten } from './row-check.ts';
import {
  BOARD_KINDS,
  type BoardKind,
  type BoardRecord,
  type CheckReport,
  type DocumentAddress,
  type EndedGeneration,
  type FirstRecord,
  type KeptRecord,
  keepsPast,
  type LastState,
  type ListedRecord,
  type LoadOptions,
  OF_PAST_ROWS,
  partsOf,
  type PastFold,
  type PastSize,
  type RecordAmong,
  type Renewal,
  type RowOptions,
  type RowRefusal,
  refusalError,
  type Store,
  type StoredRow,
  StoreError,
  type WrittenRow,
} from './store.ts';

interface WaitingRow extends NewPgRow {
  readonly resolve: (seq: number) => void;
  readonly reject: (error: StoreError) => void;
}

interface RowRecord {
  readonly seq: string;
  readonly check_value: string;
  readonly bytes: Buffer;
}

interface BoardRow {
  readonly id: string;
  readonly kind: BoardKind;
  readonly created_at: string;
}

/** The points between which others may come in, or a fault may strike. */
export type PgStep =
  | `layout:${number}`
  | `renew:${'begin' | 'locked' | 'former' | 'rows' | 'snapshot'}`
  | `remove:${'begin' | 'locked' | 'board' | 'all'}`;

export interface PostgresStoreOptions {
  readonly url: string;
  readonly clock: Clock;
  /** Commits begin at least so far apart, in ms; default 100. After a pause the first begins at once. */
  readonly gatherMs?: number;
  readonly onCommit?: (commitMs: number, rows: number) => void;
  /** Hears of lost connections. */
  readonly onIdleError?: (error: Error) => void;
  /** Waited for at each step; throwing there is a fault at that step. Tests listen, production does not. */
  readonly onStep?: (step: PgStep) => unknown;
  /** See {@link PgConnectOptions}. */
  readonly idleInTransactionMs?: number;
}

export class PostgresStore implements Store, Answerable {
  readonly #pool: pg.Pool;
  readonly #options: PostgresStoreOptions;
  #rows: WaitingRow[] = [];
  #isCommitting = false;
  /** Takes back the commit to come; null = none is to come. */
  #forget: (() => void) | null = null;
  #committedAt = Number.NEGATIVE_INFINITY;
  #ready: Promise<void> | null = null;
  #closing: Promise<void> | null = null;

  constructor(options: PostgresStoreOptions) {
    this.#options = options;
    const { url, idleInTransactionMs } = options;
    this.#pool = openPgPool({
      url,
      max: 8,
      ...(idleInTransactionMs !== undefined && { idleInTransactionMs }),
      onLost: (error) => options.onIdleError?.(error),
    });
  }

  async addBoard(
    board: BoardRecord,
    documents: readonly { readonly part: BoardPart; readonly bytes: Uint8Array }[],
    records: readonly FirstRecord[] = [],
  ): Promise<boolean> {
    return this.#transact(async (client) => {
      const added = await client.query(
        'INSERT INTO larkboard_boards (id, kind, created_at) VALUES ($1, $2, $3) ON CONFLICT DO NOTHING',
        [board.id, board.kind, board.createdAt],
      );
      if (added.rowCount === 0) return false;
      await insertDocuments(client, board);
      for (const { part, bytes } of documents) await insertRow(client, { board: board.id, part }, bytes);
      for (const record of records) await putRecord(askIn(client), { ...record, board: board.id });
      return true;
    });
  }

  async board(id: string): Promise<BoardRecord | null> {
    const found = await this.#query<BoardRow>(
      'SELECT id, kind, created_at FROM larkboard_boards WHERE id = $1',
      [id],
    );
    return found[0] ? toBoard(found[0]) : null;
  }

  async boardsOfKind(kind: BoardKind): Promise<readonly BoardRecord[]> {
    const found = await this.#query<BoardRow>(
      'SELECT id, kind, created_at FROM larkboard_boards WHERE kind = $1 ORDER BY created_at, id COLLATE "C"',
      [kind],
    );
    return found.map(toBoard);
  }

  async boardsWithRecord(recordKind: string): Promise<readonly BoardRecord[]> {
    const found = await this.#query<BoardRow>(
      `SELECT id, kind, created_at FROM larkboard_boards WHERE id IN (SELECT board FROM larkboard_records WHERE kind = $1)
       ORDER BY created_at, id COLLATE "C"`,
      [recordKind],
    );
    return found.map(toBoard);
  }

  async removeBoard(id: string): Promise<boolean> {
    return this.#transact(async (client) => {
      await this.#step('remove:begin');
      await lockBoard(client, id);
      await this.#step('remove:locked');
      const removed = await client.query('DELETE FROM larkboard_boards WHERE id = $1', [id]);
      await client.query('DELETE FROM larkboard_documents WHERE board = $1', [id]);
      await this.#step('remove:board');
      await client.query('DELETE FROM larkboard_rows WHERE board = $1', [id]);
      await client.query('DELETE FROM larkboard_formers WHERE board = $1', [id]);
      await client.query('DELETE FROM larkboard_past WHERE board = $1', [id]);
      await client.query('DELETE FROM larkboard_records WHERE board = $1', [id]);
      await this.#step('remove:all');
      return (removed.rowCount ?? 0) > 0;
    });
  }

  async load(address: DocumentAddress, options?: LoadOptions): Promise<readonly StoredRow[]> {
    const found = await this.#query<RowRecord>(
      'SELECT seq, check_value, row_bytes AS bytes FROM larkboard_rows WHERE board = $1 AND part = $2 ORDER BY seq',
      [address.board, address.part],
    );
    return found.map(({ seq, bytes, check_value }) =>
      rowAsWritten(address, { seq: Number(seq), bytes, check: Number(check_value) }, options),
    );
  }

  append(address: DocumentAddress, bytes: Uint8Array, options: RowOptions = {}): Promise<number> {
    return new Promise<number>((resolve, reject) => {
      if (this.#closing !== null) {
        reject(new StoreError('closed', 'the store is closed'));
        return;
      }
      this.#rows.push({ address, bytes, options, resolve, reject });
      this.#gather();
    });
  }

  async compact(
    address: DocumentAddress,
    seqs: readonly number[],
    snapshot: Uint8Array,
    generation?: number,
  ): Promise<number> {
    return this.#transact(async (client) => {
      const isPast = generation !== undefined && keepsPast(address.part);
      const seq = await insertRow(client, address, snapshot, {
        ...(generation !== undefined && { generation }),
        ...(isPast && { by: OF_PAST_ROWS }),
      });
      if (typeof seq !== 'number') throw refusalError(seq, address);
      if (isPast) await takeToPast(client, address, seqs, generation);
      await client.query(
        'DELETE FROM larkboard_rows WHERE seq = ANY($1::bigint[]) AND board = $2 AND part = $3',
        [seqs, address.board, address.part],
      );
      return seq;
    });
  }

  async renew(address: DocumentAddress, renewal: Renewal): Promise<boolean> {
    const where = [address.board, address.part];
    return this.#transact(async (client) => {
      await this.#step('renew:begin');
      const seqs = await lockDocument(client, address);
      await this.#step('renew:locked');
      if (seqs.length === 0 || !haveSame(seqs, renewal.seqs)) return false;
      await endGeneration(client, address, renewal);
      await this.#step('renew:former');
      if (keepsPast(address.part)) await takeToPast(client, address, seqs, renewal.generation);
      await client.query('DELETE FROM larkboard_rows WHERE board = $1 AND part = $2', where);
      await this.#step('renew:rows');
      await insertRow(client, address, renewal.snapshot);
      await this.#step('renew:snapshot');
      return true;
    });
  }

  async lastState(address: DocumentAddress, generation: number): Promise<Uint8Array | null> {
    const [row] = await this.#query<RowRecord>(
      'SELECT check_value, state_bytes AS bytes FROM larkboard_formers WHERE board = $1 AND part = $2 AND generation = $3',
      [address.board, address.part, generation],
    );
    if (!row) return null;
    if (checkValue(row.bytes) !== Number(row.check_value))
      throw new StoreError(
        'damaged',
        `generation ${generation} of ${address.board}/${address.part} is not as it was written`,
      );
    return row.bytes;
  }

  async endedGenerations({ board, part }: DocumentAddress): Promise<readonly EndedGeneration[]> {
    const found = await this.#query<{ generation: string; drawn: string; version: string }>(
      'SELECT generation, drawn, version FROM larkboard_formers WHERE board = $1 AND part = $2 ORDER BY generation DESC',
      [board, part],
    );
    return found.map(({ generation, drawn, version }) => ({
      generation: Number(generation),
      drawn,
      version: Number(version),
    }));
  }

  writtenRows(address: DocumentAddress): Promise<readonly WrittenRow[]> {
    return pastAndPresent(this.#ask, address);
  }

  pastSize(address: DocumentAddress): Promise<PastSize> {
    return pastSize(this.#ask, address);
  }

  foldPast(address: DocumentAddress, fold: PastFold): Promise<boolean> {
    return this.#transact((client) => foldPast(client, address, fold));
  }

  putRecord(record: KeptRecord, expected?: string | null, among?: readonly RecordAmong[]): Promise<boolean> {
    if (among === undefined) return putRecord(this.#ask, record, expected);
    return this.#transact((client) => putRecordAmong(askIn(client), record, expected, among));
  }

  records(board: string, kind: string | null): Promise<readonly ListedRecord[]> {
    return listRecords(this.#ask, board, kind);
  }

  record(board: string, kind: string, id: string): Promise<KeptRecord | null> {
    return oneRecord(this.#ask, board, kind, id);
  }

  removeRecord(board: string, kind: string, id: string, expected?: string): Promise<boolean> {
    return removeRecord(this.#ask, board, kind, id, expected);
  }

  async check(): Promise<CheckReport> {
    const faults: string[] = [];
    let rows = 0;
    let bytes = 0;
    const documents = new Set<string>();
    let after = 0;
    for (;;) {
      const page = await this.#query<RowRecord & { board: string; part: string }>(
        'SELECT seq, board, part, check_value, row_bytes AS bytes FROM larkboard_rows WHERE seq > $1 ORDER BY seq LIMIT 200',
        [after],
      );
      if (page.length === 0) break;
      for (const row of page) {
        rows += 1;
        bytes += row.bytes.length;
        documents.add(`${row.board}/${row.part}`);
        if (checkValue(row.bytes) !== Number(row.check_value))
          faults.push(`row ${row.seq} of ${row.board}/${row.part} is not as it was written`);
        after = Number(row.seq);
      }
    }
    const orphans = await this.#query<{ board: string }>(
      'SELECT DISTINCT board FROM larkboard_rows WHERE board NOT IN (SELECT id FROM larkboard_boards)',
      [],
    );
    for (const { board } of orphans) faults.push(`rows of board ${board}, which is not there`);
    faults.push(...(await pastFaults(this.#ask)));
    const documentsOf = BOARD_KINDS.flatMap((kind) => partsOf(kind).map((part) => [kind, part] as const));
    const wrong = await this.#query<{ fault: string }>(DOCUMENT_FAULTS, [
      documentsOf.map(([kind]) => kind),
      documentsOf.map(([, part]) => part),
    ]);
    faults.push(...wrong.map(({ fault }) => fault));
    const [count] = await this.#query<{ n: string }>('SELECT count(*) AS n FROM larkboard_boards', []);
    const { records, ...ofRecords } = await checkRecords(this.#ask);
    faults.push(...ofRecords.faults);
    bytes += ofRecords.bytes;
    return { boards: Number(count?.n), documents: documents.size, rows, records, bytes, faults };
  }

  async ping(): Promise<void> {
    await this.#query('SELECT 1', []);
  }

  close(): Promise<void> {
    this.#closing ??= this.#close();
    return this.#closing;
  }

  /** A commit refuses its rows itself; what goes wrong beyond that is told to who runs the server. */
  broke(_what: string, cause: unknown): void {
    this.#options.onIdleError?.(cause as Error);
  }

  async #close(): Promise<void> {
    unattended(this, 'commit', () => this.#commit());
    while (this.#isCommitting || this.#rows.length > 0) await pause(this.#options.clock, 2);
    await this.#pool.end();
  }

  async #step(step: PgStep): Promise<void> {
    await this.#options.onStep?.(step);
  }

  #gather(): void {
    if (this.#isCommitting || this.#forget !== null) return;
    const { clock, gatherMs = 100 } = this.#options;
    const waitMs = Math.max(0, this.#committedAt + gatherMs - clock.elapsed());
    this.#forget = clock.after(waitMs, () => unattended(this, 'commit', () => this.#commit()));
  }

  async #commit(): Promise<void> {
    this.#forget?.();
    this.#forget = null;
    if (this.#isCommitting || this.#rows.length === 0) return;
    const batch = takeBatch(this.#rows, rowBytes);
    this.#isCommitting = true;
    const { elapsed } = this.#options.clock;
    const began = elapsed();
    this.#committedAt = began;
    try {
      const seqs = await this.#insertAll(batch);
      this.#options.onCommit?.(elapsed() - began, batch.length);
      batch.forEach((row, index) => {
        const seq = seqs[index];
        if (typeof seq === 'number') row.resolve(seq);
        else row.reject(refusalError(seq ?? 'unknown-board', row.address));
      });
    } catch (cause) {
      const error = pgStoreError(cause);
      for (const row of batch) row.reject(error);
    } finally {
      this.#isCommitting = false;
    }
    if (this.#rows.length > 0) this.#gather();
  }

  /** One commit. @returns for each row its seq, or why it was not added */
  async #insertAll(batch: readonly WaitingRow[]): Promise<readonly (number | RowRefusal)[]> {
    await this.#prepare();
    // Most rows bring nothing with them; then it is one statement.
    if (batch.every(({ options }) => options.lastState === undefined)) return insertRows(this.#pool, batch);
    return this.#transact(async (client) => {
      const outcomes = [...(await insertRows(client, batch))];
      for (const { index, address, lastState } of lastStatesOf(batch, outcomes)) {
        if (await replaceLastState(client, address, lastState)) continue;
        await client.query('DELETE FROM larkboard_rows WHERE seq = $1', [outcomes[index]]);
        outcomes[index] = 'overtaken';
      }
      return outcomes;
    }, true);
  }

  #prepare(): Promise<void> {
    const { url, onStep } = this.#options;
    this.#ready ??= bringPgLayout(url, BOARDS_LAYOUT, onStep).catch((cause: unknown) => {
      this.#ready = null;
      throw cause;
    });
    return this.#ready;
  }

  readonly #ask = <Row extends pg.QueryResultRow>(text: string, values: unknown[]): Promise<Row[]> =>
    this.#query<Row>(text, values);

  async #query<Row extends pg.QueryResultRow>(text: string, values: unknown[]): Promise<Row[]> {
    if (this.#closing !== null) throw new StoreError('closed', 'the store is closed');
    try {
      await this.#prepare();
      return (await this.#pool.query<Row>(text, values)).rows;
    } catch (cause) {
      throw pgStoreError(cause);
    }
  }

  /** @param isLast whether it finishes what was begun before the store was closed */
  async #transact<T>(write: (client: pg.PoolClient) => Promise<T>, isLast = false): Promise<T> {
    if (this.#closing && !isLast) throw new StoreError('closed', 'the store is closed');
    try {
      await this.#prepare();
      const client = await this.#pool.connect();
      try {
        await client.query(BEGIN);
        const value = await write(client);
        await client.query('COMMIT');
        client.release();
        return value;
      } catch (cause) {
        // Closing the connection rolls back, also where a ROLLBACK could not be sent.
        client.release(true);
        throw cause;
      }
    } catch (cause) {
      throw pgStoreError(cause);
    }
  }
}

/** Asks within a transaction. */
function askIn(client: pg.PoolClient): RecordQuery {
  return async (text, values) => (await client.query(text, values)).rows;
}

function toBoard(row: BoardRow): BoardRecord {
  return { id: row.id, kind: row.kind, createdAt: Number(row.created_at) };
}

/** The last states that go with the rows that were added, in one order on all nodes, so that two never wait for each other. */
function lastStatesOf(
  batch: readonly NewPgRow[],
  seqs: readonly (number | RowRefusal)[],
): readonly { readonly index: number; readonly address: DocumentAddress; readonly lastState: LastState }[] {
  const nameOf = ({ board, part }: DocumentAddress): string => `${board}/${part}`;
  return batch
    .flatMap(({ address, options: { lastState } }, index) =>
      lastState && typeof seqs[index] === 'number' ? [{ index, address, lastState }] : [],
    )
    .sort(
      (a, b) =>
        compareTexts(nameOf(a.address), nameOf(b.address)) || a.lastState.generation - b.lastState.generation,
    );
}

function compareTexts(a: string, b: string): number {
  return a < b ? -1 : Number(a > b);
}
