/**
 * The shared document of a design: names of its roots and keys. Nothing else knows how they are spelled.
 *
 * The scope. `meta.generation` (a stored name) holds `<board>.<pattern>`, two ids. Everything about the board (title, palette, piece,
 * gauge, colourways) is keyed with the board id in front, everything about the pattern (pairs, knots, colours of
 * strings, hidden ends) with the pattern id. Loading a board writes both anew, replacing the pattern only the second;
 * because one value names both, two loads at once never mix: the later value wins as a whole.
 *
 * Ids. A pair of rows or strings is `<pattern>.<local>`. Locals of a pair inserted later come from the caller; those
 * written with the pattern are `~0`, `~1`, … and the pair that stands in for an empty list is `~`. Callers' ids never
 * hold a tilde, a dot or a colon.
 */
import type * as Y from 'yjs';

/** Version of the layout described here and in INTERNALS.md. */
export const DOCUMENT_VERSION = 2;

/** Gives a fresh id at each call: 1 to 40 letters, digits, `_` or `-`. */
export type IdSource = () => string;

/** The shared types of a design, by the names under which the document holds them. */
export interface Roots {
  readonly meta: Y.Map<unknown>;
  readonly rowPairs: Y.Array<unknown>;
  readonly stringPairs: Y.Array<unknown>;
  readonly knots: Y.Map<unknown>;
  readonly colours: Y.Map<unknown>;
  readonly palette: Y.Map<unknown>;
  readonly paletteOrder: Y.Array<unknown>;
  readonly colourways: Y.Map<unknown>;
}

/** The shared types of a design document. */
export function rootsOf(doc: Y.Doc): Roots {
  return {
    meta: doc.getMap('meta'),
    rowPairs: doc.getArray('rowPairs'),
    stringPairs: doc.getArray('stringPairs'),
    knots: doc.getMap('knots'),
    colours: doc.getMap('colours'),
    palette: doc.getMap('palette'),
    paletteOrder: doc.getArray('paletteOrder'),
    colourways: doc.getMap('colourways'),
  };
}

/** The ids of the board and the pattern that are read now. Keys begin with one of them. */
export interface Scope {
  readonly board: string;
  readonly pattern: string;
}

const SCOPE = /^([\w-]{1,40})\.([\w-]{1,40})$/;
const ID = /^[\w-]{1,40}$/;

/** Reads the scope, the value of `meta.generation`; null when it is none. */
export function readScope(value: unknown): Scope | null {
  const match = typeof value === 'string' ? SCOPE.exec(value) : null;
  return match === null ? null : { board: match[1]!, pattern: match[2]! };
}

/** The value of `meta.generation`. */
export function writeScope(scope: Scope): string {
  return `${scope.board}.${scope.pattern}`;
}

/** Takes an id from the caller's source. @throws TypeError when it is not 1 to 40 letters, digits, `_` or `-`. */
export function takeId(newId: IdSource): string {
  const id = newId();
  if (typeof id !== 'string' || !ID.test(id))
    throw new TypeError(`the id source gave ${JSON.stringify(id)}; ids are 1 to 40 letters, digits, _ or -`);
  return id;
}

/** Key of something about the board or the pattern, and id of one of its pairs or colours. */
export function scoped(id: string, local: string): string {
  return `${id}.${local}`;
}

/** The part of a pair's id behind the pattern's id; null when the id is of another pattern. */
export function localOf(pattern: string, id: unknown): string | null {
  if (typeof id !== 'string' || !id.startsWith(`${pattern}.`)) return null;
  const local = id.slice(pattern.length + 1);
  return local.length >= 1 && local.length <= 40 && LOCAL.test(local) ? local : null;
}
const LOCAL = /^(~\d*|[\w-]+)$/;

/** Local id of the `index`-th pair written together with the pattern. */
export function foundingLocal(index: number): string {
  return `~${index}`;
}

/** Local id of the pair of strings that stands in when every pair was deleted. */
export const STAND_IN = '~';

