/** A beginning as a finished keychain on its ring, with its name and what it comes to. */
import { css, html, LitElement, type PropertyValues, type TemplateResult } from 'lit';
import { property } from 'lit/decorators.js';
import { type Board, planAtOnce } from '../../engine/index.ts';
import { type FinishedModel, finishedModelOf } from '../board/index.ts';

export class LbStartCard extends LitElement {
  static override styles = css`
    :host {
      display: grid;
      gap: 2px;
      min-width: 0;
      line-height: 1.3;
      text-align: start;
    }
    lb-keychain {
      height: var(--lb-start-picture, 190px);
    }
    b {
      font-weight: 650;
    }
    span {
      color: var(--lb-text-quiet);
      font-size: var(--lb-size-small);
    }
  `;

  @property({ attribute: false }) board!: Board;
  @property() name = '';
  /** What it comes to; empty while that is being worked out. */
  @property() line = '';
  #model: FinishedModel | null = null;

  protected override willUpdate(changed: PropertyValues<this>): void {
    if (changed.has('board'))
      this.#model = finishedModelOf(this.board, planAtOnce(this.board.pattern.colours));
  }

  protected override render(): TemplateResult {
    return html`<lb-keychain .model=${this.#model}></lb-keychain><b>${this.name}</b><span>${this.line}</span>`;
  }
}
