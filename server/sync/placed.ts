/**
 * What is known of the places in a document, so that the work of placing more can be estimated: behind which structs something
 * stands, which keys were written, and how much each root holds. A bit a struct, and some more where lists were taken apart.
 */
import type { RootRule } from '../../engine/document/index.ts';

export interface Id {
  readonly client: number;
  readonly clock: number;
}

/** What an update brings to a root. */
export interface Growth {
  readonly root: RootRule;
  /** Values, and what they may be taken apart into. */
  held: number;
  /** Steps for each of those that the root holds in the end. */
  load: number;
}

/** What stands behind one place of a list, if it was put there one before the other. */
export interface Neighbours {
  /** The nearest; null = not known, because some were not. */
  readonly last: Id | null;
  readonly count: number;
}

/** Where a struct stands. */
export interface Standing {
  readonly root: RootRule;
  readonly origin: Id | null;
  /** Of a value of a key without an origin. */
  readonly key: string;
  /** Of an entry of a list, what stands behind its origin with it; null for a value of a key. */
  readonly neighbours: Neighbours | null;
}

/** A struct of more than one clock: something stands behind each of its clocks but the last. */
interface Long {
  readonly clock: number;
  readonly end: number;
}

interface Root {
  held: number;
  load: number;
  /** Of the load what was found to be harmless, by counting. */
  counted: number;
}

const BITS = 32;
/** What was counted may become work yet, when more comes to stand there. It is counted anew in time, so a part will do. */
const PART_OF_COUNTED = 1 / 4;

export class Placed {
  readonly #roots = new Map<RootRule, Root>();
  #total = 0;
  /** By client: words of bits, one for each clock behind which a value of a key stands. */
  readonly #bases = new Map<number, Map<number, number>>();
  readonly #longs = new Map<number, Long[]>();
  /** By root: keys that were written without an origin, as numbers. */
  readonly #beginnings = new Map<RootRule, Set<number>>();
  /** By client and clock of the origin in a list. */
  readonly #neighbours = new Map<number, Map<number, Neighbours>>();
  /** Of what has no origin in a list. */
  readonly #first = new Map<RootRule, Neighbours>();

  /** How much a root holds: values, and what they may be taken apart into. */
  held(root: RootRule): number {
    return this.#roots.get(root)?.held ?? 0;
  }

  /** All that is held. */
  get total(): number {
    return this.#total;
  }

  /** Steps for each that a root will hold more. */
  load(root: RootRule): number {
    const known = this.#roots.get(root);
    return known === undefined ? 0 : known.load - known.counted + known.counted * PART_OF_COUNTED;
  }

  /** Goes on by what an update brings to each root. */
  grow(grown: readonly Readonly<Growth>[]): void {
    for (const { root, held, load } of grown) {
      const known = this.#roots.get(root);
      this.#total += held;
      if (known === undefined) this.#roots.set(root, { held, load, counted: 0 });
      else {
        known.held += held;
        known.load += load;
      }
    }
  }

  /** Notes where one more struct stands. */
  put({ root, origin, key, neighbours }: Standing): void {
    if (neighbours !== null) this.#setNeighbours(root, origin, neighbours);
    else if (origin !== null) this.#addBase(origin);
    else this.#addBeginning(root, key);
  }

  /** All of it was found to be harmless so far. */
  wasCounted(): void {
    for (const root of this.#roots.values()) root.counted = root.load;
  }

  // --- keys ---

  isBegun(root: RootRule, key: string): boolean {
    return this.#beginnings.get(root)?.has(numberOf(key)) ?? false;
  }

  #addBeginning(root: RootRule, key: string): void {
    const known = this.#beginnings.get(root);
    if (known === undefined) this.#beginnings.set(root, new Set([numberOf(key)]));
    else known.add(numberOf(key));
  }

  /** Whether a value of a key stands behind another, or may once a longer struct is taken apart. */
  isBase(id: Id): boolean {
    const word = this.#bases.get(id.client)?.get(Math.floor(id.clock / BITS)) ?? 0;
    return (word & (1 << (id.clock % BITS))) !== 0 || this.withinLong(id) !== undefined;
  }

  #addBase({ client, clock }: Id): void {
    const at = Math.floor(clock / BITS);
    const words = this.#bases.get(client);
    const bit = 1 << (clock % BITS);
    if (words === undefined) this.#bases.set(client, new Map([[at, bit]]));
    else words.set(at, (words.get(at) ?? 0) | bit);
  }

  // --- lists ---

  /** What was put behind a place; undefined = nothing. */
  neighbours(root: RootRule, origin: Id | null): Neighbours | undefined {
    return origin === null ? this.#first.get(root) : this.#neighbours.get(origin.client)?.get(origin.clock);
  }

  #setNeighbours(root: RootRule, origin: Id | null, neighbours: Neighbours): void {
    if (origin === null) {
      this.#first.set(root, neighbours);
      return;
    }
    const known = this.#neighbours.get(origin.client);
    if (known === undefined) this.#neighbours.set(origin.client, new Map([[origin.clock, neighbours]]));
    else known.set(origin.clock, neighbours);
  }

  // --- structs of several clocks ---

  /** Structs of a client come in order. */
  addLong({ id, length }: { readonly id: Id; readonly length: number }): void {
    const long = { clock: id.clock, end: id.clock + length };
    const known = this.#longs.get(id.client);
    if (known === undefined) this.#longs.set(id.client, [long]);
    else known.push(long);
  }

  /** What stands behind a clock of a longer struct, which is the next; undefined when it is its last, or of no longer one. O(log structs) */
  withinLong({ client, clock }: Id): Neighbours | undefined {
    const longs = this.#longs.size === 0 ? undefined : this.#longs.get(client);
    if (longs === undefined) return undefined;
    let [low, high] = [0, longs.length - 1];
    while (low < high) {
      const middle = (low + high + 1) >> 1;
      if (longs[middle]!.clock <= clock) low = middle;
      else high = middle - 1;
    }
    const { clock: from, end } = longs[low]!;
    if (clock < from || clock >= end - 1) return undefined;
    return { last: { client, clock: clock + 1 }, count: 1 };
  }

  /** Notes where all those stand that were put in another. */
  take(places: Placed): void {
    for (const [client, words] of places.#bases) {
      const known = this.#bases.get(client);
      if (known === undefined) this.#bases.set(client, words);
      else for (const [at, bits] of words) known.set(at, (known.get(at) ?? 0) | bits);
    }
    for (const [client, longs] of places.#longs) {
      const known = this.#longs.get(client);
      if (known === undefined) this.#longs.set(client, longs);
      else for (const long of longs) known.push(long);
    }
    for (const [root, keys] of places.#beginnings) {
      const known = this.#beginnings.get(root);
      if (known === undefined) this.#beginnings.set(root, keys);
      else for (const key of keys) known.add(key);
    }
    for (const [client, behind] of places.#neighbours) {
      const known = this.#neighbours.get(client);
      if (known === undefined) this.#neighbours.set(client, behind);
      else for (const [clock, neighbours] of behind) known.set(clock, neighbours);
    }
    for (const [root, neighbours] of places.#first) this.#first.set(root, neighbours);
  }
}

/** A number for a key. Where two keys have the same, an estimate is too high, and nothing else. */
function numberOf(key: string): number {
  let hash = 0x811c9dc5;
  for (let i = 0; i < key.length; i += 1) hash = Math.imul(hash ^ key.charCodeAt(i), 0x01000193);
  return hash >>> 2;
}
