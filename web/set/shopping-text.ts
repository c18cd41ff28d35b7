/** The shopping list of a set in words: for the clipboard and for paper. */
import type { Board, ShoppingList, ThreadToBuy } from '../../engine/index.ts';
import { t } from '../text/index.ts';
import { formatCut, formatPrice, type ShownUnit } from '../units/index.ts';
import { nameOfKeychain, type SetKeychain } from './keychains.ts';

/** What a thread is called: all its names, else its code. */
export function nameOfThread({ names, hex }: ThreadToBuy): string {
  return names.filter((name) => name !== '' && name !== hex).join(', ') || hex;
}

/** Its names with its code behind them, once. */
function nameAndCode(thread: ThreadToBuy): string {
  const name = nameOfThread(thread);
  return name === thread.hex ? name : `${name} (${thread.hex})`;
}

/** The keychains that need it. */
export function makersOf({ shares }: ThreadToBuy, keychains: readonly SetKeychain[]): string {
  return shares
    .map(({ colourway }) => keychains.find((keychain) => (keychain.colourway?.id ?? null) === colourway))
    .map((keychain) => (keychain === undefined ? '' : nameOfKeychain(keychain)))
    .join(', ');
}

/** Rings or bars to buy. */
export function partsText(board: Board, { parts }: ShoppingList): string {
  return t(board.piece.ring === 'round' ? 'set.shop.rings' : 'set.shop.bars', { count: parts });
}

/** The price with what it is made of; null when nothing has a price. */
export function costText({ cost, costParts }: ShoppingList): string | null {
  if (cost === null) return null;
  const parts = [
    ...(costParts.thread === null
      ? []
      : [t('set.shop.costThread', { price: formatPrice(costParts.thread) })]),
    ...(costParts.parts === null ? [] : [t('set.shop.costParts', { price: formatPrice(costParts.parts) })]),
    ...(costParts.work === null ? [] : [t('set.shop.costWork', { price: formatPrice(costParts.work) })]),
  ];
  return `${formatPrice(cost)} (${parts.join(', ')})`;
}

/** One line a thread, then what else is needed. */
export function shoppingText(
  board: Board,
  list: ShoppingList,
  keychains: readonly SetKeychain[],
  unit: ShownUnit,
): string {
  const cost = costText(list);
  return [
    `${t('set.shop.heading')}: ${board.title || t('board.untitled')} (${t('set.count', { count: list.pieces })})`,
    '',
    ...list.threads.map((thread) =>
      t('set.shop.line', {
        skeins: thread.skeins,
        name: nameAndCode(thread),
        length: formatCut(thread.totalMm, unit),
        strings: thread.pieces,
        makers: makersOf(thread, keychains),
      }),
    ),
    '',
    `${t('cut.skeins', { skeins: list.skeins })}, ${partsText(board, list)}`,
    ...(cost === null ? [] : [`${t('set.shop.cost')}: ${cost}`]),
    '',
  ].join('\n');
}
