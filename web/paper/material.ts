/** What is used and bought for a piece and what it costs, on paper as in the panel of the cost. */
import { html, type TemplateResult } from 'lit';
import { type Board, lotOf, type MountPlan, type ShoppingList, shoppingList } from '../../engine/index.ts';
import { t } from '../text/index.ts';
import { formatNumber, formatPrice, readUnit } from '../units/index.ts';
import {
  nameOfThread,
  orRefusal,
  partSentence,
  priceLine,
  threadSentence,
  usedAndBought,
} from '../words/index.ts';

/** For as many pieces as are made in these colours. Needs the texts of the groups `price` and `panels`. Rule B286. */
export function materialOf(board: Board, plan: MountPlan): TemplateResult | '' {
  const found = orRefusal(() => shoppingList(board, lotOf(board, [null]), () => plan));
  if (!found.ok) return html`<p>${t('panels.range', { why: found.why })}</p>`;
  const list = found.value;
  const unit = readUnit();
  const each = priceLine(list.batches[0]!.price);
  const minutes = Math.ceil(list.batches[0]!.minutes.all - 1e-9);
  return html`<h3>${t('sheet.material', { count: list.pieces })}</h3>
    <ul class="totals">
      ${list.threads.map(
        (thread) =>
          html`<li><span class="swatch" style="background: ${thread.hex}"></span>${nameOfThread(thread)}: ${threadSentence(thread, unit)}</li>`,
      )}
      ${list.parts.map((part) => html`<li>${partSentence(part)}</li>`)}
    </ul>
    <p>${usedAndBought(list, unit)}${list.toPay.all === null ? '' : html` ${t('cost.toPay')}: ${formatPrice(list.toPay.all)}.`}</p>
    <p>${t('cost.minutes')}: ${t('cut.minutesValue', { minutes: formatNumber(minutes, 0) })}</p>
    ${each === null ? '' : html`<p><b>${t('cost.priceEach')}: ${each}</b></p>`}
    ${each === null || list.pieces === 1 ? '' : html`<p>${allLine(list)}</p>`}`;
}

function allLine({ pieces, price }: ShoppingList): string {
  const all = price.kind === 'priced' ? formatPrice(price.price) : '';
  return `${t('cost.priceAll', { count: pieces })}: ${all}`;
}

/** What a piece is sold for, tax and all; null where nothing is said of selling it, or it has no price. Rule B286. */
export function soldFor(board: Board, plan: MountPlan): string | null {
  const { marginShare, feeShare, taxShare } = board.piece;
  if (marginShare === undefined && feeShare === undefined && taxShare === undefined) return null;
  const found = orRefusal(() => shoppingList(board, lotOf(board, [null]), () => plan));
  if (!found.ok) return null;
  const { price } = found.value.batches[0]!;
  return price.kind === 'priced' ? formatPrice(price.withTax) : null;
}
