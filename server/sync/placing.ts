/**
 * How much work it is to place structs, at most. Yjs puts a struct behind its origin; where others stand behind the same one it
 * walks over all that builds on those, and where an origin lies within a longer struct it takes that apart. So some thousand
 * structs at one place cost millions of steps, whoever they come from, and again each time the document is read.
 *
 * Two kinds of structs take one step. (Yjs, Item.integrate: it looks at what stands behind the origin, and goes on only past
 * what was put behind the same one, or behind what it went past.) The first behind its origin; and in a list one that names as its
 * right neighbour the one that was put behind the same origin before it, as where people put in one row above the other. All others
 * are rivals: each may go past all that its root holds, now or later, since structs are placed in another order when the
 * document is read anew. So the most is what rivals there are times what there is to go past. Steps are counted beyond one a struct.
 *
 * A time limit would refuse honest edits on a busy machine. So above a budget the document and the edit are placed in a thread that counts
 * each step (`trials.ts`); an honest edit waits for that (a tenth of a second) where some thousand knots were tied by two makers apart. The
 * counter walks as `Item.integrate` of Yjs 13.6, and a test holds this estimate against it: read both when Yjs is raised.
 */
import * as Y from 'yjs';
import type { RootRule } from '../../engine/document/index.ts';
import { type Growth, type Id, type Neighbours, Placed, type Standing } from './placed.ts';

type Struct = Y.Item | Y.GC | Y.Skip;

/** What an update brings, and how many steps it takes. */
export interface Placing {
  readonly steps: number;
  /** Clients of whom the document holds nothing yet. */
  readonly clients: number;
  /** Whether a value of a key was written at the same time as one that is held. */
  readonly overtakes: boolean;
  /** Has what is known of a document go on by what the update brings. */
  growInto(placed: Placed): void;
}

/** A rival goes to the first value of its key, and back. */
const STEPS_PER_RIVAL = 2;
/**
 * Values of a list that are copied for a step. They count for their memory too: of entries that come one by one and become one
 * struct, Yjs holds a copy for each until all are put together.
 */
export const COPIED_PER_STEP = 8;
/** Structs that are moved in the list of their client's structs for a step. */
const MOVED_PER_STEP = 64;
/** A client more is a block more in every update that is merged, to be sorted among hundreds. */
export const STEPS_PER_CLIENT = 10;

/** What a document holds already. */
export interface PlacedSoFar {
  readonly placed: Placed;
  clockOf(client: number): number;
  rootAt(client: number, clock: number): RootRule | undefined;
}

/**
 * Estimates the work of an update whose structs may stand where they do.
 * @param rules the root of each struct
 * O(structs + deletions), with a search among structs of several values.
 */
export function placingOf(
  structs: readonly Struct[],
  rules: readonly RootRule[],
  deletions: ReadonlyMap<number, readonly { readonly clock: number; readonly len: number }[]>,
  present: PlacedSoFar,
): Placing {
  const isOne = structs.length === 1 && structs[0]!.length === 1;
  const estimate = new Estimate(present, structs.length, isOne ? null : new Placed());
  const isNew = ({ id, length }: Struct): boolean => id.clock + length > present.clockOf(id.client);
  // One may stand in the middle of another that comes later.
  for (const struct of structs) if (struct.length > 1 && isNew(struct)) estimate.addLong(struct);
  for (let i = 0; i < structs.length; i += 1)
    if (isNew(structs[i]!)) estimate.add(structs[i] as Y.Item, rules[i]!);
  for (const [client, ranges] of deletions)
    for (const { clock, len } of ranges) estimate.remove(present.rootAt(client, clock), client, len);
  return estimate.end();
}

class Estimate implements Placing {
  steps = 0;
  clients = 0;
  overtakes = false;
  readonly #present: PlacedSoFar;
  readonly #structs: number;
  #grown: Growth[] = [];
  /** What stands behind what is known of the places that the update changes; null where it is one struct, which has nothing to stand behind there. */
  readonly #places: Placed | null;
  /** That one, and where it stands. */
  #only: Standing | null = null;
  #lastClient: number | null = null;

  constructor(present: PlacedSoFar, structs: number, places: Placed | null) {
    this.#present = present;
    this.#structs = structs;
    this.#places = places;
  }

  addLong(struct: Struct): void {
    this.#places?.addLong(struct);
  }

