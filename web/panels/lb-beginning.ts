/** How a band without a ring begins: what hands do, and in which order its strings lie. Rule B280. */
import { css, html, type TemplateResult } from 'lit';
import { controls } from '../styles/index.ts';
import { t } from '../text/index.ts';
import { readUnit } from '../units/index.ts';
import { orRefusal, type PlaceRun, placeRuns, sayBeginning, sayPlaces } from '../words/index.ts';
import { Panel } from './panel.ts';

export class LbBeginning extends Panel {
  static override styles = [
    controls,
    css`
      :host {
        display: grid;
        gap: var(--lb-space-3);
      }
      ol {
        margin: 0;
        padding: 0;
        list-style: none;
        display: grid;
        gap: 2px;
      }
      li {
        display: grid;
        grid-template-columns: 1.4em minmax(0, 1fr);
        align-items: baseline;
        padding: var(--lb-space-1) var(--lb-space-2);
        border-radius: var(--lb-radius-small);
      }
      li:hover,
      li:focus-visible {
        background: var(--lb-sunken);
      }
      .pointed {
        background: var(--lb-sunken);
        outline: 2px solid var(--lb-accent);
      }
    `,
  ];

  protected override render(): TemplateResult {
    const { board } = this;
    const said = orRefusal(() => sayBeginning(board, readUnit()));
    return html`<h2>${t('panels.beginning')}</h2>
      <p class="quiet">${t('begin.purpose')}</p>
      ${said.ok ? html`<p>${said.value}</p>` : html`<p class="warn" role="alert">${t('panels.range', { why: said.why })}</p>`}
      <ol>${placeRuns(board.pattern.colours).map((run) => this.#renderRun(run))}</ol>
      <p class="quiet small">${t('begin.check')}</p>`;
  }

  #renderRun(run: PlaceRun): TemplateResult {
    const strings = Array.from({ length: run.to - run.from + 1 }, (_, i) => run.from + i);
    const light = (): void => this.light({ strings });
    const dark = (): void => this.light(null);
    return html`<li tabindex="0" data-strings=${strings.join(' ')} @pointerenter=${light} @pointerleave=${dark} @focus=${light} @blur=${dark}>
      <span class="swatch" style="background: ${this.hexOf(run.colour)}"></span>
      <span>${sayPlaces(run, this.nameOf(run.colour))}</span>
    </li>`;
  }
}
