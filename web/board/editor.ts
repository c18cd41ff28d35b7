/**
 * What the maker does on the board, without a screen: tools, cursor, selection, clipboard, mirrored tying.
 *
 * Invariants: the model is that of the design's snapshot; cursor and selection lie inside the pattern and stay with their
 * knots whoever inserts or deletes; a stroke is one undo step.
 */
import type { Command, Design } from '../../engine/document/index.ts';
import {
  type Block,
  blockOf,
  type Cell,
  type ColourId,
  cellsInBlock,
  cellsOnLine,
  type KnotCode,
} from '../../engine/index.ts';
import {
  blockAsText,
  cutBlock,
  type KnotBlock,
  movedBlock,
  placeBlock,
  readClip,
  repeatedBlock,
  shiftedBlock,
} from './block-text.ts';
import { BoardFocus } from './board-focus.ts';
import { type BoardModel, pickedAt, shownAt, stringsOf } from './board-model.ts';
import type { EditorOptions, ToolId } from './editor-options.ts';
import { cellsToFill, type Ink, inkedCells, type Places } from './knot-choice.ts';
import { LiveModel } from './live-model.ts';
import { axisX, type Mirror, mirrorThrough, type TiedCell, withBeside, withMirrored } from './mirror.ts';
import { deleteRowPairs, deleteStringPairs, insertRowPair, insertStringPair } from './pair-commands.ts';
import { blockAlong, cellBeside, type Spot } from './spot.ts';
import { followStroke, isAway, type Stroke, strokeFrom } from './stroke.ts';
import { TrackedMarks } from './tracked-marks.ts';

export class Editor {
  readonly design: Design;
  readonly #options: EditorOptions;
  readonly #live: LiveModel;
  #tool: ToolId = 'tie';
  #ink: Ink = { kind: 'knot', knot: 1 };
  #colour: ColourId | null = null;
  #places: Places = 'as they are';
  readonly #focus: BoardFocus;
  readonly #marks: TrackedMarks;
  #preview: readonly TiedCell[] = [];
  #shift: Block | null = null;
  #clip: KnotBlock | null = null;
  #stroke: Stroke | null = null;
  readonly #stop: () => void;

  constructor(design: Design, options: EditorOptions) {
    this.design = design;
    this.#options = options;
    this.#live = new LiveModel(design.snapshot.board, options.onChange);
    this.#focus = new BoardFocus(design, () => this.model.stagger);
    this.#marks = new TrackedMarks(design);
    this.#stop = design.subscribe((snapshot, change) => {
      this.#live.update(snapshot.board, change.kind === 'knots' ? change.cells : null);
      if (change.kind === 'structure') this.#follow();
      if (!snapshot.board.palette.some(({ id }) => id === this.#colour)) this.#takeColour(null);
      options.onChange();
    });
  }

  dispose(): void {
    this.cancel();
    this.#stop();
    this.#live.end();
  }

  get canEdit(): boolean {
    return this.#options.canEdit;
  }
  get model(): BoardModel {
    return this.#live.model;
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
    return this.#marks.mirror;
  }
  get spot(): Spot {
    return this.#focus.spot;
  }
  /** The knot the keyboard is on; null on a peg or when there are no knots. */
  get cursor(): Cell | null {
    return this.#focus.cursor;
  }
  get selection(): Block | null {
    return this.#focus.selection;
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
    return this.#marks.traced;
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
    this.#options.onChange();
  }

  /** Takes a knot to tie; goes from a tool that ties nothing to tying. */
  chooseKnot(knot: KnotCode): void {
    this.#ink = { kind: 'knot', knot };
    this.#toTying();
  }

  /** Takes the chosen colour as what shall show. */
  chooseShowing(places: Places = this.#places): void {
    this.#places = places;
    const colour = this.#colour ?? this.model.board.pattern.colours[0] ?? null;
    if (colour === null) return;
    this.#colour = colour;
    this.#ink = { kind: 'show', colour, places };
    this.#toTying();
  }

