/**
 * Who wrote the edits of a row of the log. An edit of one visit needs no more than the visit; where edits of several are stored as one row, it is
 * said of each which structs it brought, and what it deleted without putting anything in its place. So it is the socket that counts, and not
 * the client id, which anybody may write under. No document is worked out for it.
 *
 * The text: `[<ms since 1970>, [<visit>, <name>, [[<client>, <end>], …], [[<client>, <clock>, <len>], …] or 1], …]`. Structs of a client
 * are of the first that has an end above their clock; 1 = too many deletions to be named. The lists are left out where there is one visit.
 */
import type { Deletions } from './freed-bytes.ts';

/** One who writes: the label of the visit (see `visits.ts`), and the name they go by. */
export interface Signature {
  readonly visit: string;
  readonly name: string;
}

/** What an edit brought, as far as it must be told apart from others. */
export interface Signed {
  /** How far each client's structs reach. */
  readonly ends: ReadonlyMap<number, number>;
  /** What it deleted, save what it put something in the place of. */
  readonly removed: Deletions;
}

type Removal = readonly [client: number, clock: number, len: number];

interface Share {
  name: string;
  /** Of each client how far its structs reach: more than one where another visit wrote under it in between. */
  readonly ends: Map<number, number[]>;
  removed: Removal[] | 1;
}

/** Deletions that are named of one visit in one row. Honest ones are whole rows and strings, a few at a time. */
const MOST_REMOVALS = 500;
/** Nobody's: edits of the server's own, and of people who are not known. */
const NOBODY: Signature = { visit: '', name: '' };

/** Of one edit what has to be told apart, and nothing else of it: it stays until the row is stored. */
interface Note extends Signed {
  readonly signature: Signature;
}

/** Edits of a row that are kept as they came: most rows hold few, of one visit, and then nothing has to be told apart. */
const MOST_NOTES = 64;

/** What is noted until a row is stored. */
export class WrittenBy {
  #notes: Note[] = [];
  /** What was noted before these; null = nothing. */
  #shares: Shares | null = null;

