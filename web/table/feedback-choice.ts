/** What is read aloud, heard and felt, to be switched on; what this browser can't do is said. */
import { html, type TemplateResult } from 'lit';
import { t } from '../text/index.ts';
import type { Feedback, FeedbackChoice } from './feedback.ts';

/** Rules N92 and N93. */
export function feedbackChoice(
  feedback: Pick<Feedback, 'canSpeak' | 'canSound' | 'canTremble'>,
  choice: FeedbackChoice,
  onChoice: (choice: FeedbackChoice) => void,
): TemplateResult {
  const box = (field: keyof FeedbackChoice, label: string): TemplateResult =>
    html`<label class="box"><input type="checkbox" .checked=${choice[field]} @change=${() => onChoice({ ...choice, [field]: !choice[field] })} /> ${label}</label>`;
  return html`<div role="group" aria-label=${t('table.feedback')}>
    ${feedback.canSpeak ? box('isAloud', t('table.feedback.aloud')) : html`<p class="small quiet">${t('table.feedback.noVoice')}</p>`}
    ${feedback.canSound ? box('hasSound', t('table.feedback.sound')) : ''}
    ${feedback.canTremble ? box('hasTremble', t('table.feedback.tremble')) : ''}
  </div>`;
}
