/**
 * What of a design somebody wrote last, and what of that others then changed, removed or merged away. Everything follows from edits as
 * `changesOf` tells them, one's own and others', in their order; who calls it says whose they are.
 *
 * A thing is what a maker would count: a knot, a pair of rows or strings, a colour, a colourway, a text; several keys may be one thing.
 */
import { isListRoot, type KeyChange, type RootName } from '../journal/index.ts';
import { localOf, readColourwayKey, readKnotKey, readScope, scoped } from '../schema.ts';

/** Kinds of things that somebody can lose, in the order in which they are told. */
export const LOST_KINDS = ['knot', 'row', 'string', 'colour', 'colourway', 'text'] as const;
type LostKind = (typeof LOST_KINDS)[number];

/** One thing that was somebody's and is not as they left it. */
export interface Lost {
  readonly kind: LostKind;
  /** Names the thing; the same for all of its keys. */
  readonly thing: string;
  readonly isRemoved: boolean;
  /** Whether it went with the whole pattern or board, so that it is not brought back by itself. */
  readonly isWhole: boolean;
  /** What took it. */
  readonly change: KeyChange;
}

interface Own {
  readonly root: RootName;
  readonly key: string;
  readonly kind: LostKind;
  readonly thing: string;
  readonly value: unknown;
  /** What stood there before it was one's own. */
  readonly was: unknown;
}

const nameOf = (root: RootName, key: string): string => `${root} ${key}`;

