/**
 * What one visit did and nobody has changed since, as edits to be taken back one after the other, the last first.
 *
 * Of each key counts what the visit did to it after the last change of somebody else: taken back, it is what that somebody made of it. What
 * others changed after the visit is left out, also where they came to the same value. Mostly it is one edit. Knots that were packed together
 * (`knots` under the id of a pattern) cannot be told apart here, so where others tied between two such changes there are two edits.
 */
import { type Edit, foldEdits, type KeyChange, readScope } from '../../engine/document/index.ts';
import type { Step } from './replay.ts';

interface Own extends Edit {
  readonly step: number;
}

/** A key among all roots. */
export function nameOf({ root, key }: Pick<KeyChange, 'root' | 'key'>): string {
  return `${root} ${key}`;
}

/** The id of a pattern whose knots were packed anew; null for any other change. */
function packedPattern({ root, key }: KeyChange): string | null {
  return root === 'knots' && !key.includes(':') ? key : null;
}

const SCOPE = nameOf({ root: 'meta', key: 'generation' });

export class EditsOf {
  readonly #groups: Own[][] = [[]];
  /** When others changed a key last, in steps. */
  readonly #changedAt = new Map<string, number>();
  /** Patterns in which others tied since the last group began. */
  #tied = new Set<string>();
  /** Ids of the board and pattern that the visit put in the place of others. */
  #scopeIds: readonly string[] = [];
  #steps = 0;

  own({ changes, held }: Step): void {
    this.#steps += 1;
    if (changes.some((change) => this.#tied.has(packedPattern(change) ?? ''))) {
      this.#groups.push([]);
      this.#tied = new Set();
    }
    this.#groups.at(-1)!.push({ changes, held, step: this.#steps });
    for (const change of changes) if (nameOf(change) === SCOPE) this.#scopeIds = newIdsOf(change);
  }

  others({ changes }: Step): void {
    this.#steps += 1;
    for (const change of changes) {
      const { root, key } = change;
      this.#changedAt.set(nameOf(change), this.#steps);
      if (root === 'knots') this.#tied.add(packedPattern(change) ?? key.slice(0, key.indexOf('.')));
      // Whoever goes on with another board does not lose it.
      if (this.#scopeIds.some((id) => key.includes(id))) this.#changedAt.set(SCOPE, this.#steps);
    }
  }

  /** Whether somebody else was the last to change a key. */
  isChangedSince(change: KeyChange, step: number): boolean {
    return (this.#changedAt.get(nameOf(change)) ?? 0) > step;
  }

  /** Oldest first. */
  get edits(): readonly Edit[] {
    return this.#groups
      .map((group) =>
        foldEdits(
          group.map(({ changes, held, step }) => ({
            changes: changes.filter((change) => !this.isChangedSince(change, step)),
            held,
          })),
        ),
      )
      .filter(({ changes }) => changes.length > 0);
  }

  /** Keys that the visit changed and somebody else has changed since, each once. */
  get overtaken(): readonly KeyChange[] {
    const all = this.#groups
      .flat()
      .flatMap(({ changes, step }) => changes.map((change) => ({ change, step })));
    const last = new Map(all.map((one) => [nameOf(one.change), one]));
    return [...last.values()]
      .filter(({ change, step }) => this.isChangedSince(change, step))
      .map(({ change }) => change);
  }
}

function newIdsOf({ before, after }: KeyChange): readonly string[] {
  const [was, is] = [readScope(before), readScope(after)];
  if (is === null) return [];
  return [is.pattern, is.board].filter((id) => id !== was?.pattern && id !== was?.board);
}
