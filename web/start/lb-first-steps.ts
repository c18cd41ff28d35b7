/**
 * What a maker sees on the very first board that they may change: three things to do, each ticked off by doing it.
 *
 * Nothing is in the way meanwhile; leaving it, at any step, is remembered, and it never comes back.
 *
 * @fires lb-first-end When the maker leaves the first steps.
 */
import { css, html, LitElement, type TemplateResult } from 'lit';
import { state } from 'lit/decorators.js';
import { Consumer, Subscriptions } from '../context/index.ts';
import { controls } from '../styles/index.ts';
import { type PageHandles, pageHandles } from '../talk/index.ts';
import { spoken, t } from '../text/index.ts';
import { endFirstSteps } from './first-visit.ts';

const STEPS = ['tie', 'undo', 'point', 'done'] as const;

@spoken
export class LbFirstSteps extends LitElement {
  static override styles = [
    controls,
    css`
      :host {
        display: flex;
        flex-wrap: wrap;
        align-items: center;
        gap: var(--lb-space-2) var(--lb-space-4);
        padding: var(--lb-space-2) var(--lb-space-4);
        border-block-start: 1px solid var(--lb-line);
        border-inline-start: 6px solid var(--lb-accent);
        background: var(--lb-surface);
      }
      p {
        flex: 1 1 24ch;
      }
      button {
        pointer-events: auto;
      }
      .dots {
        display: inline-flex;
        gap: 6px;
      }
      .dots span {
        width: 18px;
        height: 6px;
        border-radius: 3px;
        border: 1px solid var(--lb-line-strong);
      }
      .dots .done {
        background: var(--lb-accent);
        border-color: var(--lb-accent);
      }
      @media (forced-colors: active) {
        .dots .done {
          background: Highlight;
          forced-color-adjust: none;
        }
      }
    `,
  ];

  @state() private at = 0;
  readonly #subscriptions = new Subscriptions(this);

  constructor() {
    super();
    new Consumer(this, pageHandles, (handles) => this.#onHandles(handles));
  }

  protected override render(): TemplateResult {
    const step = STEPS[this.at] ?? 'done';
    const isDone = step === 'done';
    return html`
      <span class="dots" aria-hidden="true">${STEPS.slice(0, -1).map((_, i) => html`<span class=${i < this.at ? 'done' : ''}></span>`)}</span>
      <p role="status">
        <span class="visually-hidden">${t('first.heading')}. ${isDone ? '' : t('first.count', { step: this.at + 1, steps: STEPS.length - 1 })}</span>
        ${t(`first.${step}`)}
      </p>
      <button class=${isDone ? 'primary' : ''} @click=${() => this.#end()}>${t(isDone ? 'first.end' : 'first.skip')}</button>
    `;
  }

  #onHandles(handles: PageHandles | null): void {
    this.#subscriptions.keep();
    if (handles === null) return;
    const { lit } = handles;
    const { design } = handles.session;
    // What is pointed at may be so since before it was asked for.
    const point = (): void => {
      if (lit.value !== null && STEPS[this.at] === 'point') this.at += 1;
    };
    this.#subscriptions.keep(
      design.subscribe((_, change) => {
        const step = STEPS[this.at];
        if (!change.local) return;
        if (step === 'tie' && change.kind === 'knots' && design.canUndo) this.at += 1;
        else if (step === 'undo' && design.canRedo) this.at += 1;
        point();
      }),
      lit.subscribe(point),
    );
    point();
  }

  #end(): void {
    endFirstSteps();
    this.dispatchEvent(new Event('lb-first-end'));
  }
}
