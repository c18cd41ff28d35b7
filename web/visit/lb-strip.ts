/**
 * A sentence that lies over the board: nothing moves for it, and what is below can be tied through it. It stays until it is closed or another
 * is to be said. Whoever listens hears it from the sign in the header.
 */
import { css, html, LitElement, nothing, type PropertyValues, type TemplateResult } from 'lit';
import { property, state } from 'lit/decorators.js';
import { controls } from '../styles/index.ts';
import { spoken, t } from '../text/index.ts';

@spoken
export class LbStrip extends LitElement {
  static override styles = [
    controls,
    css`
      :host {
        position: absolute;
        inset-block-start: 0;
        inset-inline: 0;
        z-index: 2;
        pointer-events: none;
      }
      p {
        display: flex;
        align-items: center;
        justify-content: space-between;
        gap: var(--lb-space-2);
        min-height: 36px;
        padding-inline: var(--lb-space-3) 0;
        border-inline-start: 4px solid var(--lb-warn);
        background: var(--lb-sunken);
        color: var(--lb-warn);
        font-size: var(--lb-size-small);
        font-weight: 600;
        box-shadow: var(--lb-shadow);
      }
      button {
        border-color: transparent;
        background: transparent;
        color: inherit;
        pointer-events: auto;
      }
    `,
  ];

  /** Empty = nothing. */
  @property({ attribute: false }) said = '';
  /** What was closed, until something else is to be said. */
  @state() private closed = '';

  protected override willUpdate(changed: PropertyValues<this>): void {
    if (changed.has('said')) this.closed = '';
  }

  protected override render(): TemplateResult | typeof nothing {
    if (this.said === '' || this.said === this.closed) return nothing;
    return html`<p>
      <span aria-hidden="true">${this.said}</span>
      <button @click=${this.#onClose} aria-label=${t('app.close')}>×</button>
    </p>`;
  }

  readonly #onClose = (): void => {
    this.closed = this.said;
  };
}
