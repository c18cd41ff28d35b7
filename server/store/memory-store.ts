/** The plain model that every real store must agree with. Keeps everything in memory; for tests. */
import { haveSame } from './row-check.ts';
import {
  areSameRecords,
  type BoardKind,
  type BoardRecord,
  type CheckReport,
  type DocumentAddress,
  type EndedGeneration,
  type FirstRecord,
  type KeptRecord,
  keepsPast,
  type ListedRecord,
  OF_PAST_ROWS,
  type PastFold,
  type PastSize,
  type RecordAmong,
  type Renewal,
  type RowOptions,
  refusalError,
  type Store,
  type StoredRow,
  StoreError,
  type WrittenRow,
} from './store.ts';

interface KeptState extends EndedGeneration {
  readonly bytes: Uint8Array;
}

interface Document {
  readonly address: DocumentAddress;
  rows: SignedRow[];
  past: WrittenRow[];
}

interface SignedRow extends StoredRow {
  readonly by: string;
}

export class MemoryStore implements Store {
  readonly #boards = new Map<string, BoardRecord>();
  readonly #documents = new Map<string, Document>();
  readonly #lastStates = new Map<string, KeptState>();
  readonly #records = new Map<string, KeptRecord>();
  #seq = 0;
  #isClosed = false;

