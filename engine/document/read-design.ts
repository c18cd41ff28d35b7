/**
 * Reads a design document into a plain board, whatever peers wrote. Everything read follows from the document's state
 * alone, never from the order in which it arrived, so all clients read the same. Nothing is written.
 */
import type * as Y from 'yjs';
import type { Board, Colourway } from '../pattern/index.ts';
import type { Cell } from './cells.ts';
import { type Colours, readColours } from './read-colours.ts';
import { readColourways } from './read-colourways.ts';
import { KnotReader } from './read-knots.ts';
import { isSameShape, readShape, type Shape } from './read-lists.ts';
import { type Meta, readMeta } from './read-meta.ts';
import { type Repair, RepairLog } from './repair.ts';
import { type Roots, readScope, rootsOf, type Scope } from './schema.ts';
import { type DocumentState, stateOf } from './version.ts';

/** A design at one moment. Immutable; equal documents give equal snapshots. */
export interface DesignSnapshot {
  /** Always valid: `parseBoard(formatBoard(board))` takes it. */
  readonly board: Board;
  /** Row pair `p` holds the pattern's rows `2p - start` and `2p + 1 - start`, hidden ones included. */
  readonly rowPairIds: readonly string[];
  /** String pair `q` holds strings `2q` and `2q + 1`, a hidden last one included. */
  readonly stringPairIds: readonly string[];
  /** What was mended to read it; empty for a sound document. */
  readonly repairs: readonly Repair[];
}

/**
 * What differs between two snapshots. `structure`: rows, strings, the whole board, or several of the others at once;
 * `palette`: palette, colours of strings and colourways; `colours`: colours of strings; `meta`: title, piece, gauge, supplies.
 * `local`: the change was made, undone or redone by this maker.
 */
export type DesignChange =
  | { readonly kind: 'knots'; readonly cells: readonly Cell[]; readonly local: boolean }
  | { readonly kind: 'structure' | 'palette' | 'colours' | 'meta'; readonly local: boolean };

/** Names no scope: what is read of a document without one. */
const NOWHERE: Scope = { board: '', pattern: '' };

/**
 * Reads the whole document. Total: never throws. O(document).
 * Rules D1 to D32 in engine/document/RULES.md.
 */
export function readDesign(doc: Y.Doc): DesignSnapshot {
  return new DesignReader(doc).snapshot;
}

/** Keeps a snapshot up to date. */
export class DesignReader {
  readonly roots: Roots;
  #state!: DocumentState;
  #scope!: Scope;
  #shape!: Shape;
  #knots!: KnotReader;
  #colours!: Colours;
  #colourways!: readonly Colourway[];
  #meta!: Meta;
  #headRepairs!: readonly Repair[];
  #knotRepairs: readonly Repair[] = [];
  #snapshot!: DesignSnapshot;

