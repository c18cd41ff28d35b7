/** What is worked out of the past of a design, in a thread where it is long. */
import * as Y from 'yjs';
import { encodeEdit, type KeyChange } from '../../engine/document/index.ts';
import { readWrittenBy } from '../sync/index.ts';
import { type Job, withDocument } from '../work/index.ts';
import { EditsOf, nameOf } from './edits-of.ts';
import { type Visit, VisitsRead } from './read-visits.ts';
import { type JournalRow, replay, type Step } from './replay.ts';

export interface ListedVisit extends Visit {
  /** Keys that it changed: knots, rows, strings, colours, texts. */
  readonly changes: number;
}

/** Visits in which something was changed, oldest first. */
export const VISITS: Job<readonly JournalRow[], readonly ListedVisit[]> = {
  name: 'journal-visits',
  run: (rows) => {
    const visits = new VisitsRead();
    const keys = new Map<Visit, Set<string>>();
    replay(rows, {
      row: (signature) => visits.note(signature),
      step: ({ label, changes }) => {
        const visit = visits.of(label);
        if (visit === null) return;
        const changed = keys.get(visit) ?? new Set();
        keys.set(visit, changed);
        for (const change of changes) changed.add(nameOf(change));
      },
    });
    return visits.all.flatMap((visit) => {
      const changes = keys.get(visit)?.size ?? 0;
      return changes === 0 ? [] : [{ ...visit, changes }];
    });
  },
};

/** What somebody did in a visit. */
export interface VisitEdits {
  readonly visit: Visit;
  /** Encoded, oldest first; to be taken back from the last on. */
  readonly edits: readonly Uint8Array[];
  /** Keys that somebody else has changed since, and the name they go by: empty where nobody knows. */
  readonly since: readonly (readonly [root: string, key: string, name: string])[];
}

/** What one visit did; null when there is none such. */
export const VISIT_EDITS: Job<
  { readonly rows: readonly JournalRow[]; readonly visit: string },
  VisitEdits | null
> = {
  name: 'journal-edits',
  run: ({ rows, visit: id }) => {
    const visits = new VisitsRead();
    const edits = new EditsOf();
    const last = new LastChangers();
    replay(rows, {
      row: (signature) => visits.note(signature),
      step: (step) => {
        const whose = visits.of(step.label);
        last.note(step, whose);
        if (whose?.id === id) edits.own(step);
        else edits.others(step);
      },
    });
    const visit = visits.all.find((one) => one.id === id);
    if (visit === undefined) return null;
    const since = edits.overtaken.map(({ root, key }) => [root, key, last.nameOf({ root, key })] as const);
    return { visit, edits: edits.edits.map(encodeEdit), since };
  },
};

/** Who changed each key last. */
class LastChangers {
  readonly #by = new Map<string, Visit | null>();

  note({ changes }: Step, whose: Visit | null): void {
    for (const change of changes) this.#by.set(nameOf(change), whose);
  }

  nameOf(key: Pick<KeyChange, 'root' | 'key'>): string {
    return this.#by.get(nameOf(key))?.name ?? '';
  }
}

export interface FoldInput {
  /** Of the past alone, oldest first. */
  readonly rows: readonly (JournalRow & { readonly seq: number })[];
  /** The generation that goes on. */
  readonly present: number;
  /** Ms since 1970: older rows go. */
  readonly before: number;
  /** Bytes of rows that stay at most, the first row not counted, which is what the others build on. */
  readonly mostBytes: number;
}

export interface FoldOutput {
  readonly seqs: readonly number[];
  readonly generation: number;
  readonly base: Uint8Array | null;
}

/** Which rows of the past give way, and to what; null where none do. */
export const FOLD: Job<FoldInput, FoldOutput | null> = {
  name: 'journal-fold',
  run: ({ rows, present, before, mostBytes }) => {
    let bytes = 0;
    let at = rows.length;
    while (at > 1 && bytes + rows[at - 1]!.bytes.length <= mostBytes) {
      at -= 1;
      bytes += rows[at]!.bytes.length;
    }
    for (let i = at; i < rows.length; i += 1) {
      const signature = readWrittenBy(rows[i]!.by);
      if (signature !== null && signature.at < before) at = i + 1;
    }
    const gone = rows.slice(0, at);
    if (gone.length <= 1) return null;
    const { generation } = gone.at(-1)!;
    // What a generation begins with holds all that is known of those before it.
    const isOver = (rows[at]?.generation ?? present) !== generation;
    const base = isOver
      ? null
      : withDocument(
          gone.filter((row) => row.generation === generation).map((row) => row.bytes),
          (doc) => Y.encodeStateAsUpdate(doc),
        );
    return { seqs: gone.map(({ seq }) => seq), generation, base };
  },
};

export const JOURNAL_JOBS = [VISITS, VISIT_EDITS, FOLD];
