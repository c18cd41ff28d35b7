/** On which side one begins: one choice for mounting and tying, shown with both. */
import { html, type TemplateResult } from 'lit';
import type { Half } from '../../engine/index.ts';
import { t } from '../text/index.ts';
import type { WorkPlace } from './work-place.ts';

const HALVES: readonly Half[] = ['left', 'right'];

/**
 * As `choiceField` draws one; written out, since with it the panel of mounting would fetch all that fields are made of.
 * @param onChosen called once the place begins there
 */
export function firstHalfField(place: WorkPlace, onChosen: () => void): TemplateResult {
  return html`<div class="field">
    <span class="head"><label for="first-half">${t('work.first')}</label></span>
    <select id="first-half" .value=${place.firstHalf} @change=${(event: Event) => {
      place.beginOn((event.target as HTMLSelectElement).value as Half);
      onChosen();
    }}>
      ${HALVES.map((half) => html`<option value=${half} ?selected=${half === place.firstHalf}>${t(`work.first.${half}`)}</option>`)}
    </select>
  </div>`;
}
