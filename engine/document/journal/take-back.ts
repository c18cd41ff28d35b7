/**
 * Taking an edit back: what it changed becomes what it was before, wherever it still stands as the edit left it. What somebody has
 * changed since stays as they made it.
 *
 * Everything follows from the edit and the document, so that whoever has the same of both writes the same.
 */
import type * as Y from 'yjs';
import { readShape } from '../read-lists.ts';
import { RepairLog } from '../repair.ts';
import { readColourwayKey, readKnotKey, readScope, type Roots, rootsOf, scoped } from '../schema.ts';
import { set, type Write } from '../writes.ts';
import { boardOf } from './held.ts';
import { heldEntries, heldWrites } from './held-writes.ts';
import {
  type Edit,
  type Held,
  isAlike,
  isListRoot,
  type KeyChange,
  LIST_ROOTS,
  type ListRoot,
  MAP_ROOTS,
  type MapRoot,
  NOTHING_HELD,
  type RootName,
  scopeOf,
} from './key-change.ts';
import { isUnheard, matrixWrites, replacedBases, shownAt } from './knot-writes.ts';
import {
  baseOf,
  eachKnot,
  KnotMatrix,
  type KnotPlace,
  keyOf,
  knotPlaceOf,
  LEAVE,
  matrixOf,
  placeIn,
} from './knots-shown.ts';
import { takeBackInList } from './take-back-list.ts';

interface TakenBack {
  /** In their order, for `applyWrites` in one transaction. */
  readonly writes: readonly Write[];
  /** What somebody has changed since, and stays. Of knots packed together each by its own key. */
  readonly kept: readonly KeyChange[];
}

/** How a knot without a value reads. */
const NONE_TIED = 0;

const NONE: ReadonlySet<string> = new Set();

/** How a colour looks stays when it is taken back: others may have given it to strings. */
const LOOKS = /:(name|hex)$/;

/**
 * What takes an edit back. Writes nothing itself. Rules D306 to D314.
 * @param edit of `changesOf` and `heldBy`, several folded to one by `foldEdits`
 */
export function takeBack({ changes, held }: Edit, doc: Y.Doc): TakenBack {
  return take(changes, held, doc, false);
}

/** What does an edit, on a document like the one it was made on, to the last key. */
export function doAgain({ changes }: Edit, doc: Y.Doc): TakenBack {
  return take(changes.map(inverse), NOTHING_HELD, doc, true);
}

function take(changes: readonly KeyChange[], held: Held, doc: Y.Doc, isExact: boolean): TakenBack {
  const roots = rootsOf(doc);
  const taking = new Taking(roots, { changes, held }, isExact);
  const isScopeBack = changes.some((change) => isScopeToTake(change, roots));
  for (const root of LIST_ROOTS) {
    const entries = isScopeBack ? heldEntries(held, roots, root) : [];
    taking.takeList(
      root,
      changes.filter((change) => change.root === root),
      entries,
    );
  }
  for (const change of changes) if (!isListRoot(change.root)) taking.takeKey(change.root, change);
  const { writes, kept } = taking;
  if (!taking.bringsBack) return { writes, kept };
  const written = taking.written();
  const missing = heldWrites(held, roots, (root, key) => written.has(`${root} ${key}`));
  return { writes: [...missing, ...writes], kept };
}

class Taking {
  readonly writes: Write[] = [];
  readonly kept: KeyChange[] = [];
  readonly #roots: Roots;
  readonly #isExact: boolean;
  /** Boards and patterns that this edit wrote whole: nobody loses them when it is taken back. */
  readonly #founded: ReadonlySet<string>;
  /** Entries of each list that go, and those that come back. A row pair and a string pair may have one id. */
  readonly #gone = { rowPairs: NONE, stringPairs: NONE, paletteOrder: NONE };
  readonly #back = { rowPairs: NONE, stringPairs: NONE, paletteOrder: NONE };
  readonly #goneColourways: ReadonlySet<string>;
  /** By root and key. */
  readonly #held: ReadonlyMap<string, unknown>;
  #listed: Readonly<Record<'rowPairs' | 'stringPairs', ReadonlySet<unknown>>> | null = null;
  #isScopeBack = false;
  #isColourwayBack = false;

