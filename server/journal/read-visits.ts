/** Visits as the log tells of them. */
import { AWAY_MS, personOfLabel, type RowSignature } from '../sync/index.ts';

/** One person's stay. */
export interface Visit {
  /** The label of its first row. */
  readonly id: string;
  readonly personId: string;
  /** The name last gone by; empty where none was shown. */
  name: string;
  /** When the first row of it was stored, and the last, in ms since 1970. */
  readonly began: number;
  last: number;
}

/** Puts labels together: rows of one label are one visit, and so are labels of one person with less than half an hour between them. */
export class VisitsRead {
  readonly all: Visit[] = [];
  readonly #byLabel = new Map<string, Visit>();
  /** The latest of each person. */
  readonly #latest = new Map<string, Visit>();

  /** The visit of a label; null where it is nobody's. */
  of(label: string): Visit | null {
    return this.#byLabel.get(label) ?? null;
  }

  /** Notes a row, in the order of the log. */
  note({ at, shares }: RowSignature): void {
    for (const { visit: label, name } of shares) {
      const personId = personOfLabel(label);
      if (personId === null) continue;
      const visit =
        this.#byLabel.get(label) ?? this.#goingOn(personId, at) ?? this.#begin(label, personId, at);
      this.#byLabel.set(label, visit);
      visit.last = Math.max(visit.last, at);
      if (name !== '') visit.name = name;
    }
  }

  #goingOn(personId: string, at: number): Visit | null {
    const latest = this.#latest.get(personId);
    return latest !== undefined && Math.abs(at - latest.last) <= AWAY_MS ? latest : null;
  }

  #begin(id: string, personId: string, at: number): Visit {
    const visit = { id, personId, name: '', began: at, last: at };
    this.all.push(visit);
    this.#latest.set(personId, visit);
    return visit;
  }
}
