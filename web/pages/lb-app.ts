/** Shows the page that the address names: `/` the start page, `/board/<id>` a board. */
import { html, LitElement, type TemplateResult } from 'lit';
import { state } from 'lit/decorators.js';

/** Goes to another page without loading everything anew. */
export function goTo(path: string): void {
  history.pushState(null, '', path);
  dispatchEvent(new PopStateEvent('popstate'));
}

export class LbApp extends LitElement {
  @state() private path = location.pathname;
  readonly #onMove = (): void => {
    this.path = location.pathname;
  };

  override connectedCallback(): void {
    super.connectedCallback();
    addEventListener('popstate', this.#onMove);
  }

  override disconnectedCallback(): void {
    removeEventListener('popstate', this.#onMove);
    super.disconnectedCallback();
  }

  protected override render(): TemplateResult {
    const board = /^\/board\/([\w-]+)\/?$/.exec(this.path);
    return board
      ? html`<lb-board-page .boardId=${board[1]!}></lb-board-page>`
      : html`<lb-start-page></lb-start-page>`;
  }
}
