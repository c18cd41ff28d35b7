/**
 * Edits of a list that follow each other, as one: where an entry stood is said of the list before the first of them, where it stands of the
 * list after the last. A place names neighbours, and what an edit in between brought, moved or took away is no neighbour there.
 */
import type { KeyChange, ListPlace } from './key-change.ts';

/** Null where it was not, or is not, in the list. */
interface Move {
  readonly before: ListPlace | null;
  readonly after: ListPlace | null;
}

export class ComposedPlaces {
  /** What all edits so far did, the entry changed last at the end. */
  readonly #moves = new Map<string, Move>();
  /** By entry: the one that stood to its left, or right, at first and has been moved or taken away since. */
  readonly #left = new Map<string, string>();
  readonly #right = new Map<string, string>();

  /** What the next edit did to this list. O(changes), where edits follow each other without anything in between. */
  add(changes: readonly KeyChange[]): void {
    const edit = new Map(changes.map(({ key, before, after }) => [key, { before, after } as Move]));
    const befores = new Map<string, ListPlace | null>();
    for (const [entry, { before }] of edit) {
      const known = this.#moves.get(entry);
      befores.set(entry, known === undefined ? this.#atFirst(entry, before) : known.before);
    }
    const afters = this.#atLast(edit);
    for (const [entry, after] of afters) this.#moves.set(entry, { ...this.#moves.get(entry)!, after });
    for (const [entry, { after }] of edit) {
      const before = befores.get(entry)!;
      this.#moves.delete(entry);
      // What came and went again was never there.
      if (before !== null || after !== null) this.#moves.set(entry, { before, after });
      if (before === null) continue;
      if (before.behind !== '') this.#right.set(before.behind, entry);
      if (before.before !== '') this.#left.set(before.before, entry);
    }
  }

  /** What differs, by entry, in the order in which they were changed last. */
  moves(): ReadonlyMap<string, Move> {
    const moves = new Map([...this.#moves].filter(([, move]) => !isBetweenTheSame(move)));
    // Between neighbours that were moved, an entry was moved with them.
    const found = [...moves.keys()];
    for (const entry of found)
      for (const place of Object.values(this.#moves.get(entry)!) as Move['before'][])
        for (const beside of place === null ? [] : [place.behind, place.before]) {
          const move = moves.has(beside) ? undefined : this.#moves.get(beside);
          if (move === undefined) continue;
          moves.set(beside, move);
          found.push(beside);
        }
    return moves;
  }

  /** The place of an entry that nothing has changed so far, in the list as it was before everything. */
  #atFirst(entry: string, place: ListPlace | null): ListPlace | null {
    if (place === null) return null;
    const behind = this.#left.get(entry) ?? skip(place.behind, 'behind', (at) => this.#moves.get(at)?.after);
    const before = this.#right.get(entry) ?? skip(place.before, 'before', (at) => this.#moves.get(at)?.after);
    const [left, right] = [this.#moves.get(behind)?.before, this.#moves.get(before)?.before];
    const beside = left ? left.at + 1 : right ? right.at - 1 : place.at;
    return { behind, before, at: behind === '' ? 0 : Math.max(0, beside) };
  }

  /** Places of entries that an edit leaves where they are, and beside which it changes something. */
  #atLast(edit: ReadonlyMap<string, Move>): ReadonlyMap<string, ListPlace> {
    const places = new Map<string, ListPlace>();
    const put = (entry: string, side: 'behind' | 'before', to: (now: string) => string): void => {
      const place = edit.has(entry) ? null : (places.get(entry) ?? this.#moves.get(entry)?.after ?? null);
      if (place !== null) places.set(entry, { ...place, [side]: to(place[side]) });
    };
    const wasAt = (entry: string): ListPlace | null | undefined => edit.get(entry)?.before;
    for (const { before } of edit.values()) {
      if (before === null) continue;
      put(before.before, 'behind', (now) => skip(now, 'behind', wasAt));
      put(before.behind, 'before', (now) => skip(now, 'before', wasAt));
    }
    for (const [entry, { after }] of edit) {
      if (after === null) continue;
      put(after.before, 'behind', () => entry);
      put(after.behind, 'before', () => entry);
    }
    return places;
  }
}

function isBetweenTheSame({ before, after }: Move): boolean {
  return (
    before !== null && after !== null && before.behind === after.behind && before.before === after.before
  );
}

/** The nearest neighbour on that side that has no place there of its own. Places of edits with others' between them may lead in a circle. */
function skip(
  from: string,
  side: 'behind' | 'before',
  placeOf: (entry: string) => ListPlace | null | undefined,
): string {
  const seen = new Set<string>();
  let entry = from;
  for (let place = placeOf(entry); place && !seen.has(entry); place = placeOf(entry)) {
    seen.add(entry);
    entry = place[side];
  }
  return entry;
}
