/** What stands where a mounting plan will: how far it is, or why there is none, and how to go on. */
import { html, type TemplateResult } from 'lit';
import { missingPart } from '../parts/index.ts';
import { t } from '../text/index.ts';
import { type PendingPlan, planShelf } from './plan-shelf.ts';

/** Needs the texts that come with every group. */
export function planPending(state: PendingPlan): TemplateResult {
  if (state.kind === 'looking')
    return html`<div class="planning" role="status" style="display: grid; gap: var(--lb-space-2)">
      <label class="small" style="display: grid">${t('board.planning')}<progress style="width: 100%" max="1" .value=${state.share}></progress></label>
      <div class="actions"><button @click=${() => planShelf.stop()}>${t('plan.stop')}</button></div>
    </div>`;
  if (state.kind === 'failed' && state.why === 'replaced')
    return html`<div class="planning">${missingPart(state.why, () => {})}</div>`;
  return html`<div class="planning" role=${state.kind === 'failed' ? 'alert' : 'status'}>
    <p class=${state.kind === 'failed' ? 'warn' : ''}>${state.kind === 'failed' ? t('panels.range', { why: t(`error.${state.why}`) }) : t('board.unplanned')}</p>
    <div class="actions"><button @click=${() => planShelf.again()}>${t('app.again')}</button></div>
  </div>`;
}
