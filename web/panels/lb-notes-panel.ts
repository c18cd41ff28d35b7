/** What the makers want to remember about the board, as free text that several write. */
import { css, html, type TemplateResult } from 'lit';
import type { TextPlace } from '../../engine/document/index.ts';
import { controls, panelStyles } from '../styles/index.ts';
import { t } from '../text/index.ts';
import { Panel } from './panel.ts';

const NOTES: TextPlace = { of: 'notes' };

export class LbNotesPanel extends Panel {
  static override styles = [
    controls,
    panelStyles,
    css`
      lb-text-field {
        --text-height: 16rem;
      }
    `,
  ];

  protected override render(): TemplateResult {
    return html`
      <h2>${t('panels.notes')}</h2>
      <p class="quiet">${t('notes.purpose')}</p>
      <lb-text-field
        .design=${this.design}
        .place=${NOTES}
        .label=${t('panels.notes')}
        .placeholder=${t('notes.placeholder')}
        ?disabled=${!this.canEdit}
      ></lb-text-field>
    `;
  }
}
