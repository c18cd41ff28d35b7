/**
 * What a maker does to a wish, without a screen: the tools of the board with colours in the place of knots.
 *
 * Invariants: cursor and selection lie inside the wish; a stroke is one step; undo takes back steps of the wish alone.
 */
import {
  type Block,
  blockOf,
  type Cell,
  cellsInBlock,
  cellsOnLine,
  knotsIn,
  OPEN,
  type Stagger,
  type Wish,
} from '../../engine/index.ts';
import {
  axisX,
  cellBeside,
  cutBlock,
  isInBlock,
  type KnotBlock,
  type Mirror,
  mirrorThrough,
  movedBlock,
  NO_MIRROR,
  placeBlock,
  repeatedBlock,
  shiftedBlock,
} from '../board/index.ts';
import {
  areaFrom,
  asPattern,
  asWanted,
  cellsWithin,
  mirroredCells,
  readWishBlock,
  staggerOfWish,
  type WantedCell,
  wishBlockText,
  withCells,
} from './wish-cells.ts';

export type WishTool = 'tie' | 'line' | 'fill' | 'select' | 'pick' | 'pan';

type WishNews = 'no-middle' | 'bad-clip' | 'outside' | 'copied';

export interface WishEditorOptions {
  readonly onChange: () => void;
  /** The wish is another one. */
  readonly onWish: () => void;
  readonly onNews: (news: WishNews, count: number) => void;
}

interface Stroke {
  readonly from: Cell;
  last: Cell;
  readonly before: Wish;
  readonly isMove: boolean;
}

const MOST_STEPS = 200;

export class WishEditor {
  readonly #options: WishEditorOptions;
  #wish: Wish;
  #done: Wish[] = [];
  #undone: Wish[] = [];
  #tool: WishTool = 'tie';
  #ink: number;
  #cursor: Cell = { row: 0, k: 0 };
  #selection: Block | null = null;
  #anchor: Cell | null = null;
  #mirror: Mirror = NO_MIRROR;
  #preview: readonly Cell[] = [];
  #shift: Block | null = null;
  #clip: KnotBlock | null = null;
  #stroke: Stroke | null = null;
  #region: Block | null = null;

  constructor(wish: Wish, options: WishEditorOptions) {
    this.#wish = wish;
    this.#ink = wish.palette.length > 1 ? 1 : 0;
    this.#options = options;
  }

