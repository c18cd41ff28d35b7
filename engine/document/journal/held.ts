/** What a renewal would drop of what an edit took out of sight. */
import { oldFields } from '../read-colourways.ts';
import {
  colourKey,
  colourwayKey,
  type DressField,
  dressKey,
  type HeadField,
  localOf,
  type Roots,
  readColourwayKey,
  readScope,
  scoped,
} from '../schema.ts';
import { type Held, type KeyChange, type ListRoot, type MapRoot, scopeOf } from './key-change.ts';
import { type KnotMatrix, matrixOf } from './knots-shown.ts';

/**
 * What hangs on pairs, colours, colourways and whole patterns that these changes took out of sight. Right after the changes.
 * O(changes), and all of the pattern where pairs went, all of the board where another was loaded. Rule D305.
 */
export function heldBy(changes: readonly KeyChange[], roots: Roots): Held {
  const held = new Gathering(roots);
  const gone = { rowPairs: new Map<string, string[]>(), stringPairs: new Map<string, string[]>() };
  for (const { root, key, before, after } of changes) {
    if (root === 'meta' && key === 'generation') held.takeScope(before, after);
    else if (root === 'colourways') held.takeColourway(key, before, after);
    else if (after === null && root === 'paletteOrder') held.takeColour(key);
    else if (after === null && (root === 'rowPairs' || root === 'stringPairs')) {
      const ids = gone[root].get(scopeOf(key)) ?? [];
      gone[root].set(scopeOf(key), ids);
      ids.push(key);
    }
  }
  for (const pattern of new Set([...gone.rowPairs.keys(), ...gone.stringPairs.keys()]))
    held.takePairs(pattern, gone.rowPairs.get(pattern) ?? [], gone.stringPairs.get(pattern) ?? []);
  return held.held;
}

class Gathering {
  readonly #roots: Roots;
  readonly #lists: Held['lists'][number][] = [];
  readonly #values: Held['values'][number][] = [];
  readonly #bases: Held['bases'][number][] = [];

  constructor(roots: Roots) {
    this.#roots = roots;
  }

  get held(): Held {
    return { lists: this.#lists, values: this.#values, bases: this.#bases };
  }

  /** Everything under the ids that are no longer named. */
  takeScope(before: unknown, after: unknown): void {
    const [was, is] = [readScope(before), readScope(after)];
    if (was === null) return;
    if (was.pattern !== is?.pattern) {
      const rows = this.#list('rowPairs', was.pattern);
      const strings = this.#list('stringPairs', was.pattern);
      // Also where nothing is tied: a pattern that is there has a base, and who writes the first one makes the pattern.
      this.#bases.push([was.pattern, this.#matrix(was.pattern, rows, strings).toBase()]);
      this.#under('colours', was.pattern);
      this.#under('meta', was.pattern);
    }
    if (was.board !== is?.board) {
      this.#list('paletteOrder', was.board);
      this.#under('palette', was.board);
      this.#under('meta', was.board);
      this.#roots.colourways.forEach((value, key) => {
        if (readColourwayKey(was.board, key) !== null) this.#values.push(['colourways', key, value]);
      });
    }
  }

  /** All that is said of a colourway that was removed, or of a colour in it that is as on the board again. */
  takeColourway(key: string, before: unknown, after: unknown): void {
    const board = boardOf(key);
    const parts = board === null ? null : readColourwayKey(board, key);
    if (board === null || parts === null || before === after || (after ?? null) !== null) return;
    const { colourway, colour, field } = parts;
    if (field === (colour === null ? 'order' : 'hex'))
      this.#dresses(board, (one, other) => one === colourway && (colour === null || colour === other));
  }

  /** A colour that left the palette: how it looks, also in colourways. */
  takeColour(entry: string): void {
    const board = scopeOf(entry);
    for (const field of ['name', 'hex']) this.#value('palette', `${entry}:${field}`);
    const id = entry.slice(board.length + 1);
    this.#dresses(board, (_colourway, colour) => colour === id);
  }

  takePairs(pattern: string, rows: readonly string[], strings: readonly string[]): void {
    for (const id of strings) for (const side of [0, 1] as const) this.#value('colours', colourKey(id, side));
    const all = (root: ListRoot, gone: readonly string[]): string[] => [
      ...entriesOf(this.#roots, root, pattern),
      ...gone,
    ];
    if (rows.length > 0) this.#tied(pattern, rows, all('stringPairs', strings));
    if (strings.length > 0) this.#tied(pattern, all('rowPairs', []), strings);
  }

  #list(root: ListRoot, scope: string): string[] {
    const entries = entriesOf(this.#roots, root, scope);
    if (entries.length > 0) this.#lists.push([root, entries]);
    return entries;
  }

  #under(root: 'meta' | 'colours' | 'palette', scope: string): void {
    this.#roots[root].forEach((value, key) => {
      if (key.startsWith(scoped(scope, ''))) this.#values.push([root, key, value]);
    });
  }

  #value(root: MapRoot, key: string): void {
    const value = this.#roots[root].get(key);
    if (value !== undefined) this.#values.push([root, key, value]);
  }

  /** Under their own keys, also what version 1 kept in one value. */
  #dresses(board: string, isMeant: (colourway: string, colour: string | null) => boolean): void {
    const { colourways } = this.#roots;
    colourways.forEach((value, key) => {
      const parts = readColourwayKey(board, key);
      if (parts === null || !isMeant(parts.colourway, parts.colour)) return;
      const { colourway, colour, field } = parts;
      const fields = field === null ? oldFields(value, colour === null) : [[field, value] as const];
      for (const [name, said] of fields) {
        const own =
          colour === null
            ? colourwayKey(board, colourway, name as HeadField)
            : dressKey(board, colourway, colour, name as DressField);
        if (field !== null || !colourways.has(own)) this.#values.push(['colourways', own, said]);
      }
    });
  }

  #tied(pattern: string, rowIds: readonly string[], stringIds: readonly string[]): void {
    const matrix = this.#matrix(pattern, rowIds, stringIds);
    if (matrix.bytes.some((byte) => byte !== 0)) this.#bases.push([pattern, matrix.toBase()]);
  }

  #matrix(pattern: string, rowIds: readonly string[], stringIds: readonly string[]): KnotMatrix {
    const locals = (ids: readonly string[]): string[] =>
      ids.flatMap((id) => localOf(pattern, id) ?? ([] as string[]));
    return matrixOf(this.#roots.knots, pattern, locals(rowIds), locals(stringIds));
  }
}

/** The board in a colourway's key; null when it has none. */
export function boardOf(key: string): string | null {
  return /^\["([\w-]+)",/.exec(key)?.[1] ?? null;
}

/** The entries of one scope, each where it stands first. */
export function entriesOf(roots: Roots, root: ListRoot, scope: string): string[] {
  const entries = new Set<string>();
  for (const entry of roots[root].toArray())
    if (typeof entry === 'string' && scopeOf(entry) === scope) entries.add(entry);
  return [...entries];
}
