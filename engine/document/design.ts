/**
 * The design as one maker works on it.
 *
 * Invariants: the snapshot is always what a fresh reading of the document would give; whatever is written was computed
 * whole before; only this maker's commands are in this maker's undo.
 */
import type * as Y from 'yjs';
import { addressAt, type Cell, placeAt, rowAddressAt, rowAt, stringAddressAt, stringAt } from './cells.ts';
import type { Command, CommandKind, CommandResult } from './command.ts';
import { MakerUndo } from './maker-undo.ts';
import { prepareCommand } from './prepare-command.ts';
import type { KnotAddress, RowAddress, StringAddress } from './presence.ts';
import { type DesignChange, DesignReader, type DesignSnapshot } from './read-design.ts';
import type { IdSource } from './schema.ts';
import type { DocumentState } from './version.ts';
import { refuse } from './write-set.ts';
import { applyWrites, type Write } from './writes.ts';

/** Who opens a design. */
export interface DesignOptions {
  /** Whose commands these are; stands in the origin of every transaction. */
  readonly makerId: string;
  readonly newId: IdSource;
  /** Commands of one kind that follow each other within this many ms undo as one; default 500. 0: each alone. */
  readonly captureMs?: number;
}

/** Origin of the transactions of one maker's commands. */
export class MakerOrigin {
  readonly makerId: string;

  constructor(makerId: string) {
    this.makerId = makerId;
  }
}

/** Told after each change, with the design as it is then. */
export type DesignListener = (snapshot: DesignSnapshot, change: DesignChange) => void;

/** Commands that come in runs: a drag over knots, a colour being chosen, a title being typed. */
const RUNS: ReadonlySet<CommandKind> = new Set<CommandKind>([
  'set-knots',
  'recolour-strings',
  'edit-colour',
  'set-title',
  'set-piece',
  'set-gauge',
  'put-colourway',
]);

const DEFAULT_CAPTURE_MS = 500;

/** Writes in one transaction, and so in one message, at most. */
const MOST_WRITES = 100_000;

/** Façade over a design document for one maker. Call {@link Design.dispose} when done. */
export class Design {
  readonly doc: Y.Doc;
  readonly #newId: IdSource;
  readonly #origin: MakerOrigin;
  /** Of content that nobody reads yet; never undone. */
  readonly #foundingOrigin: MakerOrigin;
  readonly #reader: DesignReader;
  readonly #undo: MakerUndo;
  readonly #listeners = new Set<DesignListener>();
  readonly #onTransaction: (transaction: Y.Transaction) => void;
  #lastKind: CommandKind | null = null;

