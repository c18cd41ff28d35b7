/** In which order to put which colour on the ring, and whether the back stays neat; without one, how the band begins. */
import { css, html, type TemplateResult } from 'lit';
import { property, state } from 'lit/decorators.js';
import { type Fold, isHung, type MountPlan } from '../../engine/index.ts';
import { LightEvent } from '../board/index.ts';
import { fetchPart, type MissingKind, missingPart } from '../parts/index.ts';
import { controls } from '../styles/index.ts';
import { t } from '../text/index.ts';
import { PlanReader, planPending } from '../worker/index.ts';
import { entryMark } from './entry-mark.ts';
import { firstHalfField } from './first-half-field.ts';
import { Panel } from './panel.ts';
import type { WorkPlace } from './work-place.ts';

export { LbCautions } from './lb-cautions.ts';
export { LbMountSteps } from './lb-mount-steps.ts';
export { LbWaysOut } from './lb-ways-out.ts';

export class LbMountingPanel extends Panel {
  static override styles = [
    controls,
    css`
      :host {
        display: grid;
        gap: var(--lb-space-3);
      }
      ol,
      ul {
        margin: 0;
        padding: 0;
        list-style: none;
        display: grid;
        gap: 2px;
      }
      li {
        display: grid;
        grid-template-columns: 2em 1.4em minmax(0, 1fr) auto;
        align-items: baseline;
        padding: var(--lb-space-1) var(--lb-space-2);
        border-radius: var(--lb-radius-small);
      }
      .faults li {
        grid-template-columns: 1.4em minmax(0, 1fr);
      }
      li:hover,
      li:focus-visible {
        background: var(--lb-sunken);
      }
      .pointed {
        background: var(--lb-sunken);
        outline: 2px solid var(--lb-accent);
      }
      .field {
        display: flex;
        align-items: center;
        gap: var(--lb-space-2);
      }
      .note {
        display: block;
      }
      li .turn {
        font-weight: 700;
        font-variant-numeric: tabular-nums;
      }
    `,
  ];

  /** Null where it is not chosen on which side one begins: in a set all begin as on the board. */
  @property({ attribute: false }) place: WorkPlace | null = null;
  /** Why what is shown without a ring is not there; null = it is, or is on its way. */
  @state() private missing: MissingKind | null = null;
  readonly #plans = new PlanReader(this);

  protected override onBoard(): void {
    if (!isHung(this.board.piece)) void this.#fetchBeginning();
  }

  /** It tells lengths, and comes with the list that has them. Rule B280. */
  async #fetchBeginning(): Promise<void> {
    const fetched = await fetchPart('panel-cutting');
    this.missing = fetched.ok ? null : fetched.error.kind;
  }

  protected override render(): TemplateResult {
    if (!isHung(this.board.piece))
      return this.missing === null
        ? html`<lb-beginning></lb-beginning>`
        : missingPart(this.missing, () => this.#fetchBeginning());
    const state = this.#plans.stateOf(this.board);
    return html`<h2>${t('mount.heading')}</h2>
      <p class="quiet">${t('mount.purpose')}</p>
      ${state.kind === 'found' ? this.#renderPlan(state.plan) : planPending(state)}`;
  }

  #renderPlan(plan: MountPlan): TemplateResult {
    const { pattern, palette } = this.board;
    const entries = new Map(palette.map((colour) => [colour.id, colour]));
    const nameOf = (id: string): string => entries.get(id)?.name || id;
    const colourAt = (place: number): string => pattern.colours[place]!;
    // Every string serves the same place from both sides, so the order is simply from the outside in.
    const isMirrored = plan.folds.every(({ left, right }) => left + right === pattern.colours.length - 1);
    const steps = [...plan.folds].sort((a, b) => a.turn - b.turn);
    return html`
      ${
        plan.neat
          ? html`<p class="good" role="status">${t(isMirrored && plan.singles.length === 0 ? 'mount.neatMirrored' : 'mount.neat')}</p>`
          : html`<p class="warn" role="status">${t('mount.notNeat', { count: plan.crossings.length })}</p>
              <ul class="faults">
                ${plan.faults.map(({ folds: [a, b], colour }) =>
                  this.#renderFault(plan.folds[a]!, plan.folds[b]!, nameOf(colour)),
                )}
              </ul>`
      }
      ${
        plan.singles.length === 0
          ? ''
          : html`<p tabindex="0" data-strings=${plan.singles.join(' ')} @pointerenter=${() => this.light({ strings: plan.singles })} @pointerleave=${() => this.light(null)} @focus=${() => this.light({ strings: plan.singles })} @blur=${() => this.light(null)}>${t(
              'mount.singles',
              {
                count: plan.singles.length,
                places: plan.singles
                  .map((p) => `${nameOf(colourAt(p))}, ${t('mount.place', { place: p + 1 })}`)
                  .join('; '),
              },
            )}</p>`
      }
      ${this.#renderRule(plan)}
      <lb-mount-steps .board=${this.board} .plan=${plan}></lb-mount-steps>
      ${
        steps.length === 0
          ? ''
          : html`${steps.length === 1 || this.place === null ? '' : firstHalfField(this.place, () => this.requestUpdate())}
              <p class="quiet">${t('mount.order')}</p>
              <ol>
                ${steps.map((fold) => this.#renderStep(fold, nameOf(colourAt(fold.left)), entries.get(colourAt(fold.left))?.hex ?? ''))}
              </ol>`
      }
      <p class="quiet small">${t('mount.check')}</p>
      ${plan.neat ? '' : html`<lb-ways-out></lb-ways-out>`}
    `;
  }

  /** That more strings than need be are mounted with one long end, and the way back. */
  #renderRule({ neat }: MountPlan): TemplateResult | '' {
    if (this.board.piece.singles !== 'free' || !neat) return '';
    return html`<p class="small">
      ${t('mount.freeSingles')}
      <button ?disabled=${!this.canEdit} @click=${() => this.run({ kind: 'set-piece', patch: { singles: null } })}>${t('mount.foldAll')}</button>
    </p>`;
  }

  #renderFault(first: Fold, second: Fold, colour: string): TemplateResult {
    const folds = [first, second];
    const strings = folds.flatMap(({ left, right }) => [left, right]);
    const light = (): void => this.light({ strings, folds });
    const dark = (): void => this.light(null);
    return html`<li tabindex="0" data-strings=${strings.join(' ')} @pointerenter=${light} @pointerleave=${dark} @focus=${light} @blur=${dark}>
      <span class="turn warn" aria-hidden="true">×</span>
      <span>${t('mount.crossing', { first: first.turn, second: second.turn, colour })}</span>
    </li>`;
  }

  #renderStep(fold: Fold, colour: string, hex: string): TemplateResult {
    const light = (): void => {
      this.dispatchEvent(new LightEvent({ strings: [fold.left, fold.right], folds: [fold] }));
    };
    const dark = (): void => {
      this.dispatchEvent(new LightEvent(null));
    };
    const between = fold.right - fold.left - 1;
    return html`<li tabindex="0" data-strings="${fold.left} ${fold.right}" @pointerenter=${light} @pointerleave=${dark} @focus=${light} @blur=${dark}>
      <span class="turn">${fold.turn}</span>
      <span class="swatch" style="background: ${hex}"></span>
      <span>
        ${t('mount.step', { colour, left: fold.left + 1, right: fold.right + 1 })}
        <span class="quiet small note">${between === 0 ? t('mount.side') : t('mount.spread', { count: between })}</span>
      </span>
      ${entryMark('mounting', { on: 'strings', left: fold.left, right: fold.right })}
    </li>`;
  }
}