  add(item: Y.Item, root: RootRule): void {
    const { id, length, origin, rightOrigin } = item;
    if (id.client !== this.#lastClient && this.#present.clockOf(id.client) === 0) this.clients += 1;
    this.#lastClient = id.client;
    const growth = this.#growthOf(root);
    growth.held += item.content instanceof Y.ContentAny ? length : 1;
    const rivals = this.#rivalsOf(item, root);
    this.overtakes ||= rivals > 0 && root.mostKey !== null;
    growth.load += rivals * STEPS_PER_RIVAL;
    growth.held += rivals;
    // What a rival stands behind may be the middle of something, and so may what it stands before.
    if (rivals > 0 && origin !== null) this.#copy(growth, origin.client);
    if (rightOrigin !== null) {
      growth.held += 1;
      this.#copy(growth, rightOrigin.client);
    }
    // What follows its own client's last entry becomes one with it, by a copy of both.
    if (root.mostKey === null && origin?.client === id.client && origin.clock === id.clock - 1)
      growth.load += 1 / COPIED_PER_STEP;
  }

  /** Deletions of what stands in a root; in a list both their ends may be in the middle of something. */
  remove(root: RootRule | undefined, client: number, length: number): void {
    this.steps += length / MOVED_PER_STEP;
    if (root !== undefined && root.mostKey !== null) return;
    // Of what the update itself brings it is not known which list it is.
    for (const growth of root === undefined ? this.#grown : [this.#growthOf(root)]) {
      growth.held += 2;
      this.#copy(growth, client);
      this.#copy(growth, client);
    }
  }

  /** Adds up, once all is known. */
  end(): Placing {
    const { placed } = this.#present;
    for (const { root, held, load } of this.#grown)
      this.steps += load * (placed.held(root) + held) + placed.load(root) * held;
    this.steps = Math.ceil(this.steps + this.clients * STEPS_PER_CLIENT);
    return this;
  }

  growInto(placed: Placed): void {
    placed.grow(this.#grown);
    if (this.#places !== null) placed.take(this.#places);
    else if (this.#only !== null) placed.put(this.#only);
  }

  /** How many structs more are rivals: this one, and where it is the first, those that were none before. */
  #rivalsOf({ id, origin, rightOrigin, parentSub }: Y.Item, root: RootRule): number {
    const { placed } = this.#present;
    const places = this.#places;
    if (root.mostKey !== null) {
      const key = parentSub ?? '';
      // Values of a key have no right neighbour.
      const isTaken =
        origin === null
          ? placed.isBegun(root, key) || places?.isBegun(root, key) === true
          : placed.isBase(origin) || places?.isBase(origin) === true;
      this.#put({ root, origin, key, neighbours: null });
      return isTaken ? 1 : 0;
    }
    const before =
      places?.neighbours(root, origin) ??
      placed.neighbours(root, origin) ??
      (origin === null ? undefined : (places?.withinLong(origin) ?? placed.withinLong(origin)));
    const [neighbours, rivals] = next(before, id, rightOrigin);
    this.#put({ root, origin, key: '', neighbours });
    return rivals;
  }

  #put(standing: Standing): void {
    if (this.#places === null) this.#only = standing;
    else this.#places.put(standing);
  }

  /** Something of a client is taken apart in a root: the values of it, and the list of the client's structs. */
  #copy(growth: Growth, client: number): void {
    growth.load += 1 / COPIED_PER_STEP;
    this.steps += (this.#present.clockOf(client) + this.#structs) / MOVED_PER_STEP;
  }

  #growthOf(root: RootRule): Growth {
    // Of the dozen roots that there are mostly one.
    for (const growth of this.#grown) if (growth.root === root) return growth;
    const growth = { root, held: 0, load: 0 };
    // A list that grows has room for seventeen.
    if (this.#grown.length === 0) this.#grown = [growth];
    else this.#grown.push(growth);
    return growth;
  }
}

/** What stands behind an origin once one more does, and how many of these are rivals that were none before. */
function next(before: Neighbours | undefined, id: Id, right: Id | null): readonly [Neighbours, number] {
  if (before === undefined) return [{ last: id, count: 1 }, 0];
  if (before.last === null) return [before, 1];
  const isBeforeLast = right?.client === before.last.client && right.clock === before.last.clock;
  return isBeforeLast ? [{ last: id, count: before.count + 1 }, 0] : [{ last: null, count: 0 }, before.count];
}