  /** @param isExact whether also what goes along with a pair, and would not be missed, is written */
  constructor(roots: Roots, { changes, held }: Edit, isExact: boolean) {
    this.#roots = roots;
    this.#held = new Map(held.values.map(([root, key, value]) => [`${root} ${key}`, value]));
    this.#isExact = isExact;
    this.#founded = new Set(isExact ? [] : changes.flatMap(foundedBy));
    this.#goneColourways = new Set(
      changes.flatMap((change) => (isFirstOrder(change) ? [wayOf(change.key)] : [])),
    );
  }

  /** Whether something comes back on which more may have hung. */
  get bringsBack(): boolean {
    const isEntryBack = LIST_ROOTS.some((root) => this.#back[root].size > 0);
    return isEntryBack || this.#isScopeBack || this.#isColourwayBack;
  }

  /** Keys that are written, by root and key. */
  written(): ReadonlySet<string> {
    const names = new Map(MAP_ROOTS.map((root) => [this.#roots[root], root]));
    return new Set(
      this.writes.flatMap((write) =>
        write.do === 'set' || write.do === 'clear' ? [`${names.get(write.map)} ${write.key}`] : [],
      ),
    );
  }

  /** @param held entries that come before anything else */
  takeList(root: ListRoot, changes: readonly KeyChange[], held: readonly string[]): void {
    if (changes.length === 0 && held.length === 0) return;
    const mine = changes.filter(({ key }) => !this.#founded.has(scopeOf(key)));
    const { writes, kept, gone, back } = takeBackInList(this.#roots[root], mine, held);
    this.writes.push(...writes);
    this.kept.push(...kept);
    this.#gone[root] = gone;
    this.#back[root] = back;
  }

  takeKey(root: MapRoot, change: KeyChange): void {
    if (this.#isFounded(root, change.key)) return;
    if (root === 'knots') this.#takeKnots(change);
    else this.#takeValue(root, change);
  }

  #takeKnots(change: KeyChange): void {
    const map = this.#roots.knots;
    const place = knotPlaceOf(change.key);
    if (place === null) {
      if (replacedBases(change) !== null) this.#takeMatrix(change);
      else if (change.after === undefined && !map.has(change.key))
        this.writes.push(set(map, change.key, change.before));
      return;
    }
    if (!this.#isExact && this.#hasGone(change.key, place)) return;
    const now = shownAt(map, change.key, place);
    if (isUnheard(map, change.key, place) && !this.#isListed(change.key, place)) {
      // It went with its pair. Somebody took that away since, unless it was this edit.
      if (this.#isExact || this.#comesBack(change.key, place)) this.#putKnot(change);
      else this.kept.push(change);
    } else if (now === (change.after ?? NONE_TIED)) this.#putKnot(change);
    else if (now !== (change.before ?? NONE_TIED)) this.kept.push(change);
  }

  /** One that had no value, since its pattern had not arrived, has none again: a knot of the pattern would lie under it. */
  #putKnot({ key, before }: KeyChange): void {
    const map = this.#roots.knots;
    if (before !== undefined) this.writes.push(set(map, key, before));
    else if (map.has(key)) this.writes.push({ do: 'clear', map, key });
  }

  #takeMatrix(change: KeyChange): void {
    const { knots } = this.#roots;
    const [was, is] = replacedBases(change)!.map(baseOf) as [
      ReturnType<typeof baseOf>,
      ReturnType<typeof baseOf>,
    ];
    const now = matrixOf(knots, change.key, is.rows, is.strings);
    const wanted = new KnotMatrix(is.rows, is.strings, LEAVE);
    eachKnot(wanted, (i, j, half) => {
      const [before, after] = [was.at(i, j, half), is.at(i, j, half)];
      if (before === after) return;
      const shown = now.get(i, j, half);
      if (shown === after) wanted.put(i, j, half, before);
      else if (shown !== before) {
        const key = keyOf(placeIn(wanted, change.key, i, j, half));
        this.kept.push({ root: 'knots', key, before, after });
      }
    });
    this.writes.push(...matrixWrites(knots, change.key, wanted));
  }

  #takeValue(root: MapRoot, change: KeyChange): void {
    const { key, before, after } = change;
    const isAlong = !this.#isExact && this.#goesAlong(root, key);
    // The id of a pair is never given again. That of a colourway may be, and then shows what was left under it.
    if (isAlong && root === 'colours') return;
    const map = this.#roots[root];
    // What a renewal dropped stood as it is held.
    const now = map.has(key) ? map.get(key) : this.#held.get(`${root} ${key}`);
    // A page of the former version would write where nobody reads any more.
    if (root === 'meta' && key === 'version' && !(Number(before) > Number(now ?? 0))) return;
    if (saysSame(root, key, now, after) || this.#isShortened(key, now, after)) {
      if (before === undefined) {
        // A board is never left without its scope, nor a colour that others may use without its looks.
        const isNeeded = key === 'generation' || (root === 'palette' && LOOKS.test(key));
        if (isNeeded && !this.#isExact) return;
        if (map.has(key)) this.writes.push({ do: 'clear', map, key });
        return;
      }
      this.writes.push(set(map, key, before));
      if (root === 'meta' && key === 'generation') this.#isScopeBack = true;
      if (root === 'colourways' && isNone(after)) this.#isColourwayBack = true;
    } else if (!isAlong && !saysSame(root, key, now, before)) this.kept.push(change);
  }

  /** Whether a lead-in is as long as there are rows, since they are fewer than it was given: a renewal writes down what is read. */
  #isShortened(key: string, now: unknown, given: unknown): boolean {
    if (!key.endsWith('.piece.leadInRows') || typeof given !== 'number' || typeof now !== 'number')
      return false;
    const scope = readScope(this.#roots.meta.get('generation'));
    if (scope?.board !== scopeOf(key)) return false;
    return now === Math.min(given, readShape(this.#roots, scope, new RepairLog()).rows);
  }

  /** Whether it hangs on a pair, colour or colourway that this edit brought and that goes again. */
  #goesAlong(root: MapRoot, key: string): boolean {
    if (root === 'colours') return this.#gone.stringPairs.has(key.slice(0, -2));
    return root === 'colourways' && !key.endsWith(',"","order"]') && this.#goneColourways.has(wayOf(key));
  }

  #hasGone(key: string, { pattern, string }: KnotPlace): boolean {
    return hangsOn(this.#gone, key, pattern, string);
  }

  #isListed(key: string, { pattern, string }: KnotPlace): boolean {
    this.#listed ??= {
      rowPairs: new Set(this.#roots.rowPairs.toArray()),
      stringPairs: new Set(this.#roots.stringPairs.toArray()),
    };
    const { rowPairs, stringPairs } = this.#listed;
    return rowPairs.has(readKnotKey(key)?.rowPair) && stringPairs.has(scoped(pattern, string));
  }

  #comesBack(key: string, { pattern, string }: KnotPlace): boolean {
    return hangsOn(this.#back, key, pattern, string);
  }

  #isFounded(root: MapRoot, key: string): boolean {
    if (this.#founded.size === 0) return false;
    if (root === 'colourways') return this.#founded.has(boardOf(key) ?? '');
    if (root === 'meta' && (key === 'generation' || key === 'version')) return false;
    return this.#founded.has(root === 'knots' && knotPlaceOf(key) === null ? key : scopeOf(key));
  }
}

/** Whether it named another scope than is to be named again. */
function isScopeToTake({ root, key, before, after }: KeyChange, { meta }: Roots): boolean {
  return root === 'meta' && key === 'generation' && before !== undefined && meta.get(key) === after;
}

/** The scope that a change is the founding of: a pattern comes with its base, a board with its title. */
function foundedBy({ root, key, before, after }: KeyChange): readonly string[] {
  if (before !== undefined || after === undefined) return [];
  if (root === 'knots' && knotPlaceOf(key) === null) return [key];
  return root === 'meta' && key.endsWith('.title') ? [scopeOf(key)] : [];
}

/** Whether it made a colourway. */
function isFirstOrder({ root, key, before, after }: KeyChange): boolean {
  return root === 'colourways' && key.endsWith(',"","order"]') && isNone(before) && !isNone(after);
}

/** Board and colourway of a key. */
function wayOf(key: string): string {
  const board = boardOf(key);
  const parts = board === null ? null : readColourwayKey(board, key);
  return parts === null ? key : JSON.stringify([board, parts.colourway]);
}

/** Whether one of the pairs of a knot is among these. */
function hangsOn(
  { rowPairs, stringPairs }: Readonly<Record<'rowPairs' | 'stringPairs', ReadonlySet<string>>>,
  key: string,
  pattern: string,
  string: string,
): boolean {
  return rowPairs.has(readKnotKey(key)?.rowPair ?? '') || stringPairs.has(scoped(pattern, string));
}

function isNone(value: unknown): boolean {
  return value === null || value === undefined;
}

/**
 * Whether two values of a key say the same. Null is how a field is taken back and false how an end is shown; a renewal drops the one and
 * writes the other. Places among colourways may have other numbers where somebody was handed over with them in hand, so any two
 * numbers are alike there.
 */
function saysSame(root: RootName, key: string, a: unknown, b: unknown): boolean {
  if (root === 'colourways' && key.endsWith(',"order"]') && typeof a === 'number' && typeof b === 'number')
    return true;
  return isAlike(orNone(a), orNone(b));
}

function orNone(value: unknown): unknown {
  return value === false ? null : (value ?? null);
}

/** The change that takes this one back. */
function inverse({ root, key, before, after }: KeyChange): KeyChange {
  return { root, key, before: after, after: before };
}