  /** @param former what was read of another document: where that shows the same it is the snapshot, and else what of it is the same is kept */
  constructor(doc: Y.Doc, former?: DesignSnapshot) {
    this.roots = rootsOf(doc);
    if (former !== undefined) this.#snapshot = former;
    this.#readAll();
    if (former === undefined || !isSame(former.repairs, this.#snapshot.repairs)) return;
    if (isShownAlike(former, this.#snapshot)) this.#snapshot = former;
  }

  get snapshot(): DesignSnapshot {
    return this.#snapshot;
  }
  /** Whether the document can be read and edited, or why not. */
  get state(): DocumentState {
    return this.#state;
  }
  get scope(): Scope {
    return this.#scope;
  }
  get shape(): Shape {
    return this.#shape;
  }
  get colours(): Colours {
    return this.#colours;
  }

  /**
   * Takes in a transaction.
   * @param changed keys that were changed, by type, as Yjs lists them
   * @returns what differs now; null when nothing that is read does
   * O(changed knots) and one copy of the knots when only knots changed, else O(document).
   */
  refresh(changed: ReadonlyMap<unknown, ReadonlySet<string | null>>, local: boolean): DesignChange | null {
    const { knots, ...others } = this.roots;
    const before = this.#snapshot;
    if (Object.values(others).some((root) => changed.has(root))) {
      if (!this.#reread(changed.get(knots))) return null;
      return { ...compare(before, this.#snapshot), local };
    }
    const keys = changed.get(knots);
    if (keys === undefined) return null;
    const cells = this.#knots.update(keys);
    if (cells === null) {
      this.#readAll();
      return { kind: 'structure', local };
    }
    const repairs = this.#readKnotRepairs();
    if (cells.length === 0 && !repairs) return null;
    this.#assemble();
    return { kind: 'knots', cells, local };
  }

  #readAll(): void {
    const log = new RepairLog();
    this.#readHead(log);
    this.#knots = new KnotReader(this.roots.knots, this.#scope.pattern, this.#shape);
    this.#headRepairs = log.list();
    this.#readKnotRepairs();
    this.#assemble();
  }

  /** Reads all but the knots, and those when rows or strings changed. Returns whether anything differs. */
  #reread(knotKeys: ReadonlySet<string | null> | undefined): boolean {
    const { pattern } = this.#scope;
    const shape = this.#shape;
    const before = JSON.stringify([this.#head(), this.#headRepairs]);
    const log = new RepairLog();
    this.#readHead(log);
    this.#headRepairs = log.list();
    let isChanged = before !== JSON.stringify([this.#head(), this.#headRepairs]);
    if (pattern !== this.#scope.pattern || !isSameShape(shape, this.#shape)) {
      this.#knots = new KnotReader(this.roots.knots, this.#scope.pattern, this.#shape);
      isChanged = true;
    } else {
      this.#shape = shape;
      const cells = knotKeys === undefined ? [] : this.#knots.update(knotKeys);
      if (cells === null) this.#knots = new KnotReader(this.roots.knots, pattern, shape);
      if (cells === null || cells.length > 0) isChanged = true;
    }
    if (this.#readKnotRepairs()) isChanged = true;
    if (isChanged) this.#assemble();
    return isChanged;
  }

  #readHead(log: RepairLog): void {
    this.#state = stateOf(this.roots, log);
    const stored = this.roots.meta.get('generation');
    this.#scope = (this.#state.kind === 'ready' && readScope(stored)) || NOWHERE;
    this.#shape = readShape(this.roots, this.#scope, log);
    this.#colours = readColours(this.roots, this.#scope, this.#shape, log);
    this.#colourways = readColourways(this.roots, this.#scope, this.#colours.palette, log);
    this.#meta = readMeta(this.roots, this.#scope, this.#shape.rows, log);
  }

  #head(): readonly unknown[] {
    return [this.#state, this.#scope, this.#colours, this.#colourways, this.#meta];
  }

  #readKnotRepairs(): boolean {
    const log = new RepairLog();
    this.#knots.noteRepairs(log);
    const repairs = log.list();
    if (JSON.stringify(repairs) === JSON.stringify(this.#knotRepairs)) return false;
    this.#knotRepairs = repairs;
    return true;
  }

  #assemble(): void {
    const before: DesignSnapshot | undefined = this.#snapshot;
    const { strings, start, rows } = this.#shape;
    const colours = keep(before?.board.pattern.colours, this.#colours.ofPairs.slice(0, strings));
    this.#snapshot = {
      board: {
        title: this.#meta.title,
        palette: keep(before?.board.palette, this.#colours.palette),
        pattern: { colours, start, rows, knots: this.#knots.cells },
        piece: keep(before?.board.piece, this.#meta.piece),
        gauge: keep(before?.board.gauge, this.#meta.gauge),
        colourways: keep(before?.board.colourways, this.#colourways),
        ...(this.#meta.supplies === undefined
          ? {}
          : { supplies: keep(before?.board.supplies, this.#meta.supplies) }),
      },
      rowPairIds: this.#shape.rowPairIds,
      stringPairIds: this.#shape.stringPairIds,
      repairs: [...this.#headRepairs, ...this.#knotRepairs],
    };
  }
}

/** The former value when the new one says the same, so that readers can compare by identity. */
function keep<T>(before: T | undefined, now: T): T {
  return before !== undefined && isSame(before, now) ? before : now;
}

function isSame(a: unknown, b: unknown): boolean {
  return JSON.stringify(a) === JSON.stringify(b);
}

/** Whether two designs show the same under the same ids. O(knots). */
export function isShownAlike(
  a: Omit<DesignSnapshot, 'repairs'>,
  b: Omit<DesignSnapshot, 'repairs'>,
): boolean {
  const [{ pattern: one, ...rest }, { pattern: other, ...others }] = [a.board, b.board];
  return (
    isSame(
      [a.rowPairIds, a.stringPairIds, rest, one.colours, one.start, one.rows],
      [b.rowPairIds, b.stringPairIds, others, other.colours, other.start, other.rows],
    ) &&
    one.knots.length === other.knots.length &&
    one.knots.every((knot, i) => knot === other.knots[i])
  );
}

type WholeKind = 'structure' | 'palette' | 'colours' | 'meta';

function compare(a: DesignSnapshot, b: DesignSnapshot): { readonly kind: WholeKind } {
  const isStructure =
    a.rowPairIds !== b.rowPairIds ||
    a.stringPairIds !== b.stringPairIds ||
    a.board.pattern.knots !== b.board.pattern.knots;
  const isPalette = a.board.palette !== b.board.palette || a.board.colourways !== b.board.colourways;
  const isColours = a.board.pattern.colours !== b.board.pattern.colours;
  const isMeta =
    a.board.title !== b.board.title ||
    a.board.piece !== b.board.piece ||
    a.board.gauge !== b.board.gauge ||
    a.board.supplies !== b.board.supplies;
  if (isStructure || (isMeta && (isPalette || isColours))) return { kind: 'structure' };
  if (isPalette) return { kind: 'palette' };
  if (isColours) return { kind: 'colours' };
  // What is left are title, piece, gauge and supplies, or repairs alone.
  return { kind: isMeta ? 'meta' : 'structure' };
}