  chooseColour(colour: ColourId | null): void {
    this.#takeColour(colour);
    this.#options.onChange();
  }

  setMirror(mirror: Mirror): void {
    if (mirror.upright === 'middle' && axisX(mirror, this.model.strings) === null) {
      this.#options.onNews({ kind: 'no-middle' });
      return;
    }
    this.#marks.setMirror(mirror);
    this.#options.onChange();
  }

  /** An axis through the cursor's knot: upright through its middle, or level through its row; again takes it away. */
  mirrorHere(axis: 'upright' | 'level'): void {
    if (this.cursor !== null)
      this.setMirror(mirrorThrough(this.mirror, axis, this.model.stagger, this.cursor));
  }

  moveTo(spot: Spot, extend = false): void {
    this.#focus.moveTo(spot, extend);
    this.#options.onChange();
  }

  /** Selects what of the block lies inside the pattern. */
  selectBlock(block: Block): void {
    this.#focus.select(block);
    this.#options.onChange();
  }

  selectAll(): void {
    const { rows, strings } = this.model;
    if (rows > 0) this.selectBlock({ fromRow: 0, toRow: rows - 1, fromPlace: 0, toPlace: strings - 1 });
  }

  /** The rows, or the places, of the cursor's knot from edge to edge. */
  selectAlong(direction: 'row' | 'places'): void {
    const { cursor } = this;
    if (cursor !== null) this.selectBlock(blockAlong(this.model.stagger, cursor, direction));
  }

  isSelected(cell: Cell | null): boolean {
    return cell !== null && this.#focus.has(cell);
  }

