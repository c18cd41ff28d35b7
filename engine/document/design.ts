/**
 * The design as one maker works on it.
 *
 * Invariants: the snapshot is always what a fresh reading of the document would give; whatever is written was computed
 * whole before; only this maker's commands are in this maker's undo.
 */
import type * as Y from 'yjs';
import {
  addressAt,
  addressOfKey,
  type Cell,
  placeAt,
  rowAddressAt,
  rowAt,
  stringAddressAt,
  stringAt,
} from './cells.ts';
import type { Command, CommandKind, CommandResult } from './command.ts';
import { changesOf, type Edit, heldBy, type KeyChange, type UndoKit } from './journal/index.ts';
import { MakerSteps, type OwnStep, type StepKeeper, type Way } from './maker-steps.ts';
import type { LaterCommands } from './later-commands.ts';
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
  /** Commands of one kind that follow each other within this many ms undo as one, see D81; default 500. 0: each alone. */
  readonly captureMs?: number;
  /** The time in ms, by which commands follow each other; without it each is a step of its own. */
  readonly now?: () => number;
  /** Whether there is a maker who may undo; false spares what that needs. Default true. */
  readonly isUndoable?: boolean;
}

/** What others stood in the way of when the maker undid or did again. */
export interface UndoNews {
  readonly way: Way;
  /** Whether the rest was taken back; false: nothing of the step was left. */
  readonly isTaken: boolean;
  /** What stays as others made it. */
  readonly kept: readonly {
    readonly change: KeyChange;
    /** The Yjs client of what stands there now; null = nobody can be named. */
    readonly client: number | null;
    /** Of the knot, when it is one. */
    readonly address: KnotAddress | null;
  }[];
}

export type UndoListener = (news: UndoNews) => void;

/** What a transaction of a maker does; `founding` writes what nobody reads yet, and is never undone. */
type Doing = CommandKind | Way | 'founding';

/** Origin of the transactions of one maker's commands. */
class MakerOrigin {
  readonly makerId: string;
  readonly doing: Doing;

  constructor(makerId: string, doing: Doing) {
    this.makerId = makerId;
    this.doing = doing;
  }
}

/** Told after each change, with the design as it is then. */
export type DesignListener = (snapshot: DesignSnapshot, change: DesignChange) => void;

const DEFAULT_CAPTURE_MS = 500;

/** Writes in one transaction, and so in one message, at most. */
const MOST_WRITES = 100_000;

/**
 * Façade over a design document for one maker. Call {@link BareDesign.dispose} when done. What undo needs is given later
 * ({@link BareDesign.giveUndo}), so that a page need not fetch it before the board; `Design` has it from the start.
 */
export class BareDesign {
  #doc: Y.Doc;
  readonly #newId: IdSource;
  /** One for each thing a transaction can be of this maker's. */
  readonly #origins = new Map<Doing, MakerOrigin>();
  #reader: DesignReader;
  readonly #steps: MakerSteps;
  #kit: UndoKit | null = null;
  #later: LaterCommands | null = null;
  /** What was to be undone before that could be. */
  readonly #waiting: Way[] = [];
  readonly #isUndoable: boolean;
  readonly #listeners = new Set<DesignListener>();
  readonly #undoListeners = new Set<UndoListener>();
  readonly #moveListeners = new Set<(began: DesignSnapshot | null) => void>();
  #writers: InstanceType<UndoKit['FormerWriters']> | null = null;
  /** Clients that this maker writes or wrote as. */
  #isOwnClient: (client: number) => boolean;
  readonly #onTransaction: (transaction: Y.Transaction) => void;
  readonly #makerId: string;

