/** What to have ready for a lesson: cords with their lengths, ring, tape, scissors. Rule R41. */
import { css, html, LitElement, type TemplateResult } from 'lit';
import { property } from 'lit/decorators.js';
import { type Board, cutListOf } from '../../engine/index.ts';
import { controls } from '../styles/index.ts';
import { spoken, t } from '../text/index.ts';
import { formatCut, readUnit } from '../units/index.ts';
import { orRefusal } from '../words/index.ts';
import { PlanReader, planPending } from '../worker/index.ts';
import { cordsOf } from '../table/index.ts';

@spoken
export class LbLessonReady extends LitElement {
  static override styles = [
    controls,
    css`
      :host {
        display: block;
      }
      ul {
        display: grid;
        gap: var(--lb-space-1);
        margin: 0;
        padding: 0;
        list-style: none;
      }
      li {
        display: flex;
        align-items: center;
        gap: var(--lb-space-2);
      }
      .swatch {
        width: 1.5rem;
        height: 1.5rem;
        border: 1px solid var(--lb-line-strong);
        border-radius: 4px;
        forced-color-adjust: none;
      }
    `,
  ];

  @property({ attribute: false }) board!: Board;
  readonly #plans = new PlanReader(this);

  protected override render(): TemplateResult {
    return html`<h2>${t('lesson.ready')}</h2>
      ${this.#renderCords()}
      <p>${t('lesson.readyBeside')}</p>`;
  }

  #renderCords(): TemplateResult {
    const state = this.#plans.stateOf(this.board);
    if (state.kind !== 'found') return planPending(state);
    const list = orRefusal(() => cutListOf(this.board, state.plan));
    if (!list.ok) return html`<p class="warn" role="alert">${t('panels.range', { why: list.why })}</p>`;
    const unit = readUnit();
    return html`<ul>${cordsOf(list.value).map(({ colour, cutMm }) => {
      const { name, hex } = this.board.palette.find(({ id }) => id === colour) ?? {
        name: colour,
        hex: '#808080',
      };
      return html`<li><span class="swatch" style="background: ${hex}"></span><b>${formatCut(cutMm, unit)}</b> ${name.trim() || hex}</li>`;
    })}</ul>`;
  }
}
