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

/** Names of palette colours as they are called in the keychain; those without one by their code. */
export function namesIn({ looks }: SetKeychain, ids: readonly string[]): string {
  const names = ids.map((id) => {
    const look = looks.find((colour) => colour.id === id);
    return look?.name || (look?.isUnnamed === true ? look.hex : id);
  });
  return [...new Set(names)].join(', ');
}

/** What the colours of the board that have these looks are called: an own name where there is one, also that of another thread. */
export function placesIn(keychain: SetKeychain, ids: readonly string[]): string {
  const own = new Map(keychain.colourway?.colours.map(({ id, name }) => [id, name]));
  return [...new Set(ids.map((id) => own.get(id) || namesIn(keychain, [id])))].join(', ');
}

/** Threads on strings that have no name of their own. */
export function unnamedIn({ colourway, looks, marks }: SetKeychain): readonly DressedColour[] {
  if (colourway === null) return [];
  const used = new Set(marks.board.pattern.colours);
  const named = new Set(looks.filter(({ isUnnamed }) => !isUnnamed).map(({ hex }) => hex));
  return looks.filter(({ id, hex }) => used.has(id) && !named.has(hex));
}

/** The keychains that somebody is to have: the board's own colours are one only as long as there are no others. */
export function toBeMade(keychains: readonly SetKeychain[]): readonly SetKeychain[] {
  const made = keychains.filter(({ colourway }) => colourway !== null);
  return made.length === 0 ? keychains : made;
}

/** The first other colourway in which a thread of this name looks otherwise; null = there is none, or no name. */
export function sharedName(
  { name, hex }: Pick<DressedColour, 'name' | 'hex'>,
  of: SetKeychain,
  keychains: readonly SetKeychain[],
): string | null {
  if (name === '') return null;
  const other = keychains.find(
    (one) =>
      one.colourway !== null &&
      keyOf(one) !== keyOf(of) &&
      one.looks.some((look) => !look.isMissing && look.name === name && look.hex !== hex),
  );
  return other === undefined ? null : nameOfKeychain(other);
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