  constructor(doc: Y.Doc, options: DesignOptions) {
    this.doc = doc;
    this.#newId = options.newId;
    this.#origin = new MakerOrigin(options.makerId);
    this.#foundingOrigin = new MakerOrigin(options.makerId);
    this.#reader = new DesignReader(doc);
    // Before our own listener, so that `canUndo` is right when listeners of the design hear of the change.
    this.#undo = new MakerUndo(
      Object.values(this.#reader.roots),
      this.#origin,
      options.captureMs ?? DEFAULT_CAPTURE_MS,
    );
    this.#onTransaction = (transaction) => this.#takeIn(transaction);
    doc.on('afterTransaction', this.#onTransaction);
  }

  /** The design now; the same object until something that is read changes. */
  get snapshot(): DesignSnapshot {
    return this.#reader.snapshot;
  }

  /** Whether there is a board to read and edit. */
  get state(): DocumentState {
    return this.#reader.state;
  }

  /**
   * Calls the listener after every change, own or others'.
   * @returns stops it
   */
  subscribe(listener: DesignListener): () => void {
    // A wrapper of its own, so that subscribing the same function twice means two subscriptions.
    const own: DesignListener = (snapshot, change) => listener(snapshot, change);
    this.#listeners.add(own);
    return () => this.#listeners.delete(own);
  }

  /**
   * Computes the command, then writes it in one transaction; or writes nothing and says why.
   * @throws TypeError when called inside a transaction of the document, or when the id source gives no id
   */
  run(command: Command): CommandResult {
    this.#refuseInside();
    const { state } = this.#reader;
    if (state.kind === 'newer')
      return refuse(
        'newer-version',
        '',
        `the document has version ${state.version}, which is newer than this program`,
      );
    if (state.kind === 'empty' && command.kind !== 'load-board')
      return refuse('empty-document', '', 'the document holds no board yet');
    const prepared = prepareCommand(
      {
        roots: this.#reader.roots,
        scope: this.#reader.scope,
        shape: this.#reader.shape,
        colours: this.#reader.colours,
        board: this.#reader.snapshot.board,
        newId: this.#newId,
      },
      command,
    );
    if (!prepared.ok) return prepared;
    if (prepared.writes.length === 0) return { ok: true };
    if (!this.#undo.isStepOpen && (command.kind !== this.#lastKind || !RUNS.has(command.kind)))
      this.#undo.stop();
    this.#lastKind = command.kind;
    const { founding, writes } = prepared;
    if (founding.length > 0) this.doc.transact(() => applyWrites(founding), this.#foundingOrigin);
    this.#apply(writes);
    return { ok: true };
  }

  /** In one transaction; so many that a message could not carry them in several, which are one step of undo all the same. */
  #apply(writes: readonly Write[]): void {
    const close = writes.length > MOST_WRITES ? this.#undo.open() : null;
    for (let from = 0; from < writes.length; from += MOST_WRITES) {
      const piece = close === null ? writes : writes.slice(from, from + MOST_WRITES);
      this.#undo.track(piece, () => this.doc.transact(() => applyWrites(piece), this.#origin));
    }
    close?.();
  }

  /** Takes back this maker's last step. False when there is none that can be taken back. Rules D80 to D84. */
  undo(): boolean {
    return this.#step(() => this.#undo.undo());
  }

  /** Does this maker's last undone step again. False when there is none. */
  redo(): boolean {
    return this.#step(() => this.#undo.redo());
  }

  get canUndo(): boolean {
    return this.state.kind === 'ready' && this.#undo.canUndo;
  }
  get canRedo(): boolean {
    return this.state.kind === 'ready' && this.#undo.canRedo;
  }

  /** The next command begins a new undo step. */
  stopUndoCapture(): void {
    this.#undo.stop();
    this.#lastKind = null;
  }

  /**
   * All commands until the returned function is called are one undo step, however long it takes: a drag.
   * Calls may nest; the outermost counts. Calling the returned function again does nothing.
   */
  openStep(): () => void {
    return this.#undo.open();
  }

  /** Address of a knot that stays with it whatever is inserted or deleted elsewhere; null outside the pattern. */
  addressOf(row: number, k: number): KnotAddress | null {
    return addressAt(this.#reader.shape, row, k);
  }

  /** Where an addressed knot is now; null when its row or string pair was deleted or is hidden. */
  placeOf(address: KnotAddress): Cell | null {
    return placeAt(this.#reader.shape, this.#reader.scope.pattern, address);
  }

  /** Address of a row, as {@link Design.addressOf} for a knot. */
  rowAddressOf(row: number): RowAddress | null {
    return rowAddressAt(this.#reader.shape, row);
  }

  /** Where an addressed row is now; null when its pair was deleted or it is hidden. */
  rowOf(address: RowAddress): number | null {
    return rowAt(this.#reader.shape, address);
  }

  /** Address of a string, as {@link Design.addressOf} for a knot. */
  stringAddressOf(string: number): StringAddress | null {
    return stringAddressAt(this.#reader.shape, string);
  }

  /** Where an addressed string is now; null when its pair was deleted or it is hidden. */
  stringOf(address: StringAddress): number | null {
    return stringAt(this.#reader.shape, this.#reader.scope.pattern, address);
  }

  /** Lets go of the document; the snapshot stays as it is. */
  dispose(): void {
    this.doc.off('afterTransaction', this.#onTransaction);
    this.#undo.dispose();
    this.#listeners.clear();
  }

  #step(step: () => boolean): boolean {
    this.#refuseInside();
    if (this.state.kind !== 'ready') return false;
    this.#lastKind = null;
    return step();
  }

  #refuseInside(): void {
    if (this.doc._transaction !== null)
      throw new TypeError(
        'a command cannot run inside a transaction: it would be computed against an old state',
      );
  }

  #takeIn(transaction: Y.Transaction): void {
    const isLocal =
      transaction.origin === this.#origin ||
      transaction.origin === this.#foundingOrigin ||
      this.#undo.isOrigin(transaction.origin);
    const change = this.#reader.refresh(transaction.changed, isLocal);
    if (change === null) return;
    for (const listener of [...this.#listeners]) listener(this.#reader.snapshot, change);
  }
}
