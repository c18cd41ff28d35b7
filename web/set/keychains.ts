/** The keychains of a set as the page shows them: each colourway with its marks and its picture, the board's own colours first. */
import {
  type Board,
  type Colourway,
  type ColourwayMarks,
  type DressedColour,
  markColourways,
  paletteIn,
  type Sight,
  simulateSight,
} from '../../engine/index.ts';
import { dressModel, type FinishedModel, finishedModelOf } from '../board/index.ts';
import { t } from '../text/index.ts';
import { orRefusal } from '../words/index.ts';
import { planIn, type StateOf } from '../worker/index.ts';

export interface SetKeychain {
  /** Null: the board's own colours. */
  readonly colourway: Colourway | null;
  readonly marks: ColourwayMarks;
  /** The board's palette as it looks here. */
  readonly looks: readonly DressedColour[];
  /** Null when a field of piece or gauge is out of range, so that no picture can be drawn. */
  readonly model: FinishedModel | null;
}

/** Id in addresses and elements; the empty text for the board's own colours. */
export function keyOf({ colourway }: SetKeychain): string {
  return colourway?.id ?? '';
}

export function nameOfKeychain({ colourway }: SetKeychain): string {
  return colourway === null ? t('set.base') : colourway.name || t('set.unnamed');
}

/** Names of palette colours as they are called in the keychain. */
export function namesIn({ looks }: SetKeychain, ids: readonly string[]): string {
  const names = ids.map((id) => looks.find((colour) => colour.id === id)?.name || id);
  return [...new Set(names)].join(', ');
}

/** Keeps what does not change from one reading of the board to the next. */
export class Keychains {
  #board: Board | null = null;
  #sight: Sight = 'normal';
  #base: FinishedModel | null = null;
  #keychains: readonly SetKeychain[] = [];

  /**
   * The keychains of the board; the same objects while the board is the same and all plans are known.
   * @param stateOf tells how a colourway's board is mounted
   */
  read(board: Board, sight: Sight, stateOf: StateOf): readonly SetKeychain[] {
    const before = this.#board;
    const isWhole = this.#keychains.every(({ marks }) => marks.plan !== null);
    if (before === board && sight === this.#sight && isWhole) return this.#keychains;
    const isSamePiece =
      before !== null &&
      before.pattern.knots === board.pattern.knots &&
      before.pattern.rows === board.pattern.rows &&
      before.pattern.start === board.pattern.start &&
      before.pattern.colours.length === board.pattern.colours.length &&
      before.piece === board.piece &&
      before.gauge === board.gauge;
    if (!isSamePiece) {
      const model = orRefusal(() => finishedModelOf(board, null));
      this.#base = model.ok ? model.value : null;
    }
    const ways = [null, ...board.colourways];
    const seen = (hex: string): string => simulateSight(hex, sight);
    const base = this.#base;
    this.#keychains = markColourways(board, ways, (dressed) => planIn(stateOf(dressed))).map((marks, i) => ({
      colourway: ways[i]!,
      marks,
      looks: paletteIn(board.palette, ways[i]!),
      model: base === null ? null : dressModel(base, marks.board, marks.plan, seen),
    }));
    this.#board = board;
    this.#sight = sight;
    return this.#keychains;
  }
}
