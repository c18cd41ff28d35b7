/** The usual cautions beside making; they defer to the rules of the place. */
import { css, html, LitElement, type TemplateResult } from 'lit';
import { controls } from '../styles/index.ts';
import { spoken, t } from '../text/index.ts';

@spoken
export class LbCautions extends LitElement {
  static override styles = [
    controls,
    css`
      summary {
        min-height: var(--lb-target);
        line-height: var(--lb-target);
        cursor: pointer;
        font-weight: 600;
      }
      ul {
        margin: 0;
        padding-inline-start: 1.2em;
      }
    `,
  ];

  protected override render(): TemplateResult {
    return html`<details>
      <summary>${t('caution.heading')}</summary>
      <ul class="small">
        <li>${t('caution.children')}</li>
        <li>${t('caution.neck')}</li>
        <li>${t('caution.nickel')}</li>
        <li>${t('caution.hands')}</li>
        <li>${t('caution.local')}</li>
      </ul>
    </details>`;
  }
}
