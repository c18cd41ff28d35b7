/**
 * What a maker begins with, over the lower edge of the board: on an empty one three beginnings, one click each; on the very first one the
 * first steps as well. What lies below it can be tied, and with the first knot the beginnings are gone.
 */
import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { state } from 'lit/decorators.js';
import { type Command, LATER_COMMANDS } from '../../engine/document/index.ts';
import { type LbBoard, RefusedEvent, type ShownBoard, shownBoard } from '../board/index.ts';
import { Consumer } from '../context/index.ts';
import { usePart } from '../parts/index.ts';
import { controls } from '../styles/index.ts';
import { spoken, t } from '../text/index.ts';
import { sayError } from '../words/index.ts';
import type { MakeBoardsEvent } from './begin-events.ts';
import { isEmptyBoard, type Offered, offeredFor } from './empty-board.ts';
import { hasFirstSteps } from './first-visit.ts';

/** @fires lb-refused The pattern could not be taken, with the reason. */
@spoken
export class LbBegin extends LitElement {
  static override styles = [
    controls,
    css`
      :host {
        display: block;
        pointer-events: none;
      }
      section {
        display: grid;
        grid-template-columns: auto repeat(3, minmax(0, 120px)) auto auto;
        gap: var(--lb-space-2) var(--lb-space-3);
        align-items: center;
        padding: var(--lb-space-2) var(--lb-space-4);
        border-block-start: 1px solid var(--lb-line);
        background: color-mix(in srgb, var(--lb-surface) 94%, transparent);
        font-size: var(--lb-size-small);
      }
      h2 {
        max-width: 15ch;
        font-size: var(--lb-size-body);
      }
      .hint {
        grid-column: 1 / -1;
      }
      button {
        pointer-events: auto;
      }
      .one {
        display: grid;
        gap: 2px;
        padding: 3px 3px 5px;
        min-width: 0;
        font-weight: 600;
        line-height: 1.2;
        overflow: hidden;
      }
      lb-band-picture {
        height: 64px;
        border-radius: 3px;
        background: var(--lb-sunken);
      }
      .close {
        justify-self: end;
        padding: 0;
        border-color: transparent;
        background: transparent;
      }
      @media (max-width: 860px) {
        section {
          grid-template-columns: repeat(3, minmax(0, 1fr)) auto;
          gap: var(--lb-space-1) var(--lb-space-2);
          padding: var(--lb-space-1) var(--lb-space-2);
        }
        h2 {
          grid-column: 1 / 4;
          max-width: none;
        }
        .close {
          grid-area: 1 / 4;
        }
        .one {
          grid-row: 2;
        }
        .from {
          grid-area: 3 / 1 / auto / -1;
        }
        .one:last-of-type {
          grid-column: 3 / -1;
        }
        lb-band-picture {
          height: 44px;
        }
        /* One thing at a time. */
        section + lb-first-steps {
          display: none;
        }
      }
      @media (max-height: 500px) {
        .hint {
          display: none;
        }
      }
    `,
  ];

  @state() private offered: readonly Offered[] = [];
  @state() private isLeft = false;
  @state() private hasSteps = false;
  @state() private hasSources = false;
  readonly #shown = new Consumer(this, shownBoard, (shown, before) => this.#onShown(shown, before));

  protected override render(): TemplateResult {
    return html`${this.offered.length > 0 && !this.isLeft ? this.#renderOffered() : nothing}
      ${this.hasSteps && this.#shown.value?.canEdit === true ? html`<lb-first-steps @lb-first-end=${this.#onFirstEnd}></lb-first-steps>` : nothing}`;
  }

  #renderOffered(): TemplateResult {
    return html`<section aria-labelledby="begin">
      <h2 id="begin">${t('figure.heading')}</h2>
      ${this.offered.map(
        (one) => html`<button class="one" data-kind=${one.kind} @click=${() => this.#take(one)}>
          <lb-band-picture .board=${one.board} aria-hidden="true"></lb-band-picture>
          <span>${t(`figure.kind.${one.kind}`)}</span>
        </button>`,
      )}
      <button class="from" @click=${this.#onSources}>${t('fromImage.short')}</button>
      <button class="close" aria-label=${t('figure.close')} title=${t('figure.close')} @click=${this.#onClose}>×</button>
      <p class="hint quiet">${t('figure.byHand')}</p>
    </section>
    ${this.hasSources ? html`<lb-sources @lb-make-boards=${this.#onMake}></lb-sources>` : nothing}`;
  }

  #onShown(shown: ShownBoard | null, before: ShownBoard | null): void {
    if (shown?.design !== before?.design) this.isLeft = false;
    const isOffered = shown?.canEdit === true && isEmptyBoard(shown.board);
    this.offered = isOffered ? offeredFor(shown.board) : [];
    if (shown?.canEdit === true && !this.hasSteps && hasFirstSteps())
      void usePart(
        'first-steps',
        () => {
          this.hasSteps = hasFirstSteps();
        },
        true,
      );
  }

  #take({ kind, board }: Offered): void {
    this.#lay({ kind: 'replace-pattern', pattern: board.pattern }, t(`figure.kind.${kind}`));
  }

  /** One step of undo. */
  #lay(command: Command, name: string): void {
    const { design } = this.#shown.value ?? {};
    if (design === undefined) return;
    design.giveCommands(LATER_COMMANDS);
    const result = design.run(command);
    if (!result.ok) {
      this.dispatchEvent(new RefusedEvent(sayError(result.error)));
      return;
    }
    const near = this.parentElement as LbBoard;
    near.say(t('figure.laid', { name }));
    near.focusCell();
  }

  readonly #onSources = (): unknown =>
    usePart('sources', async () => {
      const { board } = this.#shown.value ?? {};
      if (board === undefined) return;
      this.hasSources = true;
      await this.updateComplete;
      this.renderRoot.querySelector('lb-sources')?.show('letters', board.pattern.colours.length);
    });

  /** What was made takes the place of the empty board. */
  readonly #onMake = (event: MakeBoardsEvent): void => {
    event.stopPropagation();
    void usePart('sources', ({ loadBoard }) => this.#lay(loadBoard(event.boards[0]!), t('fromImage.short')));
  };

  readonly #onClose = (): void => {
    this.isLeft = true;
    (this.parentElement as LbBoard).focusCell();
  };

  readonly #onFirstEnd = (): void => {
    this.hasSteps = false;
  };
}
