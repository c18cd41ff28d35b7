/** What the kinds of help at the table have in common: what they are told, and whom they tell. */
import type { Board } from '../../engine/index.ts';
import { t } from '../text/index.ts';
import { stepWords } from '../words/index.ts';
import type { Keychain } from './keychain-shelf.ts';
import type { TableWork } from './table-work.ts';
import { placeSeen, type Sight } from './views.ts';

/** The keychain that help is asked for. */
export interface Aided {
  readonly keychain: Keychain;
  /** As it was begun with, in its colours. */
  readonly begun: Board;
  readonly work: TableWork;
}

export interface AidHost {
  /** Renders anew. */
  readonly update: () => void;
  /** Takes something over into the keychain, and closes the help. */
  readonly take: (patch: Partial<Keychain> | ((keychain: Keychain) => Partial<Keychain>)) => void;
}

/** A colour of the board as it is called and shown. */
export function colourOf({ palette }: Board, id: string): { readonly name: string; readonly hex: string } {
  const found = palette.find((colour) => colour.id === id);
  if (found === undefined) return { name: id, hex: '#808080' };
  return { name: found.name.trim() || found.hex, hex: found.hex };
}

/** "red, third from the left": a string by its colour and where it hangs, from 0, counted as the view does. Rule N102. */
export function nameHanging(board: Board, string: number, place: number, sight: Sight): string {
  const { name } = colourOf(board, board.pattern.colours[string]!);
  const { number, from } = placeSeen(place, board.pattern.colours.length, sight);
  return t('table.stringSeen', {
    colour: name,
    at: stepWords().ordinal(number),
    from: t(`table.from.${from}`),
  });
}
