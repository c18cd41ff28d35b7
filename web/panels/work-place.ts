/**
 * Where the maker is in the work order of a board. Kept in this browser: who ties for days closes the page in between, and a
 * telephone closes it by itself.
 */
import type { Design, KnotAddress } from '../../engine/document/index.ts';
import type { Half, StepView, WorkMethod } from '../../engine/index.ts';
import { firstHalfOf, keepFirstHalf, type StepTable, showMountedFrom, stepAt } from '../worker/index.ts';

const METHODS: readonly WorkMethod[] = ['rows', 'segments', 'exact'];
const COVERS = ['pattern', 'piece'] as const;
const VIEWS: readonly StepView[] = ['plain', 'left-handed', 'mirrored'];

/** The browser's storage, as far as it is used. */
export type PlaceShelf = Pick<Storage, 'getItem' | 'setItem'>;

export class WorkPlace {
  readonly boardId: string;
  /** Step from 0. */
  step = 0;
  method: WorkMethod = 'rows';
  covers: (typeof COVERS)[number] = 'pattern';
  /** Rows tied one by one before an order other than `rows`; the board may have fewer by now. */
  rowsFirst = 0;
  view: StepView = 'plain';
  /** Side from which is mounted and tied. */
  firstHalf: Half;
  isLong = false;
  readonly #shelf: PlaceShelf;
  readonly #key: string;
  /** The knot of the step, which others may move by inserting rows or strings; null in the end rows. */
  #knot: { readonly address: KnotAddress; readonly repeat: number } | null = null;

  constructor(boardId: string, shelf: PlaceShelf) {
    this.boardId = boardId;
    this.#shelf = shelf;
    // What begins so goes when the board is forgotten.
    this.#key = `larkboard.work.${boardId}.place`;
    this.firstHalf = firstHalfOf(boardId, shelf);
    this.#read(shelf.getItem(this.#key));
  }

  /** Begins on that side from now on, both to tie, from the first knot, and to mount. */
  beginOn(half: Half): void {
    this.firstHalf = half;
    keepFirstHalf(this.boardId, half, this.#shelf);
    showMountedFrom(half);
    this.startAnew();
  }

  /** Begins another order, from its first knot. */
  startAnew(): void {
    this.step = 0;
    this.#knot = null;
    this.keep();
  }

  /** Goes to a step of the order, or to the nearest there is. */
  goTo(step: number, table: StepTable, design: Pick<Design, 'addressOf'>): void {
    this.step = Math.max(0, Math.min(table.count - 1, step));
    this.#note(table, design);
    this.keep();
  }

  /** After the order was worked out anew: to the step of the same knot, or where that is gone to the same number. O(steps). */
  follow(table: StepTable, design: Pick<Design, 'addressOf' | 'placeOf'>): void {
    const at = this.#knot && design.placeOf(this.#knot.address);
    for (let index = 0; at !== null && index < table.count; index++) {
      const { part, partRow, k, repeat } = stepAt(table, index);
      if (part === 'end' || partRow !== at.row || k !== at.k || repeat !== this.#knot?.repeat) continue;
      this.step = index;
      break;
    }
    this.#note(table, design);
  }

  #note(table: StepTable, design: Pick<Design, 'addressOf'>): void {
    if (table.count === 0) return;
    const { part, partRow, k, repeat } = stepAt(table, Math.min(this.step, table.count - 1));
    const address = part === 'end' ? null : design.addressOf(partRow, k);
    this.#knot = address && { address, repeat };
  }

  /** To be called after each other change. Where the storage is full, the place is known until the page is closed. */
  keep(): void {
    const { step, method, covers, rowsFirst, view, isLong } = this;
    try {
      this.#shelf.setItem(this.#key, JSON.stringify({ step, method, covers, rowsFirst, view, isLong }));
    } catch (cause) {
      if (!(cause instanceof DOMException)) throw cause;
    }
  }

  /** Takes of what is kept whatever can be read. */
  #read(text: string | null): void {
    if (text === null) return;
    let kept: Readonly<Record<string, unknown>> | null;
    try {
      kept = JSON.parse(text) as Readonly<Record<string, unknown>> | null;
    } catch (cause) {
      if (!(cause instanceof SyntaxError)) throw cause;
      return;
    }
    const natural = (value: unknown): number =>
      Number.isSafeInteger(value) && (value as number) >= 0 ? (value as number) : 0;
    this.step = natural(kept?.step);
    this.rowsFirst = natural(kept?.rowsFirst);
    this.method = METHODS.find((method) => method === kept?.method) ?? this.method;
    this.covers = COVERS.find((covers) => covers === kept?.covers) ?? this.covers;
    this.view = VIEWS.find((view) => view === kept?.view) ?? this.view;
    this.isLong = kept?.isLong === true;
  }
}
