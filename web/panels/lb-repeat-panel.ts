/** How the band looks several repeats long, and when it recurs. */
import { css, html, type TemplateResult } from 'lit';
import { repeatCycle } from '../../engine/index.ts';
import { controls } from '../styles/index.ts';
import { t } from '../text/index.ts';
import { Panel } from './panel.ts';

export class LbRepeatPanel extends Panel {
  static override styles = [
    controls,
    css`
      :host {
        display: grid;
        gap: var(--lb-space-2);
      }
      lb-band-picture {
        height: 320px;
        background: var(--lb-sunken);
        border-radius: var(--lb-radius);
        padding: var(--lb-space-2);
      }
    `,
  ];

  protected override render(): TemplateResult {
    const { strings, colours } = repeatCycle(this.board.pattern);
    return html`
      <h2>${t('repeat.heading')}</h2>
      <lb-band-picture role="img" aria-label=${t('repeat.picture')} .board=${this.board}></lb-band-picture>
      <p class="quiet small">${t('repeat.cycle', { colours, strings })}</p>
    `;
  }
}
