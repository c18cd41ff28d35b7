/**
 * What an edit does to what a design holds, as far as its bytes tell: the delete set of an update names exactly the items that it overwrites or
 * removes, as its writer saw them, and a value of a key stands behind the one that it takes the place of, named or not. So no document is worked
 * out for it. Where an edit may change more than it names it is said to change all: a list without an entry hides what belongs to that, another
 * scope or base hides everything, and of values written at the same time one wins over others that its writer never saw.
 */
import * as Y from 'yjs';
import { hidesOthers, isBase, type RootRule } from '../../engine/document/index.ts';
import type { Deletions } from './freed-bytes.ts';
import type { Id } from './placed.ts';

/** Items of one client, one after the other. */
export interface Span extends Id {
  readonly len: number;
}

export interface Effect {
  /** How far what it brings begins and ends, by client. */
  readonly grown: readonly Span[];
  /** What was there and is overwritten or removed. May name the same twice, and what was gone before. */
  readonly taken: readonly Span[];
  /** Knots that had no key of their own; they may lie over some of the base. */
  readonly begun: number;
  /** Knots that are overwritten, and those begun. */
  readonly knots: number;
  readonly rowPairs: number;
  readonly stringPairs: number;
  /** Whether it may change more than `taken` says. */
  readonly isWhole: boolean;
  /** Whether something may be seen again that stood there before: what belongs to an entry, to another scope, or lay below a key. */
  readonly reveals: boolean;
  /** Whether keys of knots are removed, so that the base shows there. */
  readonly bares: boolean;
  /** The base of knots that it brings. */
  readonly base: Id | null;
}

/** What the document holds before the edit. */
export interface Before {
  clockOf(client: number): number;
  /** The root in which a struct stands; undefined when it is not there. */
  rootAt(client: number, clock: number): RootRule | undefined;
  /** Tells of each root in which some of a client's structs stand, and of how many. */
  eachRoot(client: number, clock: number, end: number, tell: (rule: RootRule, count: number) => void): void;
}

const NO_SPANS: Span[] = [];

/** Mostly it is the only one, and a list that grows has room for seventeen. */
function withMore(spans: Span[], span: Span): Span[] {
  if (spans.length === 0) return [span];
  spans.push(span);
  return spans;
}

class Reading implements Effect {
  grown = NO_SPANS;
  taken = NO_SPANS;
  begun = 0;
  knots = 0;
  rowPairs = 0;
  stringPairs = 0;
  isWhole: boolean;
  reveals = false;
  bares = false;
  base: Id | null = null;
  /** Values of keys that are written, less those that are taken: those of `meta`, of knots, and of others. */
  #meta = 0;
  #keys = 0;
  readonly #before: Before;

  constructor(before: Before, isWhole: boolean) {
    this.#before = before;
    this.isWhole = isWhole;
  }

  grows(client: number, end: number): void {
    const clock = this.#before.clockOf(client);
    if (end > clock) this.grown = withMore(this.grown, { client, clock, len: end - clock });
  }

  writes(item: Y.Item, { root, mostKey }: RootRule): void {
    const { id, origin, content } = item;
    if (id.clock < this.#before.clockOf(id.client)) return;
    if (mostKey === null) {
      this.reveals = true;
      return;
    }
    if (origin !== null) {
      const { client, clock } = origin;
      if (clock < this.#before.clockOf(client)) this.taken = withMore(this.taken, { client, clock, len: 1 });
    } else if (root === 'knots') this.begun += 1;
    if (root === 'meta') this.#meta += 1;
    else if (root === 'knots') this.#keys += 1;
    else if (root === 'colourways') this.reveals = true;
    if (!(content instanceof Y.ContentAny)) return;
    for (const value of content.arr as unknown[]) {
      if (isBase(root, value)) this.base = { client: id.client, clock: id.clock };
      this.isWhole ||= hidesOthers(root, value);
    }
  }

  takes(client: number, clock: number, len: number): void {
    const end = Math.min(clock + len, this.#before.clockOf(client));
    // What the edit itself brings and removes was nobody's.
    if (end <= clock) return;
    // Mostly it is what its one value stands behind.
    if (end > clock + 1 || !this.#isTakenLast(client, clock))
      this.taken = withMore(this.taken, { client, clock, len: end - clock });
    const rule = end === clock + 1 ? this.#before.rootAt(client, clock) : undefined;
    if (rule !== undefined) this.#loses(rule, 1);
    else this.#before.eachRoot(client, clock, end, (of, count) => this.#loses(of, count));
  }

  #isTakenLast(client: number, clock: number): boolean {
    const last = this.taken.at(-1);
    return last !== undefined && last.client === client && last.clock === clock;
  }

  #loses({ root, mostKey }: RootRule, count: number): void {
    if (root === 'knots') this.knots += count;
    else if (root === 'rowPairs') this.rowPairs += count;
    else if (root === 'stringPairs') this.stringPairs += count;
    else if (root === 'meta') this.#meta -= count;
    this.isWhole ||= mostKey === null;
  }

  end(): Effect {
    // What is removed without another in its place: of `meta`, nothing may say any more which board is read.
    this.isWhole ||= this.#meta < 0;
    this.bares = this.knots > this.#keys - this.begun;
    this.reveals ||= this.isWhole || this.bares;
    this.knots += this.begun;
    return this;
  }
}

/**
 * What an update does that fits.
 * @param rules     the root of each struct
 * @param overtakes whether it writes what somebody else wrote at the same time
 * O(structs + deletions), with a search for each deletion.
 */
export function effectOf(
  structs: readonly (Y.Item | Y.GC | Y.Skip)[],
  rules: readonly RootRule[],
  deletions: Deletions,
  ends: ReadonlyMap<number, number>,
  before: Before,
  overtakes: boolean,
): Effect {
  const reading = new Reading(before, overtakes);
  for (const [client, end] of ends) reading.grows(client, end);
  for (let i = 0; i < structs.length; i += 1) reading.writes(structs[i] as Y.Item, rules[i]!);
  for (const [client, ranges] of deletions)
    for (const { clock, len } of ranges) reading.takes(client, clock, len);
  return reading.end();
}
