/** What something would make of the board, before it is done: the finished piece before and after, small, what it changes, and how it mounts then. */
import { css, html, LitElement, nothing, type PropertyValues, type TemplateResult } from 'lit';
import { property, state } from 'lit/decorators.js';
import type { Board } from '../../engine/index.ts';
import { type FinishedModel, finishedModelOf, whenIdle } from '../board/index.ts';
import { controls } from '../styles/index.ts';
import { spoken } from '../text/index.ts';
import { planOfBoard, sayOutcome } from './say-outcome.ts';

/** Several that stand beside each other have the same board before. */
const models = new WeakMap<Board, FinishedModel>();

function modelBefore(board: Board): FinishedModel {
  const model = models.get(board) ?? finishedModelOf(board, planOfBoard(board));
  models.set(board, model);
  return model;
}

function isOther(now: readonly unknown[], before?: readonly unknown[]): boolean {
  return now.length !== before?.length || now.some((one, i) => one !== before[i]);
}

@spoken
export class LbOutcome extends LitElement {
  static override styles = [
    controls,
    css`
      :host {
        display: grid;
        grid-template-columns: auto minmax(0, 1fr);
        gap: var(--lb-space-2);
        align-items: center;
        min-height: 124px;
      }
      .pictures {
        display: grid;
        grid-template-columns: 52px 16px 52px;
        align-items: center;
        text-align: center;
      }
      lb-keychain {
        height: 124px;
      }
      p {
        margin: 0;
        font-size: var(--lb-size-small);
      }
    `,
  ];

  @property({ attribute: false }) board!: Board;
  /** What is done, told from others of the same board by identity. */
  @property({ attribute: false, hasChanged: isOther }) way: readonly unknown[] = [];
  /** The board after it; asked once for each way, when it is in sight. */
  @property({ attribute: false, hasChanged: () => false }) make!: (before: Board) => Board;
  /** By what it is told from others beside it; empty where it stands with what it says. */
  @property({ attribute: false }) label = '';
  /** Whether the band stays what it is, and is begun elsewhere. */
  @property({ attribute: false }) isSameBand = false;
  @state() private found: {
    readonly now: FinishedModel;
    readonly then: FinishedModel;
    readonly before: Board;
  } | null = null;
  #sight: IntersectionObserver | null = null;
  #isSeen = false;
  #isStale = false;
  #takeBack: (() => void) | null = null;

  override connectedCallback(): void {
    super.connectedCallback();
    this.#sight = new IntersectionObserver((entries) => {
      this.#isSeen = entries.at(-1)?.isIntersecting ?? false;
      this.#later();
    });
    this.#sight.observe(this);
  }

  override disconnectedCallback(): void {
    this.#sight?.disconnect();
    this.#takeBack?.();
    this.#takeBack = null;
    super.disconnectedCallback();
  }

  protected override willUpdate(changed: PropertyValues<this>): void {
    if (!changed.has('board') && !changed.has('way')) return;
    this.#isStale = true;
    this.#later();
  }

  protected override render(): TemplateResult {
    const { found, isSameBand } = this;
    const words =
      found === null ? '' : sayOutcome(found.before, found.then.board, found.then.plan, isSameBand);
    return html`<div class="pictures" aria-hidden="true"><lb-keychain .model=${found?.now ?? null}></lb-keychain><span>→</span><lb-keychain .model=${found?.then ?? null}></lb-keychain></div>
      <p>${this.label === '' ? nothing : html`<b>${this.label}</b><br />`}${words}</p>`;
  }

  /** Nobody waits for it: a hand on the board goes first. */
  #later(): void {
    if (!this.#isSeen || !this.#isStale) return;
    this.#takeBack ??= whenIdle(() => {
      this.#takeBack = null;
      this.#isStale = false;
      const before = this.board;
      const after = this.make(before);
      const then = finishedModelOf(after, planOfBoard(after));
      this.found = { now: modelBefore(before), then, before };
    });
  }
}
