/** Choosing how the work is seen, with what a mirror image comes to; and what of a keychain changes with it. */
import { html, type TemplateResult } from 'lit';
import type { Board } from '../../engine/index.ts';
import { choiceField } from '../fields/index.ts';
import { t } from '../text/index.ts';
import type { Cord } from './cords.ts';
import type { Keychain } from './keychain-shelf.ts';
import { firstHalfIn, mirrorBoard, mirrorDifference, VIEWS, type View } from './views.ts';

/** A mirror image is another band: what is tied, or hangs, can't become one. */
function isBegun({ tied, mounted }: Keychain): boolean {
  return tied.size > 0 || mounted > 0;
}

/** Rules N71 and N73. */
export function viewChoice(keychain: Keychain, board: Board, onView: (view: View) => void): TemplateResult {
  const { view } = keychain;
  const isSet = isBegun(keychain);
  const offered = VIEWS.filter((one) => !isSet || (one === 'mirror') === (view === 'mirror'));
  return html`${choiceField({
    id: 'view',
    label: t('table.view'),
    value: view,
    choices: offered.map((one) => [one, t(`table.view.${one}`)] as const),
    onValue: onView,
  })}
    ${isSet ? html`<p class="small quiet">${t('table.view.tooLate')}</p>` : ''}
    ${view === 'mirror' ? sayDifference(board) : ''}`;
}

function sayDifference(board: Board): TemplateResult {
  const { differ, knots } = mirrorDifference(board);
  return differ === 0
    ? html`<p class="small quiet">${t('table.view.alike')}</p>`
    : html`<p class="small warn" role="status">${t('table.view.differs', { differ, knots })}</p>`;
}

/** What another view makes of a keychain. */
export interface ViewChange {
  readonly patch: Partial<Keychain>;
  /** The board to go on with; null = the same. */
  readonly board: Board | null;
}

/**
 * Into a mirror image and out of it the board is mirrored; cords that are cut stay so, each by its new left place.
 * @param cords the cords of the board as it is, null while they are not known
 * @returns null where it cannot be: begun, or cut by cords that are not known
 */
export function changeView(
  keychain: Keychain,
  board: Board,
  cords: readonly Cord[] | null,
  view: View,
): ViewChange | null {
  const patch = { view, firstHalf: firstHalfIn(view) };
  if ((view === 'mirror') === (keychain.view === 'mirror')) return { patch, board: null };
  if (isBegun(keychain) || (cords === null && keychain.cut.length > 0)) return null;
  const last = board.pattern.colours.length - 1;
  const cut = (cords ?? [])
    .filter(({ left }) => keychain.cut.includes(left))
    .map(({ left, right }) => last - (right ?? left));
  return { patch: { ...patch, cut, declined: '' }, board: mirrorBoard(board) };
}
