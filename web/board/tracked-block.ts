/** A selected block that stays with its knots when anybody inserts or deletes rows or strings elsewhere. */
import type { Design, RowAddress, StringAddress } from '../../engine/document/index.ts';
import type { Block } from '../../engine/index.ts';

interface BlockAddress {
  readonly fromRow: RowAddress;
  readonly toRow: RowAddress;
  readonly fromPlace: StringAddress;
  readonly toPlace: StringAddress;
}

export class TrackedBlock {
  readonly #design: Design;
  #block: Block | null = null;
  #edges: BlockAddress | null = null;

  constructor(design: Design) {
    this.#design = design;
  }

  get block(): Block | null {
    return this.#block;
  }

  /** Takes what of the block lies inside the pattern; nothing when the pattern has no rows. */
  set(block: Block): void {
    const { pattern } = this.#design.snapshot.board;
    const inside = {
      fromRow: Math.max(0, block.fromRow),
      toRow: Math.min(pattern.rows - 1, block.toRow),
      fromPlace: Math.max(0, block.fromPlace),
      toPlace: Math.min(pattern.colours.length - 1, block.toPlace),
    };
    const fromRow = this.#design.rowAddressOf(inside.fromRow);
    const toRow = this.#design.rowAddressOf(inside.toRow);
    const fromPlace = this.#design.stringAddressOf(inside.fromPlace);
    const toPlace = this.#design.stringAddressOf(inside.toPlace);
    if (fromRow === null || toRow === null || fromPlace === null || toPlace === null) return;
    this.#block = inside;
    this.#edges = { fromRow, toRow, fromPlace, toPlace };
  }

  clear(): void {
    this.#block = null;
    this.#edges = null;
  }

  /** Finds the edges again after rows or strings came or went; clears when one of them is gone. */
  follow(): void {
    if (this.#edges === null) return;
    const fromRow = this.#design.rowOf(this.#edges.fromRow);
    const toRow = this.#design.rowOf(this.#edges.toRow);
    const fromPlace = this.#design.stringOf(this.#edges.fromPlace);
    const toPlace = this.#design.stringOf(this.#edges.toPlace);
    if (fromRow === null || toRow === null || fromPlace === null || toPlace === null) this.clear();
    else this.#block = { fromRow, toRow, fromPlace, toPlace };
  }
}
