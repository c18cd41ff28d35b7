/** The arc diagram, drawn string by string in the order in which they go on the bar. */
import { css, html, LitElement, nothing, type PropertyValues, type TemplateResult } from 'lit';
import { property, state } from 'lit/decorators.js';
import type { Board, MountPlan } from '../../engine/index.ts';
import { LightEvent } from '../board/index.ts';
import { Consumer } from '../context/index.ts';
import { controls } from '../styles/index.ts';
import { pageHandles } from '../talk/index.ts';
import { spoken, t } from '../text/index.ts';
import { mountDiagram } from './mount-diagram.ts';

/** Time for one string while playing. */
const PLAY_MS = 900;
/** With more places the diagram is wider than a panel, and scrolls. */
const MOST_IN_SIGHT = 22;

/** @fires lb-light The two ends of the string that is pointed at or was put on last. */
@spoken
export class LbMountSteps extends LitElement {
  static override styles = [
    controls,
    css`
      :host {
        display: grid;
        gap: var(--lb-space-2);
      }
      .scroll {
        overflow-x: auto;
        border: 1px solid var(--lb-line);
        border-radius: var(--lb-radius);
        background: var(--lb-page);
        padding: var(--lb-space-2);
      }
      svg {
        display: block;
        width: 100%;
        min-width: var(--needs);
        max-height: 260px;
        max-width: var(--most);
        margin-inline: auto;
      }
      .steps {
        display: flex;
        flex-wrap: wrap;
        gap: var(--lb-space-2);
        align-items: center;
      }
      .steps .state {
        flex: 1;
        text-align: center;
        font-variant-numeric: tabular-nums;
      }
      @media (prefers-reduced-motion: no-preference) {
        .last .cord {
          stroke-dasharray: 1;
          animation: lay 600ms ease-out;
        }
      }
      @keyframes lay {
        from {
          stroke-dashoffset: 1;
        }
        to {
          stroke-dashoffset: 0;
        }
      }
      @media (forced-colors: active) {
        .cord {
          forced-color-adjust: none;
        }
      }
    `,
  ];

  @property({ attribute: false }) board!: Board;
  @property({ attribute: false }) plan!: MountPlan;
  /** Strings on the bar; null while the maker has not stepped: all of them. */
  @state() private shown: number | null = null;
  @state() private isPlaying = false;
  #timer: ReturnType<typeof setTimeout> | undefined;
  readonly #handles = new Consumer(this, pageHandles);

  override disconnectedCallback(): void {
    // No event reaches the page from here any more.
    if (this.isPlaying) this.#handles.value?.lit.set(null);
    this.#pause();
    super.disconnectedCallback();
  }

  protected override willUpdate(changed: PropertyValues<this>): void {
    const most = this.plan.folds.length;
    if (changed.has('plan') && this.shown !== null && this.shown > most) this.shown = most;
  }

  protected override render(): TemplateResult {
    const { plan, board } = this;
    const count = plan.folds.length;
    const strings = board.pattern.colours.length;
    const shown = this.shown ?? count;
    const hexOf = new Map(board.palette.map(({ id, hex }) => [id, hex]));
    return html`
      <div class="scroll" tabindex=${strings > MOST_IN_SIGHT ? 0 : nothing} role="group" aria-label=${t('mount.heading')} style="--needs: ${strings * 13}px; --most: ${strings * 28 + 28}px">
        ${mountDiagram(plan, {
          label: t('mount.diagram'),
          hexes: board.pattern.colours.map((id) => hexOf.get(id) ?? ''),
          shown,
          onPoint: (fold) => this.#light(fold === null ? null : (plan.folds[fold]?.turn ?? null)),
        })}
      </div>
      <div class="steps">
        <button class="back" aria-label=${t('mount.stepBack')} title=${t('mount.stepBack')} ?disabled=${shown === 0} @click=${() => this.#go(shown - 1)}>−</button>
        <span class="state small" role="status">${shown === 0 ? t('mount.diagramNone') : t('mount.diagramStep', { turn: shown, count })}</span>
        <button class="on" aria-label=${t('mount.stepOn')} title=${t('mount.stepOn')} ?disabled=${shown === count} @click=${() => this.#go(shown + 1)}>+</button>
        <button class="play" ?disabled=${count === 0} @click=${() => (this.isPlaying ? this.#pause() : this.#play())}>${t(this.isPlaying ? 'mount.pause' : 'mount.play')}</button>
      </div>
    `;
  }

  #light(turn: number | null): void {
    const fold = this.plan.folds.find((one) => one.turn === turn);
    this.dispatchEvent(
      new LightEvent(fold === undefined ? null : { strings: [fold.left, fold.right], folds: [fold] }),
    );
  }

  #go(shown: number): void {
    this.#pause();
    this.#show(shown);
  }

  #show(shown: number): void {
    this.shown = shown;
    this.#light(shown);
  }

  #play(): void {
    this.isPlaying = true;
    this.#show(0);
    this.#next();
  }

  #next(): void {
    this.#timer = setTimeout(() => {
      const shown = (this.shown ?? 0) + 1;
      if (shown > this.plan.folds.length) {
        this.#pause();
        return;
      }
      this.#show(shown);
      this.#next();
    }, PLAY_MS);
  }

  #pause(): void {
    clearTimeout(this.#timer);
    if (this.isPlaying) this.#light(null);
    this.isPlaying = false;
  }
}
