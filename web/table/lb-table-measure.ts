/** Before the end knot: how much hangs of one or two ends, and what that and the pace say of the hand, to be taken over into the gauge. */
import { css, html, LitElement, type PropertyValues, type TemplateResult } from 'lit';
import { property, state } from 'lit/decorators.js';
import { type Design, LATER_COMMANDS } from '../../engine/document/index.ts';
import {
  type Board,
  DEFAULT_KNOTS_PER_MINUTE,
  hangingAfter,
  ownPiece,
  type OwnPiece,
  type WorkStep,
  workingGauge,
  workOrder,
} from '../../engine/index.ts';
import { numberField, readNumber } from '../fields/index.ts';
import { controls } from '../styles/index.ts';
import { spoken, t } from '../text/index.ts';
import { fieldToLength, formatFine, formatNumber, readUnit } from '../units/index.ts';
import { sayError } from '../words/index.ts';
import { nameHanging } from './aid-host.ts';
import type { Keychain } from './keychain-shelf.ts';
import {
  type AskedEnd,
  endsAsked,
  knotsPerMinute,
  measuredPatch,
  type OwnList,
  withPatch,
} from './own-gauge.ts';
import { sightOf } from './views.ts';

/** The keychain as it was made. */
interface Made {
  readonly own: OwnPiece;
  readonly steps: readonly WorkStep[];
  readonly ends: readonly AskedEnd[];
}

@spoken
export class LbTableMeasure extends LitElement {
  static override styles = [
    controls,
    css`
      section {
        display: grid;
        gap: var(--lb-space-2);
        padding: var(--lb-space-2);
        border: 1px solid var(--lb-line);
        border-radius: var(--lb-radius);
      }
      .field {
        display: grid;
        gap: var(--lb-space-1);
      }
      input {
        width: 100%;
        max-width: 10rem;
        min-height: 44px;
      }
    `,
  ];

  @property({ attribute: false }) keychain!: Keychain;
  @property({ attribute: false }) begun!: Board;
  @property({ attribute: false }) list!: OwnList;
  @property({ attribute: false }) design: Design | null = null;
  /** What stands in the fields, by string. */
  @state() private texts: ReadonlyMap<number, string> = new Map();
  @state() private isTaken = false;
  @state() private refused = '';
  #made: Made | null = null;

  protected override willUpdate(changed: PropertyValues): void {
    const before = changed.get('keychain') as Keychain | undefined;
    if (!changed.has('begun') && !changed.has('list') && before?.own === this.keychain.own) return;
    this.#made = this.#make();
  }

  #make(): Made | null {
    const own = ownPiece(this.begun, this.keychain.own);
    const order = workOrder(own.board, { method: 'rows', covers: 'piece' });
    if (!order.ok) return null;
    const { steps } = order;
    const below = hangingAfter(own.board.pattern.colours.length, steps);
    return { own, steps, ends: endsAsked(this.list, steps, below) };
  }

  protected override render(): TemplateResult | '' {
    const made = this.#made;
    if (made === null || made.ends.length === 0) return '';
    const unit = readUnit();
    const pace = knotsPerMinute(this.keychain.marks);
    const board = this.design?.snapshot.board ?? this.begun;
    const measured = made.ends.flatMap((end) => {
      const value = readNumber(this.texts.get(end.string) ?? '');
      return value === null || Number.isNaN(value) ? [] : [{ end, leftMm: fieldToLength(value, unit) }];
    });
    const patch = measured.length === 0 ? null : measuredPatch(board, made.own.board, made.steps, measured);
    const isWrong = measured.length > 0 && patch === null;
    return html`<section aria-labelledby="head">
      <h2 id="head">${t('aid.measure')}</h2>
      <p class="small quiet">${t('aid.measure.why')}</p>
      ${made.ends.map(({ string, place }) =>
        numberField({
          id: `end-${string}`,
          label: t('aid.measure.end', {
            string: nameHanging(this.begun, string, place, sightOf(this.keychain.view)),
            unit,
          }),
          value: this.texts.get(string) ?? '',
          live: true,
          onValue: (text) => {
            this.texts = new Map([...this.texts, [string, text]]);
            this.isTaken = false;
          },
        }),
      )}
      ${isWrong ? html`<p class="warn" role="alert">${t('aid.measure.wrong')}</p>` : ''}
      ${patch === null ? '' : html`<p class="small" role="status">${this.#sayTakeUp(board, patch)}</p>`}
      ${pace === null ? '' : html`<p class="small">${t('aid.measure.pace', { pace: formatNumber(pace, 1), now: formatNumber(board.piece.knotsPerMinute ?? DEFAULT_KNOTS_PER_MINUTE, 1) })}</p>`}
      ${this.refused === '' ? '' : html`<p class="warn" role="alert">${this.refused}</p>`}
      ${
        this.design === null
          ? html`<p class="small quiet">${t('aid.measure.mayNot')}</p>`
          : html`<button ?disabled=${patch === null && pace === null} @click=${() => this.#take(this.design!, patch, pace)}>${t('aid.measure.take')}</button>
            <span class="good" role="status">${this.isTaken ? t('aid.measure.taken') : ''}</span>`
      }
    </section>`;
  }

  #sayTakeUp(board: Board, patch: NonNullable<ReturnType<typeof measuredPatch>>): string {
    const unit = readUnit();
    const [now, then] = [workingGauge(board.gauge), workingGauge(withPatch(board.gauge, patch))];
    return t('aid.measure.makes', {
      knotting: formatFine(then.knottingMm.valueMm, unit),
      carrier: formatFine(then.carrierMm.valueMm, unit),
      knottingNow: formatFine(now.knottingMm.valueMm, unit),
      carrierNow: formatFine(now.carrierMm.valueMm, unit),
    });
  }

  /** One step of undo. Rule N64. */
  #take(design: Design, patch: ReturnType<typeof measuredPatch>, pace: number | null): void {
    design.giveCommands(LATER_COMMANDS);
    const close = design.openStep();
    try {
      const results = [
        ...(patch === null ? [] : [design.run({ kind: 'set-gauge', patch })]),
        ...(pace === null ? [] : [design.run({ kind: 'set-piece', patch: { knotsPerMinute: pace } })]),
      ];
      const failed = results.find((result) => !result.ok);
      this.refused = failed?.ok === false ? sayError(failed.error) : '';
      this.isTaken = failed === undefined;
    } finally {
      close();
    }
  }
}