  /** Lets go of a selection that the cursor is not in, so that what is done next is done at the cursor. */
  leaveSelection(): void {
    if (this.selection !== null && this.#stroke === null && !this.isSelected(this.cursor))
      this.clearSelection();
  }

  clearSelection(): void {
    this.#focus.clearSelection();
    this.#options.onChange();
  }

  trace(string: number | null): void {
    this.#marks.trace(this.traced === string ? null : string);
    this.#options.onChange();
  }

  /** Traces the string that shows at the cursor, or that of the peg. */
  traceHere(): void {
    const { cursor } = this;
    if (this.spot.on === 'peg') this.trace(this.spot.place);
    else if (cursor !== null) {
      const shown = shownAt(this.model, cursor);
      this.trace(shown >= 0 ? shown : stringsOf(this.model, cursor).left);
    }
  }

  /** Ends a stroke, else lets go of what is traced, else of the selection. */
  letGo(): void {
    if (this.#stroke !== null) this.cancel();
    else if (this.traced !== null) this.trace(null);
    else this.clearSelection();
  }

  press(cell: Cell): void {
    this.cancel();
    const isMove = this.#tool === 'select' && this.canEdit && this.isSelected(cell);
    const isTying = this.#tool === 'tie' || this.#tool === 'line' || this.#tool === 'fill';
    if (isTying && !this.canEdit) {
      this.#options.onNews({ kind: 'refused', why: null });
      return;
    }
    const close = isTying || isMove ? this.design.openStep() : () => {};
    this.#stroke = strokeFrom(this.design, cell, isMove, close);
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
        if (!isMove) this.selectBlock(blockOf(this.model.stagger, cell, cell));
        break;
      case 'pick':
        this.pick(cell);
        break;
    }
    this.#options.onChange();
  }

  drag(cell: Cell): void {
    const stroke = this.#stroke;
    if (stroke === null || (stroke.last?.row === cell.row && stroke.last.k === cell.k)) return;
    const { stagger } = this.model;
    const { from } = stroke;
    const way = stroke.last === null ? [cell] : cellsOnLine(stagger, stroke.last, cell);
    stroke.last = cell;
    if (this.#tool === 'tie') this.#brush(way);
    else if (from === null) this.cancel();
    else if (this.#tool === 'line') this.#preview = this.#inked(cellsOnLine(stagger, from, cell));
    else if (this.#tool === 'select' && stroke.isMove)
      this.#shift = this.selection && shiftedBlock(stagger, this.selection, from, cell);
    else if (this.#tool === 'select') this.selectBlock(blockOf(stagger, from, cell));
    this.#options.onChange();
  }

  /** @param copies whether a move leaves the knots where they were as well */
  release(copies = false): void {
    const stroke = this.#stroke;
    if (stroke === null) return;
    const { from, last } = stroke;
    if (this.#tool === 'line' && this.#preview.length > 0) this.#tie(this.#preview);
    if (stroke.isMove && from !== null && last !== null) {
      if (isAway(stroke)) this.#move(from, last, copies);
      else this.selectBlock(blockOf(this.model.stagger, from, from));
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

  /** Ties the ink, or this knot, at the selection or else at the cursor. */
  tieHere(ink: Ink = this.#ink): void {
    const { cursor, selection } = this;
    if (selection !== null) this.#tieInked(cellsInBlock(this.model.stagger, selection), ink);
    else if (cursor !== null) this.#tieInked([cursor], ink);
    else this.recolourHere();
  }

  fillHere(): void {
    if (this.cursor) this.#fill(this.cursor);
  }

  /** Of the peg under the cursor. */
  recolourHere(): void {
    if (this.spot.on === 'peg') this.recolour(this.spot.place);
  }

  recolour(string: number, colour: ColourId | null = this.#colour): void {
    const strings = withBeside(this.mirror, this.model.strings, string);
    if (colour === null) this.#options.onNews({ kind: 'choose-a-colour' });
    else this.run({ kind: 'recolour-strings', strings, colour });
  }

  swapColours(a: ColourId, b: ColourId): void {
    if (a !== b) this.run({ kind: 'swap-colours', a, b });
  }

  pick(cell: Cell): void {
    const { knot, colour } = pickedAt(this.model, cell);
    this.#takeColour(colour);
    if (this.#ink.kind === 'knot') this.#ink = { kind: 'knot', knot };
    this.#options.onNews({ kind: 'picked' });
    this.#options.onChange();
  }

  /** @returns the selection, or the knot under the cursor, as text; null when there is neither */
  copy(): string | null {
    const block = this.#focus.block;
    if (block === null) return null;
    this.#clip = cutBlock(this.model.board.pattern, block);
    this.#options.onNews({ kind: 'copied', count: cellsInBlock(this.model.stagger, block).length });
    this.#options.onChange();
    return blockAsText(this.#clip);
  }

  cut(): string | null {
    const text = this.copy();
    if (text !== null) this.tieHere({ kind: 'knot', knot: 0 });
    return text;
  }

  /** Lays text, or what was copied last, with its first knot on the cursor or the selection's first knot. */
  paste(text: string | null): void {
    const at = this.#focus.firstCell;
    if (at === null) return;
    const read = readClip(text, this.#clip);
    if (!read.ok) {
      this.#options.onNews({ kind: 'bad-clip', error: read.error });
      return;
    }
    const { knots, outside } = placeBlock(this.model.stagger, read.value, at);
    this.#tie(knots);
    if (outside > 0) this.#options.onNews({ kind: 'outside', count: outside });
  }

  repeatSelection(direction: 'down' | 'right'): void {
    const { selection } = this;
    const { stagger, board } = this.model;
    if (selection !== null) this.#tie(repeatedBlock(stagger, board.pattern, selection, direction));
  }

  /** Moves the selection by knots: rows and places together must stay on the stagger. */
  moveSelection(rows: number, places: number): void {
    const corner = this.#focus.firstCell;
    if (corner === null || this.selection === null) return;
    const target = cellBeside(this.model.stagger, corner, rows, places);
    if (target !== null) this.#move(corner, target, false);
  }

  insertRows(side: 'above' | 'below'): void {
    this.run(insertRowPair(this.model, this.#focus.block, side));
  }

  deleteRows(): void {
    const block = this.#focus.block;
    if (block !== null) this.run(deleteRowPairs(this.model, block));
  }

  insertStrings(side: 'left' | 'right'): void {
    const isMirrored = this.mirror.upright === 'middle' && this.model.strings % 2 === 0;
    this.run(insertStringPair(this.#focus.place, side, isMirrored));
  }

  deleteStrings(): void {
    const { selection } = this;
    const here = this.#focus.place;
    this.run(deleteStringPairs(selection?.fromPlace ?? here, selection?.toPlace ?? here));
  }

  run(command: Command): boolean {
    if (!this.canEdit) {
      this.#options.onNews({ kind: 'refused', why: null });
      return false;
    }
    const result = this.design.run(command);
    if (!result.ok) this.#options.onNews({ kind: 'refused', why: result.error });
    return result.ok;
  }

  #takeColour(colour: ColourId | null): void {
    this.#colour = colour;
    if (this.#ink.kind === 'show')
      this.#ink = colour === null ? { kind: 'knot', knot: 1 } : { ...this.#ink, colour };
  }

  #toTying(): void {
    if (this.#tool !== 'line' && this.#tool !== 'fill') this.#tool = 'tie';
    this.#options.onChange();
  }

  #inked(cells: readonly Cell[], ink: Ink = this.#ink): readonly TiedCell[] {
    const { board, weave, stagger } = this.model;
    return withMirrored(stagger, this.mirror, inkedCells(board.pattern, weave, cells, ink));
  }

  #tieInked(cells: readonly Cell[], ink: Ink = this.#ink): void {
    const knots = this.#inked(cells, ink);
    if (knots.length === 0 && cells.length > 0) this.#options.onNews({ kind: 'no-such-colour' });
    else this.#tie(knots);
  }

  #tie(knots: readonly TiedCell[]): void {
    const before = this.design.snapshot;
    if (knots.length === 0 || !this.run({ kind: 'set-knots', knots })) return;
    // Knots that were so already are no step that could be taken back.
    if (this.#stroke !== null && this.design.snapshot !== before) this.#stroke.hasTied = true;
    this.#options.onNews({ kind: 'tied', count: knots.length });
  }

  #brush(way: readonly Cell[]): void {
    const { done } = this.#stroke as Stroke;
    const fresh = way.filter(({ row, k }) => !done.has(`${row}:${k}`));
    for (const { row, k } of fresh) done.add(`${row}:${k}`);
    if (fresh.length > 0) this.#tieInked(fresh);
  }

  #fill(cell: Cell): void {
    this.#tieInked(cellsToFill(this.model, this.selection, cell, this.#ink.kind === 'show'));
  }

  #move(from: Cell, to: Cell, copies: boolean): void {
    const { selection } = this;
    if (selection === null) return;
    const { stagger, board } = this.model;
    const target = shiftedBlock(stagger, selection, from, to);
    const { knots, outside } = movedBlock(stagger, board.pattern, selection, target, copies);
    this.#tie(knots);
    if (outside > 0) this.#options.onNews({ kind: 'outside', count: outside });
    this.selectBlock(target);
  }

  #endStroke(): void {
    this.#stroke?.close();
    this.#stroke = null;
    this.#preview = [];
    this.#shift = null;
    this.#options.onChange();
  }

  /** After rows or strings came or went: everything goes with its knots, what was only a preview goes. */
  #follow(): void {
    this.#focus.follow();
    if (this.#marks.follow()) this.#options.onNews({ kind: 'axis-gone' });
    this.#preview = [];
    this.#shift = null;
    if (this.#stroke !== null) followStroke(this.#stroke, this.design);
  }
}
