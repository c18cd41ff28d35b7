/** What a reader mended. Repairs are never written back: every client mends alike until a command overwrites the fault. */

const REPAIR_KINDS = [
  'newer-version',
  'no-version',
  'no-generation',
  'row-pair-twice',
  'row-pair-unreadable',
  'too-many-row-pairs',
  'string-pair-twice',
  'string-pair-unreadable',
  'too-many-string-pairs',
  'no-string-pairs',
  'lone-string-alone',
  'base-unreadable',
  'knot-unreadable',
  'colour-twice',
  'colour-unreadable',
  'too-many-colours',
  'no-colours',
  'hex-unreadable',
  'name-unreadable',
  'string-colour-unknown',
  'flag-unreadable',
  'title-unreadable',
  'piece-unreadable',
  'piece-twofold',
  'lead-in-too-long',
  'gauge-unreadable',
  'colourway-unreadable',
  'too-many-colourways',
  'supply-unreadable',
] as const;
/** What a reader had to mend; see engine/document/RULES.md. */
export type RepairKind = (typeof REPAIR_KINDS)[number];

/** One kind of repair, how often it was needed, and the first place (by path) where it was. */
export interface Repair {
  readonly kind: RepairKind;
  readonly path: string;
  readonly count: number;
}

/** Gathers repairs while reading. */
export class RepairLog {
  readonly #found = new Map<RepairKind, { path: string; count: number }>();

  note(kind: RepairKind, path: string, count = 1): void {
    const shown = path.length > 80 ? `${path.slice(0, 79)}…` : path;
    const seen = this.#found.get(kind);
    if (seen === undefined) this.#found.set(kind, { path: shown, count });
    else {
      seen.count += count;
      if (shown < seen.path) seen.path = shown;
    }
  }

  /** In the order of {@link REPAIR_KINDS}. */
  list(): readonly Repair[] {
    return REPAIR_KINDS.flatMap((kind) => {
      const seen = this.#found.get(kind);
      return seen === undefined ? [] : [{ kind, path: seen.path, count: seen.count }];
    });
  }
}