  constructor(doc: Y.Doc, options: DesignOptions) {
    this.#doc = doc;
    this.#newId = options.newId;
    this.#makerId = options.makerId;
    this.#reader = new DesignReader(doc);
    this.#steps = new MakerSteps({
      captureMs: options.now === undefined ? 0 : (options.captureMs ?? DEFAULT_CAPTURE_MS),
      now: options.now ?? (() => 0),
    });
    this.#isUndoable = options.isUndoable !== false;
    this.#isOwnClient = (client) => client === this.#doc.clientID;
    this.#onTransaction = (transaction) => this.#takeIn(transaction);
    doc.on('afterTransaction', this.#onTransaction);
  }

  /** The document that the design is kept in; another one after {@link BareDesign.moveTo}. */
  get doc(): Y.Doc {
    return this.#doc;
  }

  /**
   * Goes on in another document, the next generation of this one. Whoever holds the design goes on with it, and hears of nothing where the
   * two show the same. Steps stay to be undone: they go by keys. The former document is not touched again.
   * @param began what it began with, where more than that was in hand here and has been put on it
   * @throws TypeError when called inside a transaction of either document
   * O(document). Rules W1041, W1042 in web/RULES.md.
   */
  moveTo(doc: Y.Doc, began: DesignSnapshot | null = null): void {
    this.#refuseInside();
    this.#refuseInside(doc);
    this.#doc.off('afterTransaction', this.#onTransaction);
    const before = this.#reader.snapshot;
    const former = this.#reader;
    this.#reader = new DesignReader(doc, before);
    this.#writers?.move(this.#steps.changes(), former.roots, this.#doc, this.#reader.roots);
    this.#doc = doc;
    doc.on('afterTransaction', this.#onTransaction);
    for (const listener of [...this.#moveListeners]) listener(began);
    if (this.#reader.snapshot !== before) this.#tell({ kind: 'structure', local: false });
  }

  /**
   * Calls the listener when the design goes on in another document, whose contents it reads already; with what {@link moveTo} was told.
   * @returns stops it
   */
  onMove(listener: (began: DesignSnapshot | null) => void): () => void {
    this.#moveListeners.add(listener);
    return () => this.#moveListeners.delete(listener);
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
   * @throws TypeError when called inside a transaction of the document, when the id source gives no id, or for a command that is not among those
   *   of tying before {@link BareDesign.giveCommands}
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
      this.#later,
    );
    if (!prepared.ok) return prepared;
    if (prepared.writes.length === 0) return { ok: true };
    const { founding, writes } = prepared;
    if (founding.length > 0) this.doc.transact(() => applyWrites(founding), this.#originOf('founding'));
    this.#apply(writes, command.kind);
    return { ok: true };
  }

  /** In one transaction; so many that a message could not carry them in several, which are one step of undo all the same. */
  #apply(writes: readonly Write[], doing: Doing): void {
    const isOne = writes.length <= MOST_WRITES;
    const close = isOne ? null : this.#steps.open();
    const origin = this.#originOf(doing);
    for (let from = 0; from < writes.length; from += MOST_WRITES) {
      const piece = isOne ? writes : writes.slice(from, from + MOST_WRITES);
      this.doc.transact(() => applyWrites(piece), origin);
    }
    close?.();
  }

  #originOf(doing: Doing): MakerOrigin {
    const origin = this.#origins.get(doing) ?? new MakerOrigin(this.#makerId, doing);
    this.#origins.set(doing, origin);
    return origin;
  }

  /**
   * Takes back this maker's last step; where others have changed all of it since, says so ({@link BareDesign.onUndoNews}) and leaves it
   * at that. False when there is none. Rules D80 to D89.
   */
  undo(): boolean {
    return this.#step('undo');
  }

  /** Does this maker's last undone step again. False when there is none. */
  redo(): boolean {
    return this.#step('redo');
  }

  get canUndo(): boolean {
    return this.state.kind === 'ready' && this.#steps.has('undo');
  }
  get canRedo(): boolean {
    return this.state.kind === 'ready' && this.#steps.has('redo');
  }

  /** The next command begins a new undo step. */
  stopUndoCapture(): void {
    this.#steps.stop();
  }

  /**
   * All commands until the returned function is called are one undo step, however long it takes: a drag.
   * Calls may nest; the outermost counts. Calling the returned function again does nothing.
   */
  openStep(): () => void {
    return this.#steps.open();
  }

  /** From now on all commands can be run. */
  giveCommands(later: LaterCommands): void {
    this.#later = later;
  }

  /** From now on steps can be undone; those that were to be already are. */
  giveUndo(kit: UndoKit): void {
    this.#kit = kit;
    this.#writers = new kit.FormerWriters();
    for (const way of this.#waiting.splice(0)) this.#step(way);
  }

  /**
   * Calls the listener when an undo or redo found what others have changed since.
   * @returns stops it
   */
  onUndoNews(listener: UndoListener): () => void {
    const own: UndoListener = (news) => listener(news);
    this.#undoListeners.add(own);
    return () => this.#undoListeners.delete(own);
  }

  /**
   * Goes on with the steps of earlier visits of this maker, and has all steps kept from now on. Once.
   * @param isOwnClient whether this maker writes, or wrote then, as a Yjs client
   * @returns lets go of one of them that the maker took back elsewhere
   */
  recallSteps(
    steps: readonly OwnStep[],
    keeper: StepKeeper,
    isOwnClient: (client: number) => boolean,
  ): (step: OwnStep) => void {
    this.#isOwnClient = (client) => client === this.doc.clientID || isOwnClient(client);
    this.#steps.recall(steps, keeper);
    return (step) => this.#steps.forget(step);
  }

  /** What this maker did until {@link recallSteps}, the oldest first. */
  get unkeptEdits(): readonly Edit[] {
    return this.#steps.unkept;
  }

  /** Address of a knot that stays with it whatever is inserted or deleted elsewhere; null outside the pattern. */
  addressOf(row: number, k: number): KnotAddress | null {
    return addressAt(this.#reader.shape, row, k);
  }

  /** Where an addressed knot is now; null when its row or string pair was deleted or is hidden. */
  placeOf(address: KnotAddress): Cell | null {
    return placeAt(this.#reader.shape, this.#reader.scope.pattern, address);
  }

  /** Address of a row, as {@link BareDesign.addressOf} for a knot. */
  rowAddressOf(row: number): RowAddress | null {
    return rowAddressAt(this.#reader.shape, row);
  }

  /** Where an addressed row is now; null when its pair was deleted or it is hidden. */
  rowOf(address: RowAddress): number | null {
    return rowAt(this.#reader.shape, address);
  }

  /** Address of a string, as {@link BareDesign.addressOf} for a knot. */
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
    this.#listeners.clear();
    this.#undoListeners.clear();
    this.#steps.end();
  }

  #step(way: Way): boolean {
    this.#refuseInside();
    if (this.state.kind !== 'ready') return false;
    const kit = this.#kit;
    if (kit === null) {
      if (!this.#steps.has(way)) return false;
      this.#waiting.push(way);
      return true;
    }
    for (;;) {
      const edits = this.#steps.take(way);
      if (edits === null) return false;
      if (this.#takeBack(kit, kit.foldEdits(edits), way)) return true;
    }
  }

  /** @returns whether the maker saw or heard anything; else it was undone already, by the maker in another page */
  #takeBack(kit: UndoKit, edit: Edit, way: Way): boolean {
    const { writes, kept } = kit.takeBack(edit, this.doc);
    const isSeen = edit.changes.some((change) => kit.isInSight(change, this.#reader));
    const isTaken = writes.length > 0 && isSeen;
    const others = this.#others(kit, isTaken || kept.length > 0 ? kept : edit.changes);
    if (isTaken) this.#apply(writes, way);
    if (others.length > 0)
      for (const listener of [...this.#undoListeners]) listener({ way, isTaken, kept: others });
    return isTaken || others.length > 0;
  }

  /** What stands there and is not this maker's, with who wrote it. */
  #others(kit: UndoKit, changes: readonly KeyChange[]): UndoNews['kept'] {
    const { roots, scope } = this.#reader;
    return changes.flatMap((change) => {
      const { root, key } = change;
      const client = kit.isInSight(change, this.#reader)
        ? this.#writers!.of(change, roots)
        : // Rows and strings go without a writer; another board or pattern that was put in its place has one.
          kit.isOfScope(change, scope)
          ? null
          : this.#writers!.of({ root: 'meta', key: 'generation' }, roots);
      if (client !== null && this.#isOwnClient(client)) return [];
      return [{ change, client, address: root === 'knots' ? addressOfKey(key) : null }];
    });
  }

  #refuseInside(doc = this.#doc): void {
    if (doc._transaction !== null)
      throw new TypeError(
        'a command cannot run inside a transaction: it would be computed against an old state',
      );
  }

  #takeIn(transaction: Y.Transaction): void {
    const { origin } = transaction;
    const isLocal = origin instanceof MakerOrigin && this.#origins.get(origin.doing) === origin;
    // Before listeners hear of it, so that `canUndo` is right then.
    if (isLocal && this.#isUndoable) this.#keep(transaction, origin.doing);
    const change = this.#reader.refresh(transaction.changed, isLocal);
    if (change !== null) this.#tell(change);
  }

  #tell(change: DesignChange): void {
    for (const listener of [...this.#listeners]) listener(this.#reader.snapshot, change);
  }

  #keep(transaction: Y.Transaction, doing: Doing): void {
    if (doing === 'founding') return;
    const changes = changesOf(transaction, this.#reader.roots);
    const edit = { changes, held: heldBy(changes, this.#reader.roots) };
    if (doing === 'undo') this.#steps.turn(edit, 'redo');
    else if (doing === 'redo') this.#steps.turn(edit, 'undo');
    else this.#steps.record(edit, doing);
  }
}
