/** The shopping list of a set in words: for the clipboard and for paper. */
import type { Board, PartToBuy, ShoppingList, ThreadToBuy } from '../../engine/index.ts';
import { t } from '../text/index.ts';
import { formatCut, formatPrice, type ShownUnit } from '../units/index.ts';
import { nameOfPart, nameOfThread, priceLine, sayTitle, usedAndBought } from '../words/index.ts';
import { nameOfKeychain, type SetKeychain } from './keychains.ts';

/** Its names with the maker's number and its code behind them, once. */
function nameAndCode(thread: ThreadToBuy): string {
  const name = nameOfThread(thread);
  const behind = [
    ...(thread.number === null ? [] : [thread.number]),
    ...(name === thread.hex ? [] : [thread.hex]),
  ];
  return behind.length === 0 ? name : `${name} (${behind.join(', ')})`;
}

/** The keychains that need it. */
export function makersOf({ shares }: ThreadToBuy, keychains: readonly SetKeychain[]): string {
  return shares.map(({ colourway }) => nameOfWay(colourway, keychains)).join(', ');
}

/** A keychain by the id of its colourway. */
export function nameOfWay(colourway: string | null, keychains: readonly SetKeychain[]): string {
  const keychain = keychains.find((one) => (one.colourway?.id ?? null) === colourway);
  return keychain === undefined ? '' : nameOfKeychain(keychain);
}

/** A line of parts to buy; the ring that no line says anything of is what the board hangs from. */
export function partText(board: Board, part: PartToBuy): string {
  const { id, count, buy } = part;
  if (id === null) return t(board.piece.ring === 'round' ? 'set.shop.rings' : 'set.shop.bars', { count });
  const line = t('cost.part.line', { count: buy, name: nameOfPart(part) });
  return buy === count ? line : `${line} · ${t('set.shop.ofAll', { count })}`;
}

/** One line a thread, then what else is needed, what that costs, and what a keychain should cost. */
export function shoppingText(
  board: Board,
  list: ShoppingList,
  keychains: readonly SetKeychain[],
  unit: ShownUnit,
): string {
  const price = priceLine(list.price);
  return [
    `${t('set.shop.heading')}: ${sayTitle(board)} (${t('set.count', { count: list.pieces })})`,
    '',
    ...list.threads.map((thread) =>
      [
        t('set.shop.line', {
          skeins: thread.skeins,
          name: nameAndCode(thread),
          length: formatCut(thread.totalMm, unit),
          strings: thread.pieces,
          makers: makersOf(thread, keychains),
        }),
        ...(thread.fromHomeMm === 0 ? [] : [t('cost.home', { length: formatCut(thread.fromHomeMm, unit) })]),
      ].join(' · '),
    ),
    '',
    [t('cut.skeins', { skeins: list.skeins }), ...list.parts.map((part) => partText(board, part))].join(', '),
    usedAndBought(list, unit),
    ...(list.toPay.all === null ? [] : [`${t('cost.toPay')}: ${formatPrice(list.toPay.all)}`]),
    ...(price === null ? [] : [`${t('set.shop.cost')}: ${price}`]),
    ...(price === null || list.batches.length < 2
      ? []
      : list.batches.flatMap(({ colourway, pieces, price: each }) =>
          each.kind === 'priced'
            ? [
                `${t('cost.part.line', { count: pieces, name: nameOfWay(colourway, keychains) })}: ${formatPrice(each.price)}`,
              ]
            : [],
        )),
    '',
  ].join('\n');
}