/** What a key is part of; null for what nobody is told of. Rule D332. */
function thingOf(root: RootName, key: string): Pick<Own, 'kind' | 'thing'> | null {
  switch (root) {
    case 'knots':
      return readKnotKey(key) === null ? null : { kind: 'knot', thing: nameOf(root, key) };
    case 'rowPairs':
      return { kind: 'row', thing: nameOf(root, key) };
    case 'stringPairs':
      return { kind: 'string', thing: nameOf(root, key) };
    case 'colours':
      return { kind: 'colour', thing: nameOf(root, key) };
    case 'paletteOrder':
      return { kind: 'colour', thing: nameOf('palette', key) };
    case 'palette':
      return /:(name|hex)$/.test(key)
        ? { kind: 'colour', thing: nameOf('palette', key.slice(0, key.lastIndexOf(':'))) }
        : null;
    case 'colourways': {
      const board = /^\["([\w-]+)",/.exec(key)?.[1];
      const parts = board === undefined ? null : readColourwayKey(board, key);
      if (board === undefined || parts === null) return null;
      return { kind: 'colourway', thing: nameOf(root, JSON.stringify([board, parts.colourway])) };
    }
    default:
      return /\.(title|piece\.notes)$/.test(key) ? { kind: 'text', thing: nameOf(root, key) } : null;
  }
}

/** Whether there is nothing under a key that anybody could lose. */
function isNothing(root: RootName, value: unknown): boolean {
  return value === undefined || value === null || value === '' || (root === 'knots' && value === 0);
}

function isSame(a: unknown, b: unknown): boolean {
  return a === b || JSON.stringify(a ?? null) === JSON.stringify(b ?? null);
}

/** What somebody wrote last; told of every edit in its turn. */
export class OwnWork {
  readonly #own = new Map<string, Own>();

  /** How many keys are one's own. */
  get size(): number {
    return this.#own.size;
  }

  /** One's own edit: what it wrote is one's own from now on, what it took away nobody's. */
  wrote(changes: readonly KeyChange[]): void {
    for (const { root, key, before, after } of changes) {
      const name = nameOf(root, key);
      const own = this.#own.get(name);
      // What is undone is as others left it.
      if (isNothing(root, after) || (own !== undefined && isSame(own.was, after))) {
        this.#own.delete(name);
        continue;
      }
      // What was only moved is whose it was.
      if (isListRoot(root) && before !== null) continue;
      const thing = thingOf(root, key);
      if (thing !== null)
        this.#own.set(name, { root, key, ...thing, value: after, was: own === undefined ? before : own.was });
    }
  }

  /**
   * Others' edit. What it took is nobody's own any more, so it is told once.
   * @returns each thing once, in the order of the changes. O(changes), and O(own) where pairs or whole patterns went. Rules D333, D334.
   */
  taken(changes: readonly KeyChange[]): readonly Lost[] {
    const lost = new Map<string, Lost>();
    for (const change of changes) {
      if (change.root === 'meta' && change.key === 'generation') this.#takeScope(change, lost);
      else if (isListRoot(change.root)) {
        if (change.after === null) this.#takeEntry(change, lost);
      } else this.#takeKey(change, lost);
    }
    return [...lost.values()];
  }

  /**
   * Compares with what is there now, for when the edits in between are not known one by one.
   * @param present the value under a key; of a list whether the entry is there, as null or anything else
   */
  compare(present: (root: RootName, key: string) => unknown): readonly Lost[] {
    const changes = [...this.#own.values()].flatMap(({ root, key, value }): KeyChange[] => {
      const after = present(root, key);
      const isThere = isListRoot(root) ? after !== null : isSame(after, value);
      return isThere ? [] : [{ root, key, before: value, after }];
    });
    return this.taken(changes);
  }

  #takeKey(change: KeyChange, lost: Map<string, Lost>): void {
    const { root, key, before, after } = change;
    const own = this.#own.get(nameOf(root, key));
    const thing = own ?? thingOf(root, key);
    if (thing === null) return;
    const isGone = isNothing(root, after) && (root !== 'colourways' || isOrderOf(key));
    if (own !== undefined && isSame(own.value, before)) this.#lose(own, change, isGone, lost);
    // A colourway that is removed takes along whatever of it is somebody's.
    else if (isGone && isOrderOf(key))
      for (const one of this.#own.values())
        if (one.thing === thing.thing) this.#lose(one, change, true, lost);
  }

  /** A pair takes its knots and colours along, a colour its looks. */
  #takeEntry(change: KeyChange, lost: Map<string, Lost>): void {
    const { root, key } = change;
    const own = this.#own.get(nameOf(root, key));
    if (own !== undefined) this.#lose(own, change, true, lost);
    const local = key.slice(key.indexOf('.') + 1);
    const pattern = key.slice(0, key.indexOf('.'));
    for (const one of this.#own.values()) {
      const knot = one.root === 'knots' ? readKnotKey(one.key) : null;
      const hangs =
        root === 'rowPairs'
          ? knot?.rowPair === key
          : root === 'stringPairs'
            ? (knot !== null && knot.stringLocal === local && localOf(pattern, knot.rowPair) !== null) ||
              (one.root === 'colours' && one.key.slice(0, -2) === key)
            : one.root === 'palette' && one.thing === nameOf('palette', key);
      if (hangs) this.#lose(one, change, true, lost);
    }
  }

  #takeScope(change: KeyChange, lost: Map<string, Lost>): void {
    const [was, is] = [readScope(change.before), readScope(change.after)];
    if (was === null) return;
    const gone = (['board', 'pattern'] as const)
      .filter((part) => was[part] !== is?.[part])
      .map((part) => was[part]);
    for (const one of this.#own.values()) {
      const isIn = (id: string): boolean =>
        one.key.startsWith(scoped(id, '')) || one.key.startsWith(`[${JSON.stringify(id)},`);
      if (gone.some(isIn)) this.#lose(one, change, true, lost, true);
    }
  }

  #lose(own: Own, change: KeyChange, isRemoved: boolean, lost: Map<string, Lost>, isWhole = false): void {
    const { kind, thing } = own;
    this.#own.delete(nameOf(own.root, own.key));
    // Of one thing several keys may go, each by a change of its own.
    const name =
      lost.has(thing) && lost.get(thing)!.change !== change ? nameOf(change.root, change.key) : thing;
    lost.set(name, { kind, thing, isRemoved, isWhole, change });
  }
}

function isOrderOf(key: string): boolean {
  return key.endsWith(',"","order"]');
}
