/**
 * Boards that show what is wished for, side by side: each as a finished keychain, under which condition it is had, how much of the wish it shows and what it comes to.
 *
 * @fires lb-answer-look One of them is looked at: what it can't show is marked on the wish.
 * @fires lb-answer-take One of them is to be tied.
 */
import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { property } from 'lit/decorators.js';
import { type Board, planAtOnce } from '../../engine/index.ts';
import { type FinishedModel, finishedModelOf } from '../board/index.ts';
import { controls } from '../styles/index.ts';
import { spoken, t } from '../text/index.ts';
import type { WishAnswer } from '../worker/index.ts';
import { AnswerEvent } from './answer-event.ts';
import { sayChanges, sayCost, sayKind, sayShown, splitAnswers } from './say-answer.ts';

@spoken
export class LbWishAnswers extends LitElement {
  static override styles = [
    controls,
    css`
      :host {
        display: block;
      }
      ul {
        display: grid;
        grid-template-columns: repeat(auto-fill, minmax(150px, 1fr));
        gap: var(--lb-space-3);
        margin: 0;
        padding: 0;
        list-style: none;
      }
      li {
        display: flex;
        flex-direction: column;
        gap: var(--lb-space-2);
        min-width: 0;
      }
      .look {
        display: grid;
        gap: 2px;
        padding: var(--lb-space-2);
        line-height: 1.3;
        text-align: start;
        justify-items: stretch;
        flex: 1;
        align-content: start;
      }
      .look[aria-pressed='true'],
      .look[aria-pressed='true']:hover:not(:disabled) {
        background: var(--lb-surface);
        color: var(--lb-text);
        border-color: var(--lb-accent);
        box-shadow: inset 0 0 0 2px var(--lb-accent);
      }
      lb-keychain {
        height: 170px;
      }
      .idle {
        margin-block-start: var(--lb-space-3);
      }
      .cost {
        color: var(--lb-text-quiet);
        font-size: var(--lb-size-small);
      }
    `,
  ];

  /** The board as it is, whose names of colours are spoken. */
  @property({ attribute: false }) board!: Board;
  @property({ attribute: false }) answers: readonly WishAnswer[] = [];
  @property({ attribute: false }) looked: WishAnswer | null = null;
  readonly #models = new WeakMap<WishAnswer, FinishedModel>();

  protected override render(): TemplateResult | typeof nothing {
    if (this.answers.length === 0) return nothing;
    const { offered, idle } = splitAnswers(this.answers);
    const kinds = idle.map((answer) => sayKind(answer, this.board)).join(', ');
    return html`<ul aria-label=${t('wish.answers')}>${offered.map((answer) => this.#renderOne(answer))}</ul>
      ${idle.length === 0 ? nothing : html`<p class="idle quiet small">${t('wish.noMore', { kinds })}</p>`}`;
  }

  #renderOne(answer: WishAnswer): TemplateResult {
    const kind = sayKind(answer, this.board);
    const isAll = answer.wrongCells.length === 0;
    return html`<li data-kind=${answer.kind}>
      <button class="look" aria-pressed=${answer === this.looked} @click=${() => this.dispatchEvent(new AnswerEvent('lb-answer-look', answer))}>
        <lb-keychain .model=${this.#modelOf(answer)}></lb-keychain>
        <b>${kind}</b>
        <span class=${isAll ? 'good' : ''}>${sayShown(answer)}</span>
        ${answer.changed === null ? nothing : html`<span class="changes">${sayChanges(answer)}</span>`}
        <span class="cost">${sayCost(answer)}</span>
      </button>
      <button class="take primary" aria-label=${t('wish.takeThis', { kind })} @click=${() => this.dispatchEvent(new AnswerEvent('lb-answer-take', answer))}>${t('wish.take')}</button>
    </li>`;
  }

  #modelOf(answer: WishAnswer): FinishedModel {
    const { board } = answer;
    const model = this.#models.get(answer) ?? finishedModelOf(board, planAtOnce(board.pattern.colours));
    this.#models.set(answer, model);
    return model;
  }
}
