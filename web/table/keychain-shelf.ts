/**
 * Keychains under way, kept in this browser: each with an id and a state of its own, and the board as it was begun with.
 *
 * What is kept goes to the disk with every step, so that a crash costs none. The board stands beside it, written once. Two tabs of one
 * browser see each other's steps by the window's `storage` event.
 */
import {
  type Board,
  formatBoard,
  type Half,
  type OwnWay,
  parseBoard,
  type StepSize,
  type TiedKeys,
  type TiedMark,
} from '../../engine/index.ts';
import { KEYCHAIN_BOARD, keychainKeys } from '../sync/index.ts';
import { kindsToText, marksToText, textToKinds, textToMarks } from './own-text.ts';
import { TiedText, textToTied } from './tied-text.ts';
import { VIEWS, type View } from './views.ts';

export const STAGES = ['cut', 'mount', 'tie', 'finish'] as const;
type Stage = (typeof STAGES)[number];

export const STEP_SIZES: readonly StepSize[] = ['knot', 'run', 'half-row', 'row'];
/** Orders that are offered at the table. */
export const TABLE_METHODS = ['rows', 'segments'] as const;
type TableMethod = (typeof TABLE_METHODS)[number];

/** One keychain that was begun. */
export interface Keychain {
  readonly id: string;
  readonly name: string;
  /** Milliseconds since 1970. */
  readonly begunAt: number;
  /** Colourway that it is made in; null = the board's own colours. */
  readonly colourway: string | null;
  readonly stage: Stage;
  readonly method: TableMethod;
  readonly size: StepSize;
  readonly firstHalf: Half;
  /** How it is seen and begun; the board that is kept is the mirrored one where that is the view. */
  readonly view: View;
  /** Those that were begun together have one name for it; empty = alone. */
  readonly batch: string;
  /** Whether all cords are folded in the middle. */
  readonly isMiddle: boolean;
  /** Whether what hangs was compared once more after the first row. */
  readonly isCompared: boolean;
  /** Cords that are cut, each by its left place at the top. */
  readonly cut: readonly number[];
  /** Cords that hang, in the order of mounting. */
  readonly mounted: number;
  /** What is done of the finish, by name. */
  readonly finished: readonly string[];
  readonly tied: TiedKeys;
  /** The board of now that the maker said no to, by {@link marksOf}; empty = none. */
  readonly declined: string;
  /** What is made otherwise than on the board begun. */
  readonly own: OwnWay;
  /** When knots were marked as tied, the latest last. */
  readonly marks: readonly TiedMark[];
}

/** The browser's storage, as far as it is used. */
export type KeychainStore = Pick<Storage, 'getItem' | 'setItem' | 'removeItem' | 'key' | 'length'>;

/** Beside it, how its rows are addressed on the board, so that they are found again when rows are put in above them. */
const ROWS = '.rows';
const ID = /^[\w-]+$/;

/** A keychain and its board as they are kept. */
export interface WrittenKeychain {
  readonly keychain: string;
  readonly board: string;
  /** Addresses of its rows. */
  readonly rows: string;
}

export class KeychainShelf {
  readonly #store: KeychainStore;
  readonly #start: string;
  /** At each step one knot more is written. */
  readonly #tiedText = new TiedText();

  constructor(boardId: string, store: KeychainStore) {
    this.#store = store;
    this.#start = keychainKeys(boardId);
  }

