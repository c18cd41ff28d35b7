/** What a screen reader says of a knot or a peg. */
import { type Cell, isLeftShown, type KnotCode } from '../../engine/index.ts';
import { type TextKey, t } from '../text/index.ts';
import { type BoardModel, knotOf, stringsOf } from './board-model.ts';
import type { Editor } from './editor.ts';
import type { TalkHere } from './talk-here.ts';

const KIND_KEYS = [
  'board.kind.none',
  'board.kind.forward',
  'board.kind.backward',
  'board.kind.forwardBackward',
  'board.kind.backwardForward',
] as const satisfies readonly TextKey[];

/** The word for a knot, or for an untied pair. */
export function kindName(knot: KnotCode): string {
  return t(KIND_KEYS[knot]);
}

/** `row 3, knot 4, forward, teal over coral`; counted from 1. */
function spokenKnot(model: BoardModel, cell: Cell): string {
  const knot = knotOf(model, cell);
  const strings = stringsOf(model, cell);
  const left = model.names[strings.left] as string;
  const right = model.names[strings.right] as string;
  const where = { row: cell.row + 1, knot: cell.k + 1 };
  if (knot === 0) return t('board.spokenUntied', { ...where, left, right });
  const [shown, hidden] = isLeftShown(knot) ? [left, right] : [right, left];
  return t('board.spoken', { ...where, kind: kindName(knot), shown, hidden });
}

/** `peg 3, teal`; counted from 1. */
function spokenPeg(model: BoardModel, place: number): string {
  return t('board.spokenPeg', { place: place + 1, colour: model.names[place] as string });
}

/** What the keyboard is on, and how much is said about it. */
export function spokenSpot(
  { spot, model, cursor }: Pick<Editor, 'spot' | 'model' | 'cursor'>,
  talk: TalkHere | null,
): string {
  const name =
    spot.on === 'peg'
      ? spokenPeg(model, Math.min(spot.place, model.strings - 1))
      : cursor === null
        ? t('board.spokenEmpty')
        : spokenKnot(model, cursor);
  const count = talk?.countAt(spot) ?? 0;
  return count === 0 ? name : `${name}, ${t('board.remarksHere', { count })}`;
}
