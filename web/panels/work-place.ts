/**
 * Where the maker is in the work order of a board. Kept in this browser: who ties for days closes the page in between, and a
 * telephone closes it by itself.
 */
import type { StepView, WorkMethod } from '../../engine/index.ts';

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
  view: StepView = 'plain';
  isLong = false;
  readonly #shelf: PlaceShelf;
  readonly #key: string;

  constructor(boardId: string, shelf: PlaceShelf) {
    this.boardId = boardId;
    this.#shelf = shelf;
    // What begins so goes when the board is forgotten.
    this.#key = `larkboard.work.${boardId}.place`;
    this.#read(shelf.getItem(this.#key));
  }

  /** To be called after each change. Where the storage is full, the place is known until the page is closed. */
  keep(): void {
    const { step, method, covers, view, isLong } = this;
    try {
      this.#shelf.setItem(this.#key, JSON.stringify({ step, method, covers, view, isLong }));
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
    if (Number.isSafeInteger(kept?.step) && (kept?.step as number) >= 0) this.step = kept?.step as number;
    this.method = METHODS.find((method) => method === kept?.method) ?? this.method;
    this.covers = COVERS.find((covers) => covers === kept?.covers) ?? this.covers;
    this.view = VIEWS.find((view) => view === kept?.view) ?? this.view;
    this.isLong = kept?.isLong === true;
  }
}
