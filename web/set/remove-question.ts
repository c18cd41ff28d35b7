/** Asked before a colourway goes: somebody may have it open right now. Rule W970. */
import { html, nothing, type TemplateResult } from 'lit';
import { sayList, t } from '../text/index.ts';

export interface RemoveQuestion {
  readonly name: string;
  /** What others are called who have it open. */
  readonly others: readonly string[];
  readonly onYes: () => void;
  readonly onNo: () => void;
}

/** Needs the texts of the group `set`. */
export function removeQuestion({ name, others, onYes, onNo }: RemoveQuestion): TemplateResult {
  return html`<div class="sure" role="group" aria-labelledby="sure" aria-describedby="sure-hint">
    <p id="sure">
      <b>${t('set.removeSure', { name })}</b>
      ${others.length === 0 ? nothing : html`<b class="warn" role="status">${t('set.removeOpen', { names: sayList(others), count: others.length })}</b>`}
    </p>
    <p class="quiet small" id="sure-hint">${t('set.removeHint')}</p>
    <div class="actions">
      <button id="remove-yes" @click=${onYes}>${t('set.removeYes')}</button>
      <button id="remove-no" @click=${onNo}>${t('set.removeNo')}</button>
    </div>
  </div>`;
}
