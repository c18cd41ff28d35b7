/**
 * An edit as data: which keys of a design it changed, from what to what. Keys are those of `schema.ts`, so an edit outlives
 * a reload and a renewal, and whoever has two of them can say what is left of the earlier one.
 *
 * Knots are told as they read: what the base says under a key counts as its value, since a renewal packs all keys into a new base.
 */
import type { StoredBase } from '../base-knots.ts';
import type { Roots } from '../schema.ts';

export type RootName = keyof Roots;

/** The roots that are lists of ids. */
export const LIST_ROOTS = ['rowPairs', 'stringPairs', 'paletteOrder'] as const;
export type ListRoot = (typeof LIST_ROOTS)[number];
export type MapRoot = Exclude<RootName, ListRoot>;
export const MAP_ROOTS: readonly MapRoot[] = ['meta', 'knots', 'colours', 'palette', 'colourways'];

/** Where an entry stands in a list, among entries of its own scope. */
export interface ListPlace {
  /** The entry to its left; '' for the first. */
  readonly behind: string;
  /** The entry to its right; '' for the last. */
  readonly before: string;
  /** Its index, for when both neighbours are gone. */
  readonly at: number;
}

/**
 * One key that changed. Of a map: its values, undefined = was not there; a knot's is its code, and `knots` under the id of a pattern
 * holds the packed knots of many pairs, as they read. Of a list: the key is the entry, and the values a {@link ListPlace}, or null where it is not in the list.
 */
export interface KeyChange {
  readonly root: RootName;
  readonly key: string;
  readonly before: unknown;
  readonly after: unknown;
}

/**
 * What hangs on what an edit took out of sight. The document keeps it, unseen, until it is renewed; kept here, it comes back
 * after that too.
 */
export interface Held {
  /** Entries of the lists of a scope that is no longer named, in their order. */
  readonly lists: readonly (readonly [ListRoot, readonly string[]])[];
  readonly values: readonly (readonly [MapRoot, string, unknown])[];
  /** Knots by pattern. */
  readonly bases: readonly (readonly [string, StoredBase])[];
}

export const NOTHING_HELD: Held = { lists: [], values: [], bases: [] };

/** What somebody changed, with what is needed to take it back. */
export interface Edit {
  readonly changes: readonly KeyChange[];
  readonly held: Held;
}

/** Whether a root is a list of entries, and not a map. */
export function isListRoot(root: RootName): root is ListRoot {
  return (LIST_ROOTS as readonly string[]).includes(root);
}

/** The id of the board or pattern that an entry or key belongs to; '' when it has none. */
export function scopeOf(key: string): string {
  const dot = key.indexOf('.');
  return dot < 0 ? '' : key.slice(0, dot);
}

/** Whether two plain values are the same. */
export function isAlike(a: unknown, b: unknown): boolean {
  if (a === b) return true;
  if (typeof a !== 'object' || typeof b !== 'object' || a === null || b === null) return false;
  if (a instanceof Uint8Array || b instanceof Uint8Array)
    return (
      a instanceof Uint8Array &&
      b instanceof Uint8Array &&
      a.length === b.length &&
      a.every((byte, i) => byte === b[i])
    );
  const [left, right] = [Object.entries(a), b as Readonly<Record<string, unknown>>];
  return (
    Array.isArray(a) === Array.isArray(b) &&
    left.length === Object.keys(b).length &&
    left.every(([name, value]) => Object.hasOwn(b, name) && isAlike(value, right[name]))
  );
}
