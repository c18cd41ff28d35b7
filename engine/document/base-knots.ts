/**
 * Knots written together with a pattern, packed.
 *
 * A key of `knots` without a colon is the id of a pattern and holds its base: which pairs it knows, and half a byte for
 * each knot. A knot without a key of its own has the value of the base, or is untied. The base is never edited.
 */
import { foundingLocal, type Half } from './schema.ts';

/** Pairs of a base: a list of local ids, or how many there are of `~0`, `~1`, … */
type Pairs = number | readonly string[];

/** As stored. Byte `i * strings + j` holds the knots of row pair `i` at string pair `j`: inside in the low half, seam in the high. */
export interface StoredBase {
  readonly rows: Pairs;
  readonly strings: Pairs;
  readonly knots: Uint8Array;
}

/** No pattern has more pairs of rows, and so no base. */
export const MAX_PAIRS = 10_001;
/** Bytes of a base at most, two knots each; the largest board has a million. Those of pairs that are gone but may come back count too. */
export const MAX_PACKED_BYTES = 2_500_000;

/** A base that can be asked. */
export class BaseKnots {
  readonly rows: readonly string[];
  readonly strings: readonly string[];
  readonly #knots: Uint8Array;
  #rowIndex: ReadonlyMap<string, number> | null = null;
  #stringIndex: ReadonlyMap<string, number> | null = null;

  constructor(rows: readonly string[], strings: readonly string[], knots: Uint8Array) {
    this.rows = rows;
    this.strings = strings;
    this.#knots = knots;
  }

  static readonly none = new BaseKnots([], [], new Uint8Array(0));

  /** Knot by indices in `rows` and `strings`; a code that is none reads as untied. */
  at(i: number, j: number, half: 0 | 1): number {
    const byte = this.#knots[i * this.strings.length + j]!;
    const code = half === 0 ? byte & 15 : byte >> 4;
    return code > 4 ? 0 : code;
  }

  /** Whether it has the pairs of a knot. */
  knows(rowLocal: string, stringLocal: string): boolean {
    this.#rowIndex ??= indexOf(this.rows);
    this.#stringIndex ??= indexOf(this.strings);
    return this.#rowIndex.has(rowLocal) && this.#stringIndex.has(stringLocal);
  }

  /** Knot by local ids; untied when the base does not know them. */
  get(rowLocal: string, stringLocal: string, half: Half): number {
    this.#rowIndex ??= indexOf(this.rows);
    this.#stringIndex ??= indexOf(this.strings);
    const i = this.#rowIndex.get(rowLocal);
    const j = this.#stringIndex.get(stringLocal);
    return i === undefined || j === undefined ? 0 : this.at(i, j, half === 'inside' ? 0 : 1);
  }
}

/** Index of each id, where it stands first. */
export function indexOf(locals: readonly string[]): ReadonlyMap<string, number> {
  const index = new Map<string, number>();
  locals.forEach((local, i) => {
    if (!index.has(local)) index.set(local, i);
  });
  return index;
}

/** Reads a stored base; null when it is none. */
export function readBase(value: unknown): BaseKnots | null {
  if (typeof value !== 'object' || value === null) return null;
  const { rows, strings, knots } = value as Partial<Record<keyof StoredBase, unknown>>;
  if (!(knots instanceof Uint8Array)) return null;
  const rowIds = readPairList(rows);
  const stringIds = readPairList(strings);
  if (rowIds === null || stringIds === null) return null;
  return knots.length === rowIds.length * stringIds.length ? new BaseKnots(rowIds, stringIds, knots) : null;
}

function readPairList(value: unknown): readonly string[] | null {
  if (typeof value === 'number')
    return Number.isInteger(value) && value >= 0 && value <= MAX_PAIRS
      ? Array.from({ length: value }, (_, i) => foundingLocal(i))
      : null;
  return Array.isArray(value) &&
    value.length <= MAX_PAIRS &&
    value.every((entry) => typeof entry === 'string')
    ? value
    : null;
}

/** As a base names its pairs: how many, where they are `~0`, `~1`, … */
export function shortest(locals: readonly string[]): StoredBase['rows'] {
  return locals.every((local, i) => local === foundingLocal(i)) ? locals.length : locals;
}
