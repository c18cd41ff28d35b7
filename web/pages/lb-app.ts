/** Shows the page that the address names: `/` the start page, `/board/<id>` a board. */
import { css, html, LitElement, type TemplateResult } from 'lit';
import { state } from 'lit/decorators.js';
import { isUpdateReady, onUpdateReady, takeUpdate } from '../offline/keep-offline.ts';
import { controls } from '../styles/controls.ts';
import { t } from '../text/index.ts';

/** Goes to another page without loading everything anew. */
export function goTo(path: string): void {
  history.pushState(null, '', path);
  dispatchEvent(new PopStateEvent('popstate'));
}

/** @fires popstate is listened to, so that the browser's own back and forward work. */
export class LbApp extends LitElement {
  static override styles = [
    controls,
    css`
      .update {
        position: fixed;
        inset-block-end: var(--lb-space-4);
        inset-inline-start: var(--lb-space-4);
        z-index: 20;
        display: flex;
        align-items: center;
        gap: var(--lb-space-3);
        padding: var(--lb-space-2) var(--lb-space-3);
        border: 1px solid var(--lb-line-strong);
        border-radius: var(--lb-radius);
        background: var(--lb-surface);
        box-shadow: var(--lb-shadow);
      }
    `,
  ];

  @state() private path = location.pathname;
  readonly #onMove = (): void => {
    this.path = location.pathname;
  };
  #stop: (() => void) | null = null;

  override connectedCallback(): void {
    super.connectedCallback();
    addEventListener('popstate', this.#onMove);
    this.#stop = onUpdateReady(() => this.requestUpdate());
  }

  override disconnectedCallback(): void {
    removeEventListener('popstate', this.#onMove);
    this.#stop?.();
    super.disconnectedCallback();
  }

  protected override render(): TemplateResult {
    const board = /^\/board\/([\w-]+)\/?$/.exec(this.path);
    return html`
      ${board ? html`<lb-board-page .boardId=${board[1]!}></lb-board-page>` : html`<lb-start-page></lb-start-page>`}
      ${isUpdateReady() ? html`<p class="update" role="status">${t('app.update')}<button class="primary" @click=${takeUpdate}>${t('app.reload')}</button></p>` : ''}
    `;
  }
}
