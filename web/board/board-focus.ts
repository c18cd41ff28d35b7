/** Where the maker is on the board: the keyboard's place and the selection, which stay with their knots whoever inserts or deletes. */
import type { Design, KnotAddress, StringAddress } from '../../engine/document/index.ts';
import { type Block, blockOf, type Cell, cellsInBlock, knotsIn } from '../../engine/index.ts';
import type { BoardModel } from './board-model.ts';
import { isInBlock, nearestSpot, placeOfSpot, type Spot } from './spot.ts';
import { TrackedBlock } from './tracked-block.ts';

export class BoardFocus {
  readonly #design: Design;
  readonly #stagger: () => BoardModel['stagger'];
  #spot: Spot = { on: 'knot', row: 0, k: 0 };
  #address: KnotAddress | null = null;
  /** Of the string at the peg that the keyboard is on. */
  #string: StringAddress | null = null;
  readonly #selected: TrackedBlock;
  /** Where a selection that grows with the cursor began. */
  #anchor: Cell | null = null;

  /** @param stagger of the pattern as it is now */
  constructor(design: Design, stagger: () => BoardModel['stagger']) {
    this.#design = design;
    this.#stagger = stagger;
    this.#selected = new TrackedBlock(design);
  }

  get spot(): Spot {
    return this.#spot;
  }

  /** The knot the keyboard is on; null on a peg or when there are no knots. */
  get cursor(): Cell | null {
    const spot = this.#spot;
    return spot.on === 'knot' && spot.k < knotsIn(this.#stagger(), spot.row) ? spot : null;
  }

  get selection(): Block | null {
    return this.#selected.block;
  }

  /** The selection, or the knot under the cursor. */
  get block(): Block | null {
    const { cursor } = this;
    return this.selection ?? (cursor && blockOf(this.#stagger(), cursor, cursor));
  }

  /** First knot of the selection, or the one under the cursor. */
  get firstCell(): Cell | null {
    const { selection } = this;
    return selection === null ? this.cursor : (cellsInBlock(this.#stagger(), selection)[0] ?? null);
  }

  /** Of the peg, or of the left string of the knot at the cursor. */
  get place(): number {
    return placeOfSpot(this.#stagger(), this.#spot, this.cursor);
  }

  /** Whether a knot lies in the selection. */
  has(cell: Cell): boolean {
    return this.selection !== null && isInBlock(this.#stagger(), this.selection, cell);
  }

  /** @param extend whether the selection grows from where the first such step began */
  moveTo(spot: Spot, extend: boolean): void {
    const before = this.cursor;
    this.#spot = spot;
    const cell = this.cursor;
    this.#address = cell && this.#design.addressOf(cell.row, cell.k);
    this.#string = spot.on === 'peg' ? this.#design.stringAddressOf(spot.place) : null;
    if (!extend) this.#anchor = null;
    else if (cell !== null) {
      this.#anchor ??= before ?? cell;
      this.select(blockOf(this.#stagger(), this.#anchor, cell));
    }
  }

  /** Selects what of the block lies inside the pattern. */
  select(block: Block): void {
    this.#selected.set(block);
  }

  clearSelection(): void {
    this.#selected.clear();
    this.#anchor = null;
  }

  /** After rows or strings came or went: all goes with its knots, or to the nearest ones left. */
  follow(): void {
    const found = this.#address && this.#design.placeOf(this.#address);
    const place = this.#string && this.#design.stringOf(this.#string);
    this.#spot = place === null ? nearestSpot(this.#stagger(), this.#spot, found) : { on: 'peg', place };
    this.#anchor = null;
    this.#selected.follow();
  }
}
