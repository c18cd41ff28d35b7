/** What a price is made of, and what is bought for it, in words. Needs the texts of the groups `price` and `panels`. */
import type { PartToBuy, Price, Priced, ShoppingList, ThreadToBuy } from '../../engine/index.ts';
import { t } from '../text/index.ts';
import { formatCut, formatNumber, formatPrice, type ShownUnit } from '../units/index.ts';

/** A term of a price, or a sum of those before it. */
interface PriceRow {
  readonly label: string;
  readonly value: string;
  readonly isSum: boolean;
}

/** A share in hundredths. */
function formatShare(share: number): string {
  return `${formatNumber(share * 100, 1)} %`;
}

/** Every term that is stated, in the order of the formula, with the sums between them. */
export function priceRows(price: Priced): readonly PriceRow[] {
  const rows: PriceRow[] = [];
  const row = (label: string, value: number, isSum = false): void => {
    rows.push({ label, value: formatPrice(value), isSum });
  };
  for (const term of ['thread', 'waste', 'parts', 'work', 'post', 'fixedFee'] as const) {
    const value = price[term];
    if (value !== null && (value !== 0 || term !== 'waste')) row(t(`cost.term.${term}`), value);
  }
  const shares = { margin: price.margin / price.price, fee: price.fee / price.price };
  const isMore = price.margin !== 0 || price.fee !== 0;
  if (isMore) row(t('cost.term.cost'), price.cost, true);
  for (const term of ['margin', 'fee'] as const)
    if (price[term] !== 0) row(t(`cost.term.${term}`, { share: formatShare(shares[term]) }), price[term]);
  row(t('cost.term.price'), price.price, true);
  if (price.tax !== 0) {
    row(t('cost.term.tax', { share: formatShare(price.tax / price.price) }), price.tax);
    row(t('cost.term.withTax'), price.withTax, true);
  }
  return rows;
}

/** Why there is no price; null where there is one. */
export function whyNoPrice(price: Price): string | null {
  switch (price.kind) {
    case 'priced':
      return null;
    case 'unstated':
      return t('cost.unstated');
    case 'nothing-left':
      return t('cost.nothingLeft', { share: formatShare(price.share) });
  }
}

/** A price in one line, with its terms behind it; null where there is none. */
export function priceLine(price: Price): string | null {
  if (price.kind !== 'priced') return null;
  const terms = priceRows(price)
    .filter(({ isSum }) => !isSum)
    .map(({ label, value }) => `${label} ${value}`);
  return `${formatPrice(price.price)} (${terms.join(', ')})`;
}

/** What a thread is called: all its names, else its code. */
export function nameOfThread({ names, hex }: Pick<ThreadToBuy, 'names' | 'hex'>): string {
  return names.join(', ') || hex;
}

/** What a part is called: by its own name, else by what it is. */
export function nameOfPart({ name, kind }: Pick<PartToBuy, 'name' | 'kind'>): string {
  return name || t(`part.${kind}`);
}

/** What of a thread is used, what comes from home and what must be bought. */
export function threadSentence(thread: ThreadToBuy, unit: ShownUnit): string {
  const { totalMm, fromHomeMm, skeins } = thread;
  return [
    t('cost.used', { length: formatCut(totalMm, unit) }),
    ...(fromHomeMm === 0 ? [] : [t('cost.home', { length: formatCut(fromHomeMm, unit) })]),
    skeins === 0 ? t('cost.buyNone') : t('cost.buy', { skeins }),
  ].join(' · ');
}

/** How many of a part, and how many of them must be bought. */
export function partSentence(part: PartToBuy): string {
  const line = t('cost.part.line', { count: part.count, name: nameOfPart(part) });
  return part.buy === part.count ? line : `${line} · ${t('cost.part.buy', { buy: part.buy })}`;
}

/** How much thread is used and bought in all. */
export function usedAndBought({ totalMm, boughtMm }: ShoppingList, unit: ShownUnit): string {
  return t('cost.usedBought', { used: formatCut(totalMm, unit), bought: formatCut(boughtMm, unit) });
}