  /** Whether a key of the storage is one of this board's keychains. */
  isOurs(key: string | null): boolean {
    return key === null || key.startsWith(this.#start);
  }

  /** All that were begun, the latest first. Rule N1. */
  all(): readonly Keychain[] {
    const found: Keychain[] = [];
    for (let at = 0; at < this.#store.length; at++) {
      const key = this.#store.key(at);
      if (key === null || !key.startsWith(this.#start) || key.endsWith(KEYCHAIN_BOARD)) continue;
      const keychain = this.find(key.slice(this.#start.length));
      if (keychain !== null) found.push(keychain);
    }
    return found.sort((a, b) => b.begunAt - a.begunAt || (a.id < b.id ? -1 : 1));
  }

  find(id: string): Keychain | null {
    const text = ID.test(id) ? this.#store.getItem(this.#start + id) : null;
    return text === null ? null : readKeychain(id, text);
  }

  /** The board as it was begun with, in its colours; null when it is gone or cannot be read. Rule N2. */
  boardOf(id: string): Board | null {
    const text = this.#store.getItem(this.#start + id + KEYCHAIN_BOARD);
    const data = text === null ? null : readJson(text);
    const parsed = data === null ? null : parseBoard(data);
    return parsed?.ok === true ? parsed.value : null;
  }

  /** Addresses of the rows of {@link boardOf}, from the first on; empty where they were not kept. Rule N40. */
  rowsOf(id: string): readonly string[] {
    return readRows(this.#store.getItem(this.#start + id + ROWS) ?? '[]');
  }

  /** @returns whether there was room to keep it */
  begin(keychain: Keychain, board: Board, rows: readonly string[] = []): boolean {
    return this.keepBoard(keychain.id, board, rows) && this.keep(keychain);
  }

  /** @returns whether there was room to keep it */
  keep({ id, tied, own, marks, ...rest }: Keychain): boolean {
    const { endsAfter } = own;
    const texts = { tied: this.#tiedText.of(tied), kinds: kindsToText(own.kinds), marks: marksToText(marks) };
    return this.#put(id, JSON.stringify({ version: 1, ...rest, ...texts, endsAfter }));
  }

  /**
   * Goes on with another board from now on.
   * @param rows addresses of its rows; those that are kept stay where none are given
   * @returns whether there was room to keep it
   */
  keepBoard(id: string, board: Board, rows?: readonly string[]): boolean {
    return (
      this.#put(id + KEYCHAIN_BOARD, JSON.stringify(formatBoard({ ...board, colourways: [] }))) &&
      (rows === undefined || this.#put(id + ROWS, JSON.stringify(rows)))
    );
  }

  /** What is kept of one, as it is written; null when it is not there whole. */
  written(id: string): WrittenKeychain | null {
    const [keychain, board, rows] = ['', KEYCHAIN_BOARD, ROWS].map((end) =>
      this.#store.getItem(this.#start + id + end),
    );
    return keychain && board ? { keychain, board, rows: rows ?? '[]' } : null;
  }

  /** Writes one as it was; it had that room before. */
  putBack(id: string, { keychain, board, rows }: WrittenKeychain): void {
    this.#put(id + KEYCHAIN_BOARD, board);
    this.#put(id + ROWS, rows);
    this.#put(id, keychain);
  }

  remove(id: string): void {
    this.#store.removeItem(this.#start + id);
    this.#store.removeItem(this.#start + id + KEYCHAIN_BOARD);
    this.#store.removeItem(this.#start + id + ROWS);
  }

  #put(key: string, text: string): boolean {
    try {
      this.#store.setItem(this.#start + key, text);
      return true;
    } catch (error) {
      // Full, or not allowed: whoever asked says so.
      if (!(error instanceof DOMException)) throw error;
      return false;
    }
  }
}

/** What of a board matters at the table, as short text: two boards with the same are the same work. O(knots): {@link keptMarks}. */
export function marksOf(board: Board): string {
  const { palette, strings, rows, start, piece, gauge } = formatBoard(board);
  const { notes: _notes, ...worked } = piece;
  const text = JSON.stringify({ palette, strings, rows, start, worked, gauge });
  // FNV-1a, 32 bits: a slip costs a question that is not asked, no more. G. Fowler, L. C. Noll, K.-P. Vo, D. Eastlake, RFC 9923.
  let hash = 0x811c9dc5;
  for (let at = 0; at < text.length; at++) hash = Math.imul(hash ^ text.charCodeAt(at), 0x01000193);
  return `${text.length}-${(hash >>> 0).toString(16)}`;
}

function readRows(text: string): readonly string[] {
  const rows = readJson(text);
  return Array.isArray(rows) && rows.every(isText) ? rows : [];
}

function readJson(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch (error) {
    if (!(error instanceof SyntaxError)) throw error;
    return null;
  }
}

const isNatural = (value: unknown): value is number => Number.isSafeInteger(value) && (value as number) >= 0;
const isText = (value: unknown): value is string => typeof value === 'string';

/** A keychain and its board as another device wrote them; null for whatever is none. */
export function readWritten(
  id: unknown,
  keychain: unknown,
  board: unknown,
  rows: unknown,
): { readonly keychain: Keychain; readonly board: Board; readonly rows: readonly string[] } | null {
  if (!isText(id) || !ID.test(id) || !isText(keychain) || !isText(board)) return null;
  const read = readKeychain(id, keychain);
  const parsed = parseBoard(readJson(board));
  return read === null || !parsed.ok
    ? null
    : { keychain: read, board: parsed.value, rows: isText(rows) ? readRows(rows) : [] };
}

/** Takes of what is kept whatever can be read; null when it is of another version. */
function readKeychain(id: string, text: string): Keychain | null {
  const kept = readJson(text) as Readonly<Record<string, unknown>> | null;
  if (typeof kept !== 'object' || kept?.version !== 1) return null;
  const list = <T>(value: unknown, is: (one: unknown) => one is T): readonly T[] =>
    Array.isArray(value) ? value.filter(is) : [];
  return {
    id,
    name: isText(kept.name) ? kept.name : '',
    begunAt: isNatural(kept.begunAt) ? kept.begunAt : 0,
    colourway: isText(kept.colourway) ? kept.colourway : null,
    stage: STAGES.find((stage) => stage === kept.stage) ?? 'cut',
    method: TABLE_METHODS.find((method) => method === kept.method) ?? 'rows',
    size: STEP_SIZES.find((size) => size === kept.size) ?? 'knot',
    firstHalf: kept.firstHalf === 'right' ? 'right' : 'left',
    view: VIEWS.find((view) => view === kept.view) ?? (kept.firstHalf === 'right' ? 'from-right' : 'same'),
    batch: isText(kept.batch) ? kept.batch : '',
    isMiddle: kept.isMiddle === true,
    isCompared: kept.isCompared === true,
    cut: list(kept.cut, isNatural),
    mounted: isNatural(kept.mounted) ? kept.mounted : 0,
    finished: list(kept.finished, isText),
    tied: isText(kept.tied) ? textToTied(kept.tied) : new Set(),
    declined: isText(kept.declined) ? kept.declined : '',
    own: {
      kinds: isText(kept.kinds) ? textToKinds(kept.kinds) : new Map(),
      endsAfter: isNatural(kept.endsAfter) && kept.endsAfter > 0 ? kept.endsAfter : null,
    },
    marks: isText(kept.marks) ? textToMarks(kept.marks) : [],
  };
}

/** A keychain of which nothing is done yet, with whatever is said of it. */
export function freshKeychain(id: string, of: Partial<Keychain> = {}): Keychain {
  const read = readKeychain(id, '{"version":1}');
  if (read === null) throw new Error('a keychain of this version cannot be read');
  return { ...read, ...of, id };
}
