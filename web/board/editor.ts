/**
 * What the maker does on the board, without a screen: tools, cursor, selection, clipboard, mirrored tying.
 *
 * Invariants: the model is that of the design's snapshot; cursor and selection lie inside the pattern, and stay with their knots when
 * anybody inserts or deletes elsewhere; a stroke (press, drag, release) is one undo step.
 */
import type { Command, Design, KnotAddress } from '../../engine/document/index.ts';
import {
  type Block,
  blockOf,
  type Cell,
  type ColourId,
  cellsInBlock,
  cellsOnLine,
  type KnotCode,
  knotsIn,
  placeOfCell,
} from '../../engine/index.ts';
import {
  blockAsText,
  cutBlock,
  type KnotBlock,
  movedBlock,
  placeBlock,
  readBlock,
  repeatedBlock,
  shiftedBlock,
} from './block-text.ts';
import { type BoardModel, knotOf, modelOf, shownAt, stringsOf } from './board-model.ts';
import type { EditorNews } from './editor-news.ts';
import { floodFrom, type Ink, inkedCells, type Places } from './knot-choice.ts';
import { axisX, type Mirror, NO_MIRROR, type TiedCell, withMirrored } from './mirror.ts';
import { deleteRowPairs, deleteStringPairs, insertRowPair, insertStringPair } from './pair-commands.ts';
import { TrackedBlock } from './tracked-block.ts';

export type ToolId = 'tie' | 'line' | 'fill' | 'select' | 'trace' | 'pick' | 'pan';

/** Where the keyboard is: on a knot, or on a peg above the band. */
export type Spot = ({ readonly on: 'knot' } & Cell) | { readonly on: 'peg'; readonly place: number };

export interface EditorOptions {
  readonly canEdit: boolean;
  readonly onChange: () => void;
  readonly onNews: (news: EditorNews) => void;
}

interface Stroke {
  readonly from: Cell;
  last: Cell;
  readonly close: () => void;
  readonly isMove: boolean;
  hasTied: boolean;
  /** Knots of this stroke, by row and k, so that a wavering hand ties each once. */
  readonly done: Set<string>;
}

export class Editor {
  readonly design: Design;
  readonly #options: EditorOptions;
  #model: BoardModel;
  #tool: ToolId = 'tie';
  #ink: Ink = { kind: 'knot', knot: 1 };
  #colour: ColourId | null = null;
  #places: Places = 'as they are';
  #mirror: Mirror = NO_MIRROR;
  #spot: Spot = { on: 'knot', row: 0, k: 0 };
  #spotAddress: KnotAddress | null = null;
  readonly #selected: TrackedBlock;
  /** Where a selection that Shift extends began. */
  #anchor: Cell | null = null;
  #preview: readonly TiedCell[] = [];
  #shift: Block | null = null;
  #traced: number | null = null;
  #clip: KnotBlock | null = null;
  #stroke: Stroke | null = null;
  readonly #stop: () => void;

