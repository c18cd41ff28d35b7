/** Says that words are written nowhere, and gives them back: to be copied, or let go. */
import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { state } from 'lit/decorators.js';
import { controls } from '../styles/index.ts';
import { spoken, t } from '../text/index.ts';
import { leftWords, letWords } from './left-words.ts';
import { sayProblem } from './say-text.ts';
import type { TextInHand } from './text-in-hand.ts';

/** The one of these that stands in the page. */
@spoken
export class LbLeftWords extends LitElement {
  static override styles = [
    controls,
    css`
      :host {
        display: contents;
      }
      .left {
        max-width: 48ch;
        padding: var(--lb-space-2) var(--lb-space-3);
        border: 1px solid var(--lb-line-strong);
        border-inline-start: 4px solid var(--lb-warn);
        border-radius: var(--lb-radius);
        background: var(--lb-surface);
        box-shadow: var(--lb-shadow);
      }
      summary {
        min-height: 24px;
        cursor: pointer;
      }
      blockquote {
        max-height: 6em;
        margin: var(--lb-space-2) 0;
        overflow: auto;
        white-space: pre-wrap;
        overflow-wrap: anywhere;
      }
      .actions {
        display: flex;
        flex-wrap: wrap;
        gap: var(--lb-space-2);
        align-items: center;
      }
    `,
  ];

  /** What came of copying, by the words that were to be copied. */
  @state() private copied: { readonly text: string; readonly isDone: boolean } | null = null;
  #stop: (() => void) | null = null;

  override connectedCallback(): void {
    super.connectedCallback();
    this.#stop = leftWords().subscribe(() => this.requestUpdate());
    this.requestUpdate();
  }

  override disconnectedCallback(): void {
    this.#stop?.();
    super.disconnectedCallback();
  }

  protected override render(): TemplateResult {
    return html`${leftWords().value.map((hand) => this.#renderOne(hand))}`;
  }

  #renderOne(hand: TextInHand): TemplateResult | typeof nothing {
    const { problem, text, label } = hand;
    if (problem === null) return nothing;
    const { copied } = this;
    const isAbout = copied?.text === text;
    // Where there is a field to go back to, it takes a line and no more: it lies over the foot of the page.
    return html`<details class="left" ?open=${problem.kind === 'gone'}>
      <summary><span role="status"><b>${label}</b>: ${sayProblem(problem)}</span></summary>
      <blockquote dir="auto" tabindex="0" aria-label=${t('writing.yours')}>${text}</blockquote>
      <div class="actions">
        <button class="primary" @click=${() => this.#copy(text)}>${t('writing.copy')}</button>
        <button @click=${() => letWords(hand)}>${t('writing.letGo')}</button>
        <span class="small ${copied?.isDone ? 'good' : 'warn'}" role="status">${isAbout ? t(copied.isDone ? 'writing.copied' : 'writing.notCopied') : ''}</span>
      </div>
    </details>`;
  }

  /** Where the browser keeps its clipboard to itself, the words can be marked and copied by hand. */
  async #copy(text: string): Promise<void> {
    const isDone = await Promise.resolve()
      .then(() => navigator.clipboard.writeText(text))
      .then(
        () => true,
        () => false,
      );
    this.copied = { text, isDone };
  }
}
