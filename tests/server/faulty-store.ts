import { type Store, StoreError } from '../../server/store/index.ts';
import type { StoreFailure } from '../../server/store/store.ts';

/** A store that fails when told to: before the inner store acts, or after (the answer is lost). */
export class FaultyStore implements Store {
  readonly inner: Store;
  fault: { readonly kind: StoreFailure; readonly when: 'before' | 'after' } | null = null;
  appends = 0;
  /** How often anything was asked of it that may fail. */
  tries = 0;

  constructor(inner: Store) {
    this.inner = inner;
  }

  addBoard: Store['addBoard'] = (...board) => this.inner.addBoard(...board);
  board: Store['board'] = (id) => this.inner.board(id);
  boardsOfKind: Store['boardsOfKind'] = (kind) => this.inner.boardsOfKind(kind);
  boardsWithRecord: Store['boardsWithRecord'] = (kind) => this.inner.boardsWithRecord(kind);
  removeBoard: Store['removeBoard'] = (id) => this.inner.removeBoard(id);
  load: Store['load'] = (...document) => this.#around(() => this.inner.load(...document));
  append: Store['append'] = (...row) => {
    this.appends += 1;
    return this.#around(() => this.inner.append(...row));
  };
  compact: Store['compact'] = (...snapshot) => this.#around(() => this.inner.compact(...snapshot));
  renew: Store['renew'] = (address, renewal) => this.#around(() => this.inner.renew(address, renewal));
  lastState: Store['lastState'] = (address, generation) =>
    this.#around(() => this.inner.lastState(address, generation));
  endedGenerations: Store['endedGenerations'] = (address) =>
    this.#around(() => this.inner.endedGenerations(address));
  writtenRows: Store['writtenRows'] = (address) => this.#around(() => this.inner.writtenRows(address));
  pastSize: Store['pastSize'] = (address) => this.#around(() => this.inner.pastSize(address));
  foldPast: Store['foldPast'] = (address, fold) => this.#around(() => this.inner.foldPast(address, fold));
  putRecord: Store['putRecord'] = (...record) => this.#around(() => this.inner.putRecord(...record));
  records: Store['records'] = (board, kind) => this.#around(() => this.inner.records(board, kind));
  record: Store['record'] = (...address) => this.#around(() => this.inner.record(...address));
  removeRecord: Store['removeRecord'] = (...address) =>
    this.#around(() => this.inner.removeRecord(...address));
  check: Store['check'] = () => this.inner.check();
  ping: Store['ping'] = () => this.inner.ping();
  close: Store['close'] = () => this.inner.close();

  async #around<T>(act: () => Promise<T>): Promise<T> {
    this.tries += 1;
    const { fault } = this;
    if (fault?.when === 'before') throw new StoreError(fault.kind, 'injected');
    const value = await act();
    if (fault?.when === 'after') throw new StoreError(fault.kind, 'injected after the commit');
    return value;
  }
}