export type Half = 'inside' | 'seam';

/** Key of what is said of a thread or a part, by its key in `engine/files/supplies.ts`. */
export function supplyKey(board: string, key: string): string {
  return scoped(board, `${SUPPLY}${key}`);
}

/** The key in `engine/files/supplies.ts` of an entry of `meta`; null when it is none, or of another board. */
export function readSupplyEntry(board: string, key: string): string | null {
  const before = supplyKey(board, '');
  return key.startsWith(before) ? key.slice(before.length) : null;
}
const SUPPLY = 'supply.';

/** Key of a knot: `<row pair>:<local of the string pair>:<i or s>`. */
export function knotKey(rowPair: string, stringLocal: string, half: Half): string {
  return `${rowPair}:${stringLocal}:${half === 'inside' ? 'i' : 's'}`;
}

/** Parts of a knot's key; null when it is not one. */
export function readKnotKey(
  key: string,
): { readonly rowPair: string; readonly stringLocal: string; readonly half: Half } | null {
  const first = key.indexOf(':');
  const second = key.length - 2;
  if (first < 1 || second <= first || key.charCodeAt(second) !== 58) return null;
  const half = key.charCodeAt(second + 1);
  if (half !== 105 && half !== 115) return null;
  return {
    rowPair: key.slice(0, first),
    stringLocal: key.slice(first + 1, second),
    half: half === 105 ? 'inside' : 'seam',
  };
}

/** Key of the colour of the left (0) or right (1) string of a pair. */
export function colourKey(stringPair: string, side: 0 | 1): string {
  return `${stringPair}:${side}`;
}

/** What is kept of a colourway under a key each; `order` null = removed, `maker` null = nobody's, `pieces` null = one. */
export type HeadField = 'order' | 'name' | 'maker' | 'pieces';
/** What is kept of one of its colours under a key each; `hex` null = as on the board. */
export type DressField = 'hex' | 'name' | 'order';

const HEAD_FIELDS: ReadonlySet<string> = new Set<HeadField>(['order', 'name', 'maker', 'pieces']);
const DRESS_FIELDS: ReadonlySet<string> = new Set<DressField>(['hex', 'name', 'order']);

/**
 * Key of a field of a colourway. JSON, since ids come from files and may hold anything; the empty text, which is no
 * palette id, stands where a colour would.
 */
export function colourwayKey(board: string, colourway: string, field: HeadField): string {
  return JSON.stringify([board, colourway, '', field]);
}

/** Key of a field of one of a colourway's colours. */
export function dressKey(board: string, colourway: string, colour: string, field: DressField): string {
  return JSON.stringify([board, colourway, colour, field]);
}

/** Parts of a colourway's key. `field` null: a key of version 1, which holds all fields in one value. */
export interface ColourwayKeyParts {
  readonly colourway: string;
  /** Null: the colourway itself. */
  readonly colour: string | null;
  readonly field: HeadField | DressField | null;
}

/** Parts of a colourway's key; null when it is none of this board. */
export function readColourwayKey(board: string, key: string): ColourwayKeyParts | null {
  if (!key.startsWith(`[${JSON.stringify(board)},`)) return null;
  let parts: unknown;
  try {
    parts = JSON.parse(key);
  } catch {
    return null;
  }
  if (!Array.isArray(parts) || parts.length < 2 || parts.length > 4) return null;
  if (!parts.every((part) => typeof part === 'string')) return null;
  // Only the spelling that a writer uses counts, so that one thing has one key.
  if (JSON.stringify(parts) !== key) return null;
  const [, colourway, colour, field] = parts as string[];
  if (field === undefined) return { colourway: colourway!, colour: colour ?? null, field: null };
  const isHead = colour === '';
  if (!(isHead ? HEAD_FIELDS : DRESS_FIELDS).has(field)) return null;
  return { colourway: colourway!, colour: isHead ? null : colour!, field: field as HeadField | DressField };
}
