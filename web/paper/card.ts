/** The card: one page to give with the finished keychain. */
import { html, type TemplateResult } from 'lit';
import { type Board, bandProportions, isHung, type MountPlan } from '../../engine/index.ts';
import { t } from '../text/index.ts';
import { formatCut, readUnit } from '../units/index.ts';
import { orRefusal, sayTitle } from '../words/index.ts';
import { soldFor } from './material.ts';
import { colourList, pictureOfPiece } from './sheet.ts';

const MOST_ROWS = 120;

/**
 * Needs the texts of the groups `paper`, `price` and `panels`.
 * @param plan how it is mounted; null while that is not known, and no price then
 */
export function cardOf(board: Board, plan: MountPlan | null = null): TemplateResult {
  const unit = readUnit();
  const drawn = orRefusal(() => ({
    image: pictureOfPiece(board, MOST_ROWS).image,
    size: bandProportions(board),
  }));
  if (!drawn.ok) return html`<p class="sheet">${t('panels.range', { why: drawn.why })}</p>`;
  const { image, size } = drawn.value;
  const price = plan && soldFor(board, plan);
  return html`<article class="sheet card">
    <h1>${sayTitle(board)}</h1>
    <div class="front">
      ${image}
      <div>
        <p>${t(size.isMeasured ? 'card.size' : 'card.sizeEstimated', {
          width: formatCut(size.widthMm, unit),
          length: formatCut(size.bandMm, unit),
        })}</p>
        ${price === null ? '' : html`<p>${t('cost.price')}: ${price}</p>`}
        <h2>${t('card.madeOf')}</h2>
        ${colourList(board)}
      </div>
    </div>
    <section>
      <h2>${t('card.care')}</h2>
      <ul>
        <li>${t('card.hand')}</li>
        <li>${t(isHung(board.piece) ? 'card.keys' : 'begin.wear')}</li>
        <li>${t('card.small')}</li>
        ${isHung(board.piece) ? html`<li>${t('card.metal')}</li>` : ''}
      </ul>
    </section>
    <p class="line">${t('card.madeBy')}</p>
    <p class="line">${t('card.forWhom')}</p>
  </article>`;
}
