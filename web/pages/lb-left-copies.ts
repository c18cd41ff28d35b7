/** Where a board is gone: what this browser still holds of it, to be saved or forgotten; forgetting asks about keychains under way. */
import { css, html, LitElement, type TemplateResult } from 'lit';
import { property, state } from 'lit/decorators.js';
import { usePart } from '../parts/index.ts';
import { controls } from '../styles/index.ts';
import { countKeychains, forgetKeychains } from '../sync/index.ts';
import { spoken, t } from '../text/index.ts';
import { sayTitle } from '../words/index.ts';
import { type BoardVisit, goTo } from '../visit/index.ts';

type LeftCopy = BoardVisit['left'][number];

@spoken
export class LbLeftCopies extends LitElement {
  static override styles = [
    controls,
    css`
      :host {
        display: grid;
        justify-items: center;
        gap: var(--lb-space-3);
      }
    `,
  ];

  @property({ attribute: false }) boardId = '';
  @property({ attribute: false }) visit!: BoardVisit;
  /** Those of the visit, so that it is rendered with them. */
  @property({ attribute: false }) left: readonly LeftCopy[] = [];
  /** The copy that is to be forgotten, once it is known what becomes of the keychains. */
  @state() private asked: LeftCopy | null = null;

  protected override render(): readonly TemplateResult[] {
    return this.left.map((copy) => {
      const save = (): unknown => usePart('save-file', ({ saveBoardFile }) => saveBoardFile(copy.board));
      return html`<p>${t('gone.left', { title: sayTitle(copy.board) })}</p>
        <button class="primary" @click=${save}>${t('gone.save')}</button>
        ${copy === this.asked ? this.#renderAsk(copy) : html`<button @click=${() => this.#onForget(copy)}>${t('gone.forget')}</button>`}`;
    });
  }

  /** Rule N86. */
  #renderAsk(copy: LeftCopy): TemplateResult {
    const forgetAll = (): void => {
      forgetKeychains(this.boardId);
      this.#forget(copy);
    };
    return html`<p role="alert">${t('gone.keychains', { count: countKeychains(this.boardId) })}</p>
      <button @click=${() => this.#forget(copy)}>${t('gone.keepKeychains')}</button>
      <button @click=${forgetAll}>${t('gone.forgetKeychains')}</button>
      <button @click=${() => goTo(`/board/${this.boardId}/table`)}>${t('gone.seeKeychains')}</button>`;
  }

  #onForget(copy: LeftCopy): void {
    if (countKeychains(this.boardId) > 0) this.asked = copy;
    else this.#forget(copy);
  }

  #forget(copy: LeftCopy): void {
    this.asked = null;
    void this.visit.forgetLeft(copy);
  }
}