  constructor(design: Design, options: EditorOptions) {
    this.design = design;
    this.#options = options;
    this.#model = modelOf(design.snapshot.board, null);
    this.#selected = new TrackedBlock(design);
    this.#stop = design.subscribe((snapshot, change) => {
      this.#model = modelOf(snapshot.board, this.#model);
      if (change.kind === 'structure') this.#follow();
      options.onChange();
    });
  }

  dispose(): void {
    this.cancel();
    this.#stop();
  }

  get canEdit(): boolean {
    return this.#options.canEdit;
  }
  get model(): BoardModel {
    return this.#model;
  }
  get tool(): ToolId {
    return this.#tool;
  }
  get ink(): Ink {
    return this.#ink;
  }
  get colour(): ColourId | null {
    return this.#colour;
  }
  get places(): Places {
    return this.#places;
  }
  get mirror(): Mirror {
    return this.#mirror;
  }
  get spot(): Spot {
    return this.#spot;
  }
  /** The knot the keyboard is on; null on a peg or when there are no knots. */
  get cursor(): Cell | null {
    const spot = this.#spot;
    return spot.on === 'knot' && spot.k < knotsIn(this.#model.stagger, spot.row) ? spot : null;
  }
  get selection(): Block | null {
    return this.#selected.block;
  }
  /** Knots a line or a move would tie if released now. */
  get preview(): readonly TiedCell[] {
    return this.#preview;
  }
  /** Where a selection being moved would land. */
  get shift(): Block | null {
    return this.#shift;
  }
  get traced(): number | null {
    return this.#traced;
  }
  get hasClip(): boolean {
    return this.#clip !== null;
  }
  get isInStroke(): boolean {
    return this.#stroke !== null;
  }

  choose(tool: ToolId): void {
    this.cancel();
    this.#tool = tool;
    this.#changed();
  }

  /** Takes a knot to tie; goes from a tool that ties nothing to tying. */
  chooseKnot(knot: KnotCode): void {
    this.#ink = { kind: 'knot', knot };
    this.#toTying();
  }

  /** Takes the chosen colour as what shall show. */
  chooseShowing(places: Places = this.#places): void {
    this.#places = places;
    const colour = this.#colour ?? this.#model.board.pattern.colours[0] ?? null;
    if (colour === null) return;
    this.#colour = colour;
    this.#ink = { kind: 'show', colour, places };
    this.#toTying();
  }

  chooseColour(colour: ColourId | null): void {
    this.#colour = colour;
    if (colour !== null && this.#ink.kind === 'show') this.#ink = { ...this.#ink, colour };
    this.#changed();
  }

  setMirror(mirror: Mirror): void {
    if (mirror.upright === 'middle' && axisX(mirror, this.#model.strings) === null) {
      this.#options.onNews({ kind: 'no-middle' });
      return;
    }
    this.#mirror = mirror;
    this.#changed();
  }

  /** An axis through the cursor's knot: upright through its middle, or level through its row; again takes it away. */
  mirrorHere(axis: 'upright' | 'level'): void {
    const { cursor } = this;
    if (cursor === null) return;
    const at = axis === 'level' ? cursor.row : placeOfCell(this.#model.stagger, cursor) + 0.5;
    this.setMirror({ ...this.#mirror, [axis]: this.#mirror[axis] === at ? null : at });
  }

  moveTo(spot: Spot, extend = false): void {
    const before = this.cursor;
    this.#spot = spot;
    const cell = this.cursor;
    this.#spotAddress = cell && this.design.addressOf(cell.row, cell.k);
    if (!extend) this.#anchor = null;
    if (extend && cell !== null) {
      this.#anchor ??= before ?? cell;
      this.selectBlock(blockOf(this.#model.stagger, this.#anchor, cell));
    } else this.#changed();
  }

  /** Selects what of the block lies inside the pattern. */
  selectBlock(block: Block): void {
    this.#selected.set(block);
    this.#changed();
  }

  selectAll(): void {
    const { rows, strings } = this.#model;
    if (rows > 0) this.selectBlock({ fromRow: 0, toRow: rows - 1, fromPlace: 0, toPlace: strings - 1 });
  }

  /** The rows, or the places, of the cursor's knot from edge to edge. */
  selectAlong(direction: 'row' | 'places'): void {
    const { cursor } = this;
    const { rows, strings, stagger } = this.#model;
    if (cursor === null) return;
    const own = blockOf(stagger, cursor, cursor);
    this.selectBlock(
      direction === 'row'
        ? { ...own, fromPlace: 0, toPlace: strings - 1 }
        : { ...own, fromRow: 0, toRow: rows - 1 },
    );
  }

  clearSelection(): void {
    this.#selected.clear();
    this.#anchor = null;
    this.#changed();
  }

  trace(string: number | null): void {
    this.#traced = this.#traced === string ? null : string;
    this.#changed();
  }

  /** Traces the string that shows at the cursor, or that of the peg. */
  traceHere(): void {
    const { cursor } = this;
    if (this.#spot.on === 'peg') this.trace(this.#spot.place);
    else if (cursor !== null) {
      const shown = shownAt(this.#model, cursor);
      this.trace(shown >= 0 ? shown : stringsOf(this.#model, cursor).left);
    }
  }

  /** Ends a stroke, else lets go of what is traced, else of the selection. */
  letGo(): void {
    if (this.#stroke !== null) this.cancel();
    else if (this.#traced !== null) this.trace(null);
    else this.clearSelection();
  }

  // Strokes: what pointer and keyboard have in common.

  press(cell: Cell): void {
    this.cancel();
    const { selection } = this;
    const isMove =
      this.#tool === 'select' &&
      selection !== null &&
      this.canEdit &&
      cellsInBlock(this.#model.stagger, selection).some(({ row, k }) => row === cell.row && k === cell.k);
    const isTying = this.#tool === 'tie' || this.#tool === 'line' || this.#tool === 'fill';
    if (isTying && !this.canEdit) {
      this.#options.onNews({ kind: 'refused', why: null });
      return;
    }
    const close = isTying || isMove ? this.design.openStep() : () => {};
    this.#stroke = { from: cell, last: cell, close, isMove, hasTied: false, done: new Set() };
    switch (this.#tool) {
      case 'tie':
        this.#brush([cell]);
        break;
      case 'fill':
        this.#fill(cell);
        break;
      case 'line':
        this.#preview = this.#inked([cell]);
        break;
      case 'select':
        if (!isMove) this.selectBlock(blockOf(this.#model.stagger, cell, cell));
        break;
      case 'pick':
        this.pick(cell);
        break;
      case 'trace':
      case 'pan':
        break;
    }
    this.#changed();
  }

  drag(cell: Cell): void {
    const stroke = this.#stroke;
    if (stroke === null || (stroke.last.row === cell.row && stroke.last.k === cell.k)) return;
    const { stagger } = this.#model;
    const way = cellsOnLine(stagger, stroke.last, cell);
    stroke.last = cell;
    if (this.#tool === 'tie') this.#brush(way);
    else if (this.#tool === 'line') this.#preview = this.#inked(cellsOnLine(stagger, stroke.from, cell));
    else if (this.#tool === 'select' && stroke.isMove) this.#shift = this.#shiftedBy(stroke.from, cell);
    else if (this.#tool === 'select') this.selectBlock(blockOf(stagger, stroke.from, cell));
    this.#changed();
  }

  /** @param copies whether a move leaves the knots where they were as well */
  release(copies = false): void {
    const stroke = this.#stroke;
    if (stroke === null) return;
    if (this.#tool === 'line' && this.#preview.length > 0) this.#tie(this.#preview);
    const isAway = stroke.from.row !== stroke.last.row || stroke.from.k !== stroke.last.k;
    if (stroke.isMove) {
      if (isAway) this.#move(stroke.from, stroke.last, copies);
      else this.selectBlock(blockOf(this.#model.stagger, stroke.from, stroke.from));
    }
    this.#endStroke();
  }

  /** Ends a stroke without what was only a preview; `takesBack` also undoes what it tied. */
  cancel(takesBack = false): void {
    const stroke = this.#stroke;
    if (stroke === null) return;
    this.#endStroke();
    if (takesBack && stroke.hasTied) this.design.undo();
  }

  // Commands on the cursor, the selection or a cell.

  /** Ties the ink, or this knot, at the selection or else at the cursor. */
  tieHere(ink: Ink = this.#ink): void {
    const { cursor, selection } = this;
    if (selection !== null) this.#tieInked(cellsInBlock(this.#model.stagger, selection), ink);
    else if (cursor !== null) this.#tieInked([cursor], ink);
    else this.recolourHere();
  }

  fillHere(): void {
    if (this.cursor !== null) this.#fill(this.cursor);
  }

  /** Gives the string of the peg under the cursor the chosen colour. */
  recolourHere(): void {
    if (this.#spot.on === 'peg') this.recolour(this.#spot.place);
  }

  recolour(string: number): void {
    if (this.#colour === null) this.#options.onNews({ kind: 'choose-a-colour' });
    else this.run({ kind: 'recolour-strings', strings: [string], colour: this.#colour });
  }

  swapColours(a: ColourId, b: ColourId): void {
    if (a !== b) this.run({ kind: 'swap-colours', a, b });
  }

  pick(cell: Cell): void {
    const string = shownAt(this.#model, cell);
    const knot = knotOf(this.#model, cell);
    const colour =
      this.#model.board.pattern.colours[string >= 0 ? string : stringsOf(this.#model, cell).left];
    this.#colour = colour ?? null;
    if (this.#ink.kind === 'knot') this.#ink = { kind: 'knot', knot };
    else if (colour !== undefined) this.#ink = { ...this.#ink, colour };
    this.#options.onNews({ kind: 'picked' });
    this.#changed();
  }

  /** @returns the selection, or the knot under the cursor, as text; null when there is neither */
  copy(): string | null {
    const block = this.#blockHere();
    if (block === null) return null;
    this.#clip = cutBlock(this.#model.board.pattern, block);
    this.#options.onNews({ kind: 'copied', count: cellsInBlock(this.#model.stagger, block).length });
    this.#changed();
    return blockAsText(this.#clip);
  }

  cut(): string | null {
    const text = this.copy();
    if (text !== null) this.tieHere({ kind: 'knot', knot: 0 });
    return text;
  }

  /** Lays text, or what was copied last, with its first knot on the cursor or the selection's first knot. */
  paste(text: string | null): void {
    const at = this.#firstCellHere();
    if (at === null) return;
    let block = this.#clip;
    if (text !== null) {
      const read = readBlock(text);
      if (!read.ok) {
        this.#options.onNews({ kind: 'bad-clip', error: read.error });
        return;
      }
      block = read.value;
    }
    if (block === null) {
      this.#options.onNews({ kind: 'bad-clip', error: { kind: 'empty' } });
      return;
    }
    const { knots, outside } = placeBlock(this.#model.stagger, block, at);
    this.#tie(knots);
    if (outside > 0) this.#options.onNews({ kind: 'outside', count: outside });
  }

  repeatSelection(direction: 'down' | 'right'): void {
    const { selection } = this;
    const { stagger, board } = this.#model;
    if (selection !== null) this.#tie(repeatedBlock(stagger, board.pattern, selection, direction));
  }

  /** Moves the selection by knots: rows and places together must stay on the stagger. */
  moveSelection(rows: number, places: number): void {
    const corner = this.#firstCellHere();
    if (corner === null || this.selection === null) return;
    const { stagger } = this.#model;
    const place = placeOfCell(stagger, corner) + places;
    const row = corner.row + rows;
    const k = (place - ((stagger.start + row) & 1)) / 2;
    if (!Number.isInteger(k) || row < 0 || row >= stagger.rows || k < 0 || k >= knotsIn(stagger, row)) return;
    this.#move(corner, { row, k }, false);
  }

  insertRows(side: 'above' | 'below'): void {
    this.run(insertRowPair(this.#model, this.#blockHere(), side));
  }

  deleteRows(): void {
    const block = this.#blockHere();
    if (block !== null) this.run(deleteRowPairs(this.#model, block));
  }

  insertStrings(side: 'left' | 'right'): void {
    const isMirrored = this.#mirror.upright === 'middle' && this.#model.strings % 2 === 0;
    this.run(insertStringPair(this.#placeHere(), side, isMirrored));
  }

  deleteStrings(): void {
    const { selection } = this;
    const here = this.#placeHere();
    this.run(deleteStringPairs(selection?.fromPlace ?? here, selection?.toPlace ?? here));
  }

  run(command: Command): boolean {
    if (!this.canEdit) {
      this.#options.onNews({ kind: 'refused', why: null });
      return false;
    }
    const result = this.design.run(command);
    if (!result.ok) this.#options.onNews({ kind: 'refused', why: result.error.message });
    return result.ok;
  }

  #toTying(): void {
    if (this.#tool !== 'line' && this.#tool !== 'fill') this.#tool = 'tie';
    this.#changed();
  }

  #inked(cells: readonly Cell[], ink: Ink = this.#ink): readonly TiedCell[] {
    const { board, weave, stagger } = this.#model;
    return withMirrored(stagger, this.#mirror, inkedCells(board.pattern, weave, cells, ink));
  }

  #tieInked(cells: readonly Cell[], ink: Ink = this.#ink): void {
    const knots = this.#inked(cells, ink);
    if (knots.length === 0 && cells.length > 0) this.#options.onNews({ kind: 'no-such-colour' });
    else this.#tie(knots);
  }

  #tie(knots: readonly TiedCell[]): void {
    if (knots.length === 0 || !this.run({ kind: 'set-knots', knots })) return;
    if (this.#stroke !== null) this.#stroke.hasTied = true;
    this.#options.onNews({ kind: 'tied', count: knots.length });
  }

  #brush(way: readonly Cell[]): void {
    const { done } = this.#stroke as Stroke;
    const fresh = way.filter(({ row, k }) => !done.has(`${row}:${k}`));
    for (const { row, k } of fresh) done.add(`${row}:${k}`);
    if (fresh.length > 0) this.#tieInked(fresh);
  }

  #fill(cell: Cell): void {
    const { selection } = this;
    const { stagger, board, weave } = this.#model;
    const inside = selection === null ? [] : cellsInBlock(stagger, selection);
    const isInside = inside.some(({ row, k }) => row === cell.row && k === cell.k);
    this.#tieInked(isInside ? inside : floodFrom(board.pattern, weave, cell, this.#ink.kind === 'show'));
  }

  #shiftedBy(from: Cell, to: Cell): Block | null {
    return this.selection && shiftedBlock(this.#model.stagger, this.selection, from, to);
  }

  #move(from: Cell, to: Cell, copies: boolean): void {
    const { selection } = this;
    if (selection === null) return;
    const { stagger, board } = this.#model;
    const target = shiftedBlock(stagger, selection, from, to);
    const { knots, outside } = movedBlock(stagger, board.pattern, selection, target, copies);
    this.#tie(knots);
    if (outside > 0) this.#options.onNews({ kind: 'outside', count: outside });
    this.selectBlock(target);
  }

  #blockHere(): Block | null {
    const { cursor, selection } = this;
    return selection ?? (cursor && blockOf(this.#model.stagger, cursor, cursor));
  }

  #firstCellHere(): Cell | null {
    const { selection } = this;
    return selection === null ? this.cursor : (cellsInBlock(this.#model.stagger, selection)[0] ?? null);
  }

  #placeHere(): number {
    if (this.#spot.on === 'peg') return this.#spot.place;
    return this.cursor === null ? 0 : placeOfCell(this.#model.stagger, this.cursor);
  }

  #endStroke(): void {
    this.#stroke?.close();
    this.#stroke = null;
    this.#preview = [];
    this.#shift = null;
    this.#changed();
  }

  /** After rows or strings came or went: cursor and selection go with their knots, or to the nearest ones left. */
  #follow(): void {
    const { stagger, strings, rows } = this.#model;
    const found = this.#spotAddress && this.design.placeOf(this.#spotAddress);
    if (this.#spot.on === 'peg') this.#spot = { on: 'peg', place: Math.min(this.#spot.place, strings - 1) };
    else if (found !== null) this.#spot = { on: 'knot', ...found };
    else {
      const row = Math.max(0, Math.min(this.#spot.row, rows - 1));
      this.#spot = { on: 'knot', row, k: Math.max(0, Math.min(this.#spot.k, knotsIn(stagger, row) - 1)) };
    }
    this.#anchor = null;
    this.#selected.follow();
    if (this.#traced !== null && this.#traced >= strings) this.#traced = null;
    this.#preview = [];
    this.#shift = null;
  }

  #changed(): void {
    this.#options.onChange();
  }
}