  /** Notes one edit, in the order in which they were taken. */
  note(signature: Signature | null, { ends, removed }: Signed): void {
    const noted = { signature: signature ?? NOBODY, ends, removed };
    if (this.#notes.length === 0) this.#notes = [noted];
    else this.#notes.push(noted);
    if (this.#notes.length > MOST_NOTES) this.#tellApart();
  }

  /** Goes on by what was noted later. */
  add(later: WrittenBy): void {
    if (later.#shares !== null) this.#tellApart().add(later.#shares);
    for (const one of later.#notes) this.note(one.signature, one);
  }

  /** As it is stored; empty where nobody is known. */
  text(at: number): string {
    const only = this.#only();
    if (only === null) return this.#tellApart().text(at);
    return only.visit === '' ? '' : textOf(at, only);
  }

  /** Whose it all is; null where that has to be told apart. */
  #only(): Signature | null {
    const [first] = this.#notes;
    if (first === undefined || this.#shares !== null) return null;
    const { visit } = first.signature;
    let name = '';
    for (const { signature } of this.#notes) {
      if (signature.visit !== visit) return null;
      if (signature.name !== '') name = signature.name;
    }
    return { visit, name };
  }

  #tellApart(): Shares {
    this.#shares ??= new Shares();
    for (const one of this.#notes) this.#shares.note(one.signature, one);
    this.#notes = [];
    return this.#shares;
  }
}

/** The text of a row of one visit. */
function textOf(at: number, { visit, name }: Signature): string {
  return JSON.stringify([at, [visit, name]]);
}

/** Edits of several visits, told apart. */
class Shares {
  readonly #shares = new Map<string, Share>();
  /** Who wrote last under a client id. */
  readonly #last = new Map<number, Share>();

  note({ visit, name }: Signature, { ends, removed }: Signed): void {
    const share = this.#shareOf(visit, name);
    for (const [client, end] of ends) this.#claim(share, client, end);
    for (const [client, ranges] of removed)
      for (const { clock, len } of ranges) addRemoval(share, [client, clock, len]);
  }

  add(later: Shares): void {
    for (const [client, end, visit] of later.#inOrder()) this.#claim(this.#shareOf(visit, ''), client, end);
    for (const [visit, { name, removed }] of later.#shares) {
      const share = this.#shareOf(visit, name);
      if (removed === 1) share.removed = 1;
      else for (const removal of removed) addRemoval(share, removal);
    }
  }

  text(at: number): string {
    const all = [...this.#shares];
    if (all.every(([visit]) => visit === '')) return '';
    const [only] = all;
    if (all.length === 1) return textOf(at, { visit: only![0], name: only![1].name });
    return JSON.stringify([
      at,
      ...all.map(([visit, { name, ends, removed }]) => [
        visit,
        name,
        [...ends].flatMap(([client, all]) => all.map((end) => [client, end])),
        removed,
      ]),
    ]);
  }

  #shareOf(visit: string, name: string): Share {
    let share = this.#shares.get(visit);
    if (share === undefined) {
      share = { name, ends: new Map(), removed: [] };
      this.#shares.set(visit, share);
    }
    if (name !== '') share.name = name;
    return share;
  }

  #claim(share: Share, client: number, end: number): void {
    const ends = share.ends.get(client);
    if (ends === undefined) share.ends.set(client, [end]);
    else if (this.#last.get(client) === share) ends[ends.length - 1] = end;
    else ends.push(end);
    this.#last.set(client, share);
  }

  /** All ends, of each client in ascending order. */
  #inOrder(): readonly (readonly [client: number, end: number, visit: string])[] {
    return [...this.#shares]
      .flatMap(([visit, { ends }]) =>
        [...ends].flatMap(([client, all]) => all.map((end) => [client, end, visit] as const)),
      )
      .sort((a, b) => a[1] - b[1]);
  }
}

function addRemoval(share: Share, removal: Removal): void {
  if (share.removed === 1) return;
  if (share.removed.length < MOST_REMOVALS) share.removed.push(removal);
  else share.removed = 1;
}

/** One share of a row, as it was stored. */
interface StoredShare extends Signature {
  readonly ends: readonly (readonly [client: number, end: number])[];
  readonly removed: readonly Removal[] | 1;
}

/** Who wrote a row. */
export interface RowSignature {
  /** Ms since 1970. */
  readonly at: number;
  /** Not empty. */
  readonly shares: readonly StoredShare[];
}

/** Reads what {@link WrittenBy.text} gave; null where nobody signed, or it is no such text. */
export function readWrittenBy(text: string): RowSignature | null {
  if (text === '') return null;
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch (cause) {
    if (!(cause instanceof SyntaxError)) throw cause;
    return null;
  }
  if (!Array.isArray(value)) return null;
  const [at, ...given] = value as readonly unknown[];
  const shares = given.map(readShare);
  if (typeof at !== 'number' || shares.length === 0 || shares.includes(null)) return null;
  return { at, shares: shares as StoredShare[] };
}

function readShare(value: unknown): StoredShare | null {
  if (!Array.isArray(value)) return null;
  const [visit, name, ends = [], removed = []] = value as readonly unknown[];
  if (typeof visit !== 'string' || typeof name !== 'string') return null;
  if (!isNumbers(ends, 2) || (removed !== 1 && !isNumbers(removed, 3))) return null;
  return { visit, name, ends, removed } as unknown as StoredShare;
}

function isNumbers(value: unknown, each: number): boolean {
  return (
    Array.isArray(value) &&
    value.every(
      (one) =>
        Array.isArray(one) && one.length === each && one.every((number) => Number.isSafeInteger(number)),
    )
  );
}

/** Whose a struct is that a row brought; null = nobody says. */
export function writerOfStruct({ shares }: RowSignature, client: number, clock: number): string | null {
  const [only, ...others] = shares;
  if (others.length === 0) return only!.visit;
  let [best, visit]: [number, string | null] = [Number.POSITIVE_INFINITY, null];
  for (const share of shares)
    for (const [of, end] of share.ends)
      if (of === client && end > clock && end < best) [best, visit] = [end, share.visit];
  return visit;
}

/** Who deleted a struct in a row without putting anything in its place; null = nobody says. */
export function removerOfStruct({ shares }: RowSignature, client: number, clock: number): string | null {
  const [only, ...others] = shares;
  if (others.length === 0) return only!.visit;
  const isNamed = ({ removed }: StoredShare): boolean =>
    removed !== 1 && removed.some(([of, from, len]) => of === client && from <= clock && clock < from + len);
  return (shares.find(isNamed) ?? shares.find(({ removed }) => removed === 1))?.visit ?? null;
}