  get wish(): Wish {
    return this.#wish;
  }
  get stagger(): Stagger {
    return staggerOfWish(this.#wish);
  }
  get tool(): WishTool {
    return this.#tool;
  }
  /** What is painted: index into the palette, or `OPEN`. */
  get ink(): number {
    return this.#ink;
  }
  /** The knot that the keyboard is on; null where there are no rows. */
  get cursor(): Cell | null {
    return this.#wish.rows.length === 0 ? null : this.#cursor;
  }
  get selection(): Block | null {
    return this.#selection;
  }
  get mirror(): Mirror {
    return this.#mirror;
  }
  get preview(): readonly Cell[] {
    return this.#preview;
  }
  get shift(): Block | null {
    return this.#shift;
  }
  get isInStroke(): boolean {
    return this.#stroke !== null;
  }
  get canUndo(): boolean {
    return this.#done.length > 0;
  }
  get canRedo(): boolean {
    return this.#undone.length > 0;
  }
  /** Where alone something is painted; null = everywhere. */
  get region(): Block | null {
    return this.#region;
  }

  choose(tool: WishTool): void {
    this.#stroke = null;
    this.#tool = tool;
    this.#options.onChange();
  }

  chooseInk(ink: number): void {
    this.#ink = ink;
    if (this.#tool !== 'line' && this.#tool !== 'fill') this.#tool = 'tie';
    this.#options.onChange();
  }

  setMirror(mirror: Mirror): void {
    if (mirror.upright === 'middle' && axisX(mirror, this.#wish.strings) === null) {
      this.#options.onNews('no-middle', 0);
      return;
    }
    this.#mirror = mirror;
    this.#options.onChange();
  }

  mirrorHere(axis: 'upright' | 'level'): void {
    if (this.cursor !== null) this.setMirror(mirrorThrough(this.#mirror, axis, this.stagger, this.cursor));
  }

  limitTo(region: Block | null): void {
    this.#region = region;
    this.#options.onChange();
  }

  moveTo(cell: Cell, extend = false): void {
    const before = this.#cursor;
    this.#cursor = cell;
    if (!extend) this.#anchor = null;
    else {
      this.#anchor ??= before;
      this.#selection = blockOf(this.stagger, this.#anchor, cell);
    }
    if (!extend && this.#stroke === null && this.#selection !== null && !this.isSelected(cell))
      this.#selection = null;
    this.#options.onChange();
  }

  select(block: Block | null): void {
    const { rows, strings } = this.stagger;
    this.#selection = block && {
      fromRow: Math.max(0, block.fromRow),
      toRow: Math.min(rows - 1, block.toRow),
      fromPlace: Math.max(0, block.fromPlace),
      toPlace: Math.min(strings - 1, block.toPlace),
    };
    this.#options.onChange();
  }

  selectAll(): void {
    const { rows, strings } = this.stagger;
    if (rows > 0) this.select({ fromRow: 0, toRow: rows - 1, fromPlace: 0, toPlace: strings - 1 });
  }

  isSelected(cell: Cell | null): boolean {
    return cell !== null && this.#selection !== null && isInBlock(this.stagger, this.#selection, cell);
  }

  letGo(): void {
    if (this.#stroke !== null) this.cancel(false);
    else this.select(null);
  }

  press(cell: Cell): void {
    const isMove = this.#tool === 'select' && this.isSelected(cell);
    this.#stroke = { from: cell, last: cell, before: this.#wish, isMove };
    if (this.#tool === 'tie') this.#paint([cell]);
    else if (this.#tool === 'fill') this.#paint(this.#areaAt(cell));
    else if (this.#tool === 'line') this.#preview = this.#mirrored([cell]);
    else if (this.#tool === 'select' && !isMove) this.select(blockOf(this.stagger, cell, cell));
    else if (this.#tool === 'pick') this.pick(cell);
    this.#options.onChange();
  }

  drag(cell: Cell): void {
    const stroke = this.#stroke;
    if (stroke === null || (stroke.last.row === cell.row && stroke.last.k === cell.k)) return;
    const { stagger } = this;
    const way = cellsOnLine(stagger, stroke.last, cell);
    stroke.last = cell;
    if (this.#tool === 'tie') this.#paint(way);
    else if (this.#tool === 'line') this.#preview = this.#mirrored(cellsOnLine(stagger, stroke.from, cell));
    else if (stroke.isMove)
      this.#shift = this.#selection && shiftedBlock(stagger, this.#selection, stroke.from, cell);
    else if (this.#tool === 'select') this.select(blockOf(stagger, stroke.from, cell));
    this.#options.onChange();
  }

  release(copies = false): void {
    const stroke = this.#stroke;
    if (stroke === null) return;
    if (this.#tool === 'line') this.#paint(this.#preview);
    const { from, last, isMove } = stroke;
    if (isMove && (from.row !== last.row || from.k !== last.k)) this.#move(from, last, copies);
    else if (isMove) this.#selection = blockOf(this.stagger, from, from);
    this.#endStroke();
    this.#keep(stroke.before);
  }

  /** Ends a stroke without what was only a preview; `takesBack` also takes back what it painted. */
  cancel(takesBack: boolean): void {
    const stroke = this.#stroke;
    if (stroke === null) return;
    this.#endStroke();
    if (takesBack) this.#set(stroke.before);
    else this.#keep(stroke.before);
  }

  /** Paints selection or cursor with the ink, or with this. */
  paintHere(ink = this.#ink): void {
    const cells = this.#here();
    this.#step(() => this.#paint(cells, ink));
  }

  pick({ row, k }: Cell): void {
    this.#ink = this.#wish.rows[row]?.[k] ?? OPEN;
    this.#options.onChange();
  }

  copy(): string | null {
    const block = this.#block();
    if (block === null) return null;
    this.#clip = cutBlock(asPattern(this.#wish), block);
    this.#options.onNews('copied', cellsInBlock(this.stagger, block).length);
    return wishBlockText(this.#clip, this.#wish);
  }

  cut(): string | null {
    const text = this.copy();
    if (text !== null) this.paintHere(OPEN);
    return text;
  }

  /** Lays text, or what was copied last, with its first cell on the cursor or the selection's first one. */
  paste(text: string | null): void {
    const at = this.#here()[0];
    const block = text === null ? this.#clip : readWishBlock(text, this.#wish);
    if (at === undefined) return;
    if (block === null) {
      this.#options.onNews('bad-clip', 0);
      return;
    }
    const { knots, outside } = placeBlock(this.stagger, block, at);
    this.#step(() => this.#lay(asWanted(knots)));
    if (outside > 0) this.#options.onNews('outside', outside);
  }

  repeatSelection(direction: 'down' | 'right'): void {
    const selection = this.#selection;
    if (selection === null) return;
    const cells = repeatedBlock(this.stagger, asPattern(this.#wish), selection, direction);
    this.#step(() => this.#lay(asWanted(cells)));
  }

  moveSelection(rows: number, places: number): void {
    const [corner] = this.#here();
    if (corner === undefined || this.#selection === null) return;
    const target = cellBeside(this.stagger, corner, rows, places);
    if (target !== null) this.#step(() => this.#move(corner, target, false));
  }

  /** Another wish in the place of this one, as one step. */
  take(wish: Wish): void {
    this.#step(() => this.#set(wish));
  }

  undo(): void {
    this.#go(this.#done, this.#undone);
  }

  redo(): void {
    this.#go(this.#undone, this.#done);
  }

  /** The band is another one, or its palette: the wish and all its steps are brought along. */
  follow(bring: (wish: Wish) => Wish): void {
    this.#endStroke();
    this.#done = this.#done.map(bring);
    this.#undone = this.#undone.map(bring);
    const before = this.stagger;
    this.#wish = bring(this.#wish);
    const { rows, strings, start } = this.stagger;
    if (before.rows !== rows || before.strings !== strings || before.start !== start) {
      this.#selection = null;
      this.#region = null;
      this.#anchor = null;
      this.#mirror = this.#mirror.upright === 'middle' && strings % 2 === 0 ? this.#mirror : NO_MIRROR;
      const row = Math.min(this.#cursor.row, Math.max(0, rows - 1));
      this.#cursor = { row, k: Math.min(this.#cursor.k, Math.max(0, knotsIn(this.stagger, row) - 1)) };
    }
    if (this.#ink >= this.#wish.palette.length) this.#ink = 0;
    this.#options.onWish();
    this.#options.onChange();
  }

  #block(): Block | null {
    return this.#selection ?? (this.cursor && blockOf(this.stagger, this.#cursor, this.#cursor));
  }

  #here(): readonly Cell[] {
    if (this.#selection !== null) return cellsInBlock(this.stagger, this.#selection);
    return this.cursor === null ? [] : [this.cursor];
  }

  #areaAt(cell: Cell): readonly Cell[] {
    return this.isSelected(cell) ? this.#here() : areaFrom(this.#wish, cell);
  }

  #mirrored(cells: readonly Cell[]): readonly Cell[] {
    return mirroredCells(this.stagger, this.#mirror, cells);
  }

  #paint(cells: readonly Cell[], ink = this.#ink): void {
    this.#lay(this.#mirrored(cells).map(({ row, k }) => ({ row, k, wanted: ink })));
  }

  #lay(cells: readonly WantedCell[]): void {
    const inside = new Set(cellsWithin(this.#wish, this.#region, cells));
    this.#set(
      withCells(
        this.#wish,
        cells.filter((cell) => inside.has(cell)),
      ),
    );
  }

  #move(from: Cell, to: Cell, copies: boolean): void {
    const selection = this.#selection;
    if (selection === null) return;
    const { stagger } = this;
    const target = shiftedBlock(stagger, selection, from, to);
    const { knots, outside } = movedBlock(stagger, asPattern(this.#wish), selection, target, copies);
    this.#lay(asWanted(knots));
    if (outside > 0) this.#options.onNews('outside', outside);
    this.select(target);
  }

  #set(wish: Wish): void {
    if (wish === this.#wish) return;
    this.#wish = wish;
    this.#options.onWish();
    this.#options.onChange();
  }

  #step(act: () => void): void {
    const before = this.#wish;
    act();
    this.#keep(before);
    this.#options.onChange();
  }

  #keep(before: Wish): void {
    if (before === this.#wish) return;
    this.#done.push(before);
    if (this.#done.length > MOST_STEPS) this.#done.shift();
    this.#undone = [];
  }

  #go(from: Wish[], to: Wish[]): void {
    const wish = from.pop();
    if (wish === undefined) return;
    to.push(this.#wish);
    this.#set(wish);
    this.#options.onChange();
  }

  #endStroke(): void {
    this.#stroke = null;
    this.#preview = [];
    this.#shift = null;
    this.#options.onChange();
  }
}