  async addBoard(
    board: BoardRecord,
    documents: readonly { readonly part: DocumentAddress['part']; readonly bytes: Uint8Array }[],
    records: readonly FirstRecord[] = [],
  ): Promise<boolean> {
    this.#check();
    if (this.#boards.has(board.id)) return false;
    this.#boards.set(board.id, board);
    for (const { part, bytes } of documents) this.#add({ board: board.id, part }, bytes);
    for (const { kind, id, about, bytes } of records)
      this.#records.set(recordKey(board.id, kind, id), {
        board: board.id,
        kind,
        id,
        about,
        bytes: bytes.slice(),
      });
    return true;
  }

  async board(id: string): Promise<BoardRecord | null> {
    this.#check();
    return this.#boards.get(id) ?? null;
  }

  async boardsOfKind(kind: BoardKind): Promise<readonly BoardRecord[]> {
    this.#check();
    return [...this.#boards.values()].filter((board) => board.kind === kind).sort(byAge);
  }

  async boardsWithRecord(recordKind: string): Promise<readonly BoardRecord[]> {
    this.#check();
    const records = [...this.#records.values()].filter(({ kind }) => kind === recordKind);
    return [...this.#boards.values()]
      .filter(({ id }) => records.some(({ board }) => board === id))
      .sort(byAge);
  }

  async removeBoard(id: string): Promise<boolean> {
    this.#check();
    for (const [key, document] of this.#documents)
      if (document.address.board === id) this.#documents.delete(key);
    for (const key of this.#lastStates.keys()) if (key.startsWith(`${id}/`)) this.#lastStates.delete(key);
    for (const [key, record] of this.#records) if (record.board === id) this.#records.delete(key);
    return this.#boards.delete(id);
  }

  async load(address: DocumentAddress): Promise<readonly StoredRow[]> {
    this.#check();
    return (this.#documents.get(keyOf(address))?.rows ?? []).map(({ seq, bytes }) => ({ seq, bytes }));
  }

  async append(address: DocumentAddress, bytes: Uint8Array, options: RowOptions = {}): Promise<number> {
    this.#check();
    const { lastState, generation, by } = options;
    if (lastState === undefined) return this.#add(address, bytes, generation, by);
    this.#expectPresent(address, generation);
    const key = `${keyOf(address)}~${lastState.generation}`;
    const kept = this.#lastStates.get(key);
    if (kept?.version !== lastState.version) throw refusalError('overtaken', address);
    this.#lastStates.set(key, { ...kept, bytes: lastState.bytes.slice(), version: lastState.version + 1 });
    return this.#add(address, bytes, generation, by);
  }

  async compact(
    address: DocumentAddress,
    seqs: readonly number[],
    snapshot: Uint8Array,
    generation?: number,
  ): Promise<number> {
    this.#check();
    const isPast = generation !== undefined && keepsPast(address.part);
    const seq = this.#add(address, snapshot, generation, isPast ? OF_PAST_ROWS : '');
    const document = this.#documents.get(keyOf(address))!;
    const gone = new Set(seqs);
    if (isPast)
      this.#toPast(
        document,
        document.rows.filter((row) => gone.has(row.seq)),
        generation,
      );
    document.rows = document.rows.filter((row) => !gone.has(row.seq));
    return seq;
  }

  async renew(address: DocumentAddress, renewal: Renewal): Promise<boolean> {
    this.#check();
    const document = this.#documents.get(keyOf(address));
    const seqs = (document?.rows ?? []).map((row) => row.seq);
    if (!document || !haveSame(seqs, renewal.seqs)) return false;
    const { generation, drawn } = renewal;
    const lastState = { generation, drawn, version: 0, bytes: renewal.lastState.slice() };
    this.#lastStates.set(`${keyOf(address)}~${generation}`, lastState);
    if (keepsPast(address.part)) this.#toPast(document, document.rows, generation);
    document.rows = [];
    this.#add(address, renewal.snapshot);
    return true;
  }

  async lastState(address: DocumentAddress, generation: number): Promise<Uint8Array | null> {
    this.#check();
    return this.#lastStates.get(`${keyOf(address)}~${generation}`)?.bytes ?? null;
  }

  async endedGenerations(address: DocumentAddress): Promise<readonly EndedGeneration[]> {
    this.#check();
    return [...this.#lastStates]
      .filter(([key]) => key.startsWith(`${keyOf(address)}~`))
      .map(([, { generation, drawn, version }]) => ({ generation, drawn, version }))
      .sort((a, b) => b.generation - a.generation);
  }

  #toPast(document: Document, rows: readonly SignedRow[], generation: number): void {
    for (const row of rows) if (row.by !== OF_PAST_ROWS) document.past.push({ ...row, generation });
  }

  async writtenRows(address: DocumentAddress): Promise<readonly WrittenRow[]> {
    this.#check();
    const { past = [], rows = [] } = this.#documents.get(keyOf(address)) ?? {};
    const present = rows.filter(({ by }) => by !== OF_PAST_ROWS).map((row) => ({ ...row, generation: null }));
    return [...past, ...present].sort((a, b) => a.seq - b.seq);
  }

  async pastSize(address: DocumentAddress): Promise<PastSize> {
    this.#check();
    const { past = [] } = this.#documents.get(keyOf(address)) ?? {};
    const bytes = past.reduce((sum, row) => sum + row.bytes.length, 0);
    const [oldest] = past.filter(({ by }) => by !== '').sort((a, b) => a.seq - b.seq);
    return { bytes, oldestBy: oldest?.by ?? '' };
  }

  async foldPast(address: DocumentAddress, { seqs, generation, base }: PastFold): Promise<boolean> {
    this.#check();
    const document = this.#documents.get(keyOf(address));
    const gone = new Set(seqs);
    if (document === undefined || document.past.filter(({ seq }) => gone.has(seq)).length < gone.size)
      return false;
    document.past = document.past.filter(({ seq }) => !gone.has(seq));
    if (base !== null)
      document.past.push({ seq: Math.max(...seqs), generation, by: '', bytes: base.slice() });
    return true;
  }

  async putRecord(
    record: KeptRecord,
    expected?: string | null,
    among?: readonly RecordAmong[],
  ): Promise<boolean> {
    this.#check();
    this.#expectBoard(record.board);
    const { board, kind, id, about } = record;
    const key = recordKey(board, kind, id);
    if (expected !== undefined && (this.#records.get(key)?.about ?? null) !== expected) return false;
    if (among !== undefined) {
      const there = [...this.#records.values()].filter((one) => one.board === board && one.kind === kind);
      if (!areSameRecords(there, among)) return false;
    }
    this.#records.set(key, { board, kind, id, about, bytes: record.bytes.slice() });
    return true;
  }

  async records(board: string, kind: string | null): Promise<readonly ListedRecord[]> {
    this.#check();
    return [...this.#records.values()]
      .filter((record) => record.board === board && (kind === null || record.kind === kind))
      .map(({ kind, id, about, bytes }) => ({ board, kind, id, about, size: bytes.length }))
      .sort((a, b) => compareTexts(a.kind, b.kind) || compareTexts(a.id, b.id));
  }

  async record(board: string, kind: string, id: string): Promise<KeptRecord | null> {
    this.#check();
    return this.#records.get(recordKey(board, kind, id)) ?? null;
  }

  async removeRecord(board: string, kind: string, id: string, expected?: string): Promise<boolean> {
    this.#check();
    const key = recordKey(board, kind, id);
    if (expected !== undefined && this.#records.get(key)?.about !== expected) return false;
    return this.#records.delete(key);
  }

  async check(): Promise<CheckReport> {
    this.#check();
    let rows = 0;
    let bytes = 0;
    for (const document of this.#documents.values()) {
      rows += document.rows.length;
      for (const row of document.rows) bytes += row.bytes.length;
    }
    for (const record of this.#records.values()) bytes += record.bytes.length;
    const [boards, documents, records] = [this.#boards.size, this.#documents.size, this.#records.size];
    return { boards, documents, rows, records, bytes, faults: [] };
  }

  async ping(): Promise<void> {
    this.#check();
  }

  async close(): Promise<void> {
    this.#isClosed = true;
  }

  #add(address: DocumentAddress, bytes: Uint8Array, generation?: number, by = ''): number {
    this.#expectPresent(address, generation);
    this.#seq += 1;
    const row = { seq: this.#seq, bytes: bytes.slice(), by };
    const document = this.#documents.get(keyOf(address));
    if (document) document.rows.push(row);
    else this.#documents.set(keyOf(address), { address, rows: [row], past: [] });
    return this.#seq;
  }

  #expectPresent(address: DocumentAddress, generation: number | undefined): void {
    this.#expectBoard(address.board);
    if (generation !== undefined && this.#lastStates.has(`${keyOf(address)}~${generation}`))
      throw refusalError('outdated', address);
  }

  #expectBoard(board: string): void {
    if (!this.#boards.has(board)) throw new StoreError('unknown-board', `there is no board ${board}`);
  }

  #check(): void {
    if (this.#isClosed) throw new StoreError('closed', 'the store is closed');
  }
}

function keyOf(address: DocumentAddress): string {
  return `${address.board}/${address.part}`;
}

function recordKey(board: string, kind: string, id: string): string {
  return JSON.stringify([board, kind, id]);
}

function byAge(a: BoardRecord, b: BoardRecord): number {
  return a.createdAt - b.createdAt || (a.id < b.id ? -1 : 1);
}

function compareTexts(a: string, b: string): number {
  return a < b ? -1 : Number(a > b);
}
