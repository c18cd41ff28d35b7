import { html, type TemplateResult } from 'lit';
import { t } from '../text/index.ts';

/** Asked before what somebody else said goes: there is no undo for it. */
export function removeQuestion(yes: (event: Event) => void, no: (event: Event) => void): TemplateResult {
  return html`<div class="small" role="group" aria-label=${t('talk.removeSure')}>
    <p>${t('talk.removeSure')}</p>
    <p class="actions">
      <button class="primary" @click=${yes}>${t('talk.removeYes')}</button>
      <button @click=${no}>${t('talk.removeNo')}</button>
    </p>
  </div>`;
}
