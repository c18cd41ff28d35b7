/** Axes of mirrored tying and a traced string that stay where they are in the pattern when anybody inserts or deletes elsewhere. */
import type { Design, RowAddress, StringAddress } from '../../engine/document/index.ts';
import { axisX, type Mirror, NO_MIRROR } from './mirror.ts';

export class TrackedMarks {
  readonly #design: Design;
  #mirror: Mirror = NO_MIRROR;
  /** The places on both sides of an upright axis that is not the middle. */
  #beside: readonly (StringAddress | null)[] = [];
  #level: RowAddress | null = null;
  #traced: number | null = null;
  #tracedAt: StringAddress | null = null;

  constructor(design: Design) {
    this.#design = design;
  }

  get mirror(): Mirror {
    return this.#mirror;
  }
  get traced(): number | null {
    return this.#traced;
  }

  setMirror(mirror: Mirror): void {
    const { upright, level } = mirror;
    this.#mirror = mirror;
    this.#level = level === null ? null : this.#design.rowAddressOf(level);
    this.#beside =
      typeof upright === 'number'
        ? [upright - 0.5, upright + 0.5].map((place) => this.#design.stringAddressOf(place))
        : [];
  }

  trace(string: number | null): void {
    this.#traced = string;
    this.#tracedAt = string === null ? null : this.#design.stringAddressOf(string);
  }

  /**
   * Finds them again after rows or strings came or went; what lay on something that is gone is gone too.
   * @returns whether an axis went
   */
  follow(): boolean {
    this.#traced = this.#tracedAt && this.#design.stringOf(this.#tracedAt);
    const before = this.#mirror;
    const [left, right] = this.#beside.map((at) => at && this.#design.stringOf(at));
    const middle = axisX(before, this.#design.snapshot.board.pattern.colours.length);
    const found = left == null || right == null ? null : (left + right) / 2;
    this.#mirror = {
      upright: before.upright === 'middle' ? middle && 'middle' : found,
      level: this.#level && this.#design.rowOf(this.#level),
    };
    return (
      (before.upright !== null && this.#mirror.upright === null) ||
      (before.level !== null && this.#mirror.level === null)
    );
  }
}
