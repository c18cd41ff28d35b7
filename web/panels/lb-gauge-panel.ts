/** Whether the strings fit the bar, and how the maker's own thread works up. */
import { css, html, type TemplateResult } from 'lit';
import { state } from 'lit/decorators.js';
import {
  type BarFit,
  cutListOf,
  type Doubt,
  type FittedGauge,
  type FittedValue,
  fitBoard,
  fitGauge,
  type Gauge,
  type GaugeField,
  type GaugePatchValues,
  isHung,
  mmToInch,
  workingGauge,
  minutesOf,
} from '../../engine/index.ts';
import { panelName } from '../board/index.ts';
import { choiceField, numberField, readNumber, unitSwitch } from '../fields/index.ts';
import { controls, panelStyles } from '../styles/index.ts';
import { t } from '../text/index.ts';
import {
  fieldToLength,
  formatFine,
  formatNumber,
  keepUnit,
  lengthToField,
  readUnit,
  type ShownUnit,
} from '../units/index.ts';
import { doubtOfValue, orRefusal, plusMinus, plusMinusFine } from '../words/index.ts';
import { entryMark } from './entry-mark.ts';
import { Panel } from './panel.ts';
import { swatchDrawing } from './swatch-drawing.ts';
import {
  convertLengths,
  type FormError,
  isLength,
  readSwatches,
  SWATCH_FIELDS,
  type SwatchField,
  type SwatchText,
} from './swatch-form.ts';

const FIELDS: readonly GaugeField[] = ['cordMm', 'rowMm', 'knottingMm', 'carrierMm'];

/** Rings offered at most: all larger ones fit as well. */
const MOST_RINGS = 5;

export class LbGaugePanel extends Panel {
  static override styles = [
    controls,
    panelStyles,
    css`
      .drawing {
        width: 100%;
        max-width: 360px;
        background: var(--lb-page);
        border: 1px solid var(--lb-line);
        border-radius: var(--lb-radius);
      }
      dt.head {
        align-self: start;
      }
      dd {
        display: grid;
        justify-items: end;
      }
    `,
  ];

  @state() private unit: ShownUnit = readUnit();
  @state() private swatches: readonly SwatchText[] = [{}];
  @state() private isApplied = false;
  /** What was typed for the thickness of the thread and refused; null while it is as on the board. */
  @state() private threadText: string | null = null;
  @state() private inHand: { readonly rows: string; readonly long: string } = { rows: '', long: '' };
  /** Whether the maker tried to use the form as it stands: only then is a number that is merely still missing a mistake. */
  @state() private isAsked = false;

  protected override render(): TemplateResult {
    const { piece } = this.board;
    return html`
      <h2>${panelName('gauge', piece)}</h2>
      <p class="quiet">${t(isHung(piece) ? 'gauge.purpose' : 'begin.gaugePurpose')}</p>
      ${unitSwitch(this.unit, (unit) => {
        this.swatches = this.swatches.map((text) => convertLengths(text, this.unit, unit));
        const { heightMm: long = '' } = convertLengths({ heightMm: this.inHand.long }, this.unit, unit);
        this.inHand = { ...this.inHand, long };
        this.unit = unit;
        keepUnit(unit);
      })}
      ${isHung(piece) ? this.#renderBar() : ''}
      ${this.#renderThread()} ${this.#renderGauge()} ${this.#renderInHand()} ${this.#renderForm()}
    `;
  }

  #renderBar(): TemplateResult {
    const fit = orRefusal(() => fitBoard(this.board));
    return html`<section class="card" aria-labelledby="bar">
      <div class="head"><h3 id="bar">${t('gauge.bar')}</h3>${entryMark('gauge', { on: 'value', name: 'bar' })}</div>
      ${fit.ok ? this.#renderFit(fit.value) : html`<p class="warn" role="alert">${t('panels.range', { why: fit.why })}</p>`}
    </section>`;
  }

  #renderFit(fit: BarFit): TemplateResult {
    const { unit, board } = this;
    const isRound = board.piece.ring === 'round';
    const strings = board.pattern.colours.length;
    const { neededMm, fittingMm, endsTaken, verdict } = fit;
    const verdicts = {
      fits: 'gauge.fits',
      'too tight': 'gauge.tooTight',
      'too loose': 'gauge.tooLoose',
    } as const;
    return html`
      ${
        verdict === null
          ? html`<p class="quiet">${t(isRound ? 'gauge.noRing' : 'gauge.noBar')}</p>`
          : html`<p class=${verdict === 'fits' ? 'good' : 'warn'} role="status">${t(verdicts[verdict])}</p>`
      }
      ${
        neededMm === null
          ? ''
          : html`<p>${
              fittingMm === null
                ? html`${t('gauge.needsRing', { strings, width: formatFine(neededMm, unit) })} ${endsTaken === null ? '' : t('gauge.takes', { taken: endsTaken })}`
                : t('gauge.needs', {
                    strings,
                    width: formatFine(neededMm, unit),
                    least: formatFine(fittingMm[0], unit),
                    most: formatFine(fittingMm[1], unit),
                  })
            }
            ${fit.isCordEstimated ? html`<span class="estimate">${t('panels.estimate')}</span>` : ''}</p>`
      }
      <p class="small">${this.#sayCommon(fit, isRound)}</p>
    `;
  }

  /** Sizes to look for in the shop; of round rings the smallest that are large enough. */
  #sayCommon({ sizes, ringSizes }: BarFit, isRound: boolean): string {
    const common = isRound
      ? ringSizes.slice(0, MOST_RINGS).map(({ ringMm, label }) => [ringMm, label] as const)
      : sizes.map(({ barMm, label }) => [barMm, label] as const);
    if (common.length === 0) return t(isRound ? 'gauge.noRings' : 'gauge.noSizes');
    const said = common.map(([mm, label]) =>
      label.endsWith('in')
        ? `${label} (${formatNumber(mm, 1)} mm)`
        : `${label} (${formatNumber(mmToInch(mm), 2)} in)`,
    );
    return t(isRound ? 'gauge.ringSizes' : 'gauge.sizes', { sizes: said.join(', ') });
  }

  /** Asked once: it sets where the estimates begin. */
  #renderThread(): TemplateResult {
    const { board, unit } = this;
    const { thread = 'floss', threadMm } = board.gauge;
    const isDisabled = !this.canEdit;
    return html`<section class="card" aria-labelledby="thread-head">
      <h3 id="thread-head">${t('gauge.thread')}</h3>
      <div class="fields">
        ${choiceField({
          id: 'thread',
          label: t('gauge.threadKind'),
          mark: entryMark('gauge', { on: 'value', name: 'thread' }),
          value: thread,
          choices: (['floss', 'cord', 'own'] as const).map((kind) => [kind, t(`gauge.thread.${kind}`)]),
          isDisabled,
          onValue: (kind) =>
            this.run({
              kind: 'set-gauge',
              patch: { thread: kind, ...(kind === 'floss' ? { threadMm: null } : {}) },
            }),
        })}
        ${
          thread === 'floss'
            ? ''
            : numberField({
                id: 'threadMm',
                label: t(`gauge.threadMm.${thread}`, { unit }),
                value: this.threadText ?? lengthToField(threadMm, unit),
                wrong: this.threadText === null ? undefined : t('gauge.wrong.not-positive'),
                isDisabled,
                mark: entryMark('gauge', { on: 'value', name: 'threadMm' }),
                onValue: (text) => this.#setThread(text),
              })
        }
      </div>
      <p class="quiet small">${t(`gauge.threadHint.${thread}`)}</p>
    </section>`;
  }

  #setThread(text: string): void {
    const read = readNumber(text);
    const threadMm = read === null || Number.isNaN(read) ? read : fieldToLength(read, this.unit);
    const isTaken =
      (threadMm === null || threadMm > 0) && this.run({ kind: 'set-gauge', patch: { threadMm } }).ok;
    this.threadText = isTaken ? null : text;
  }

  /** "After 20 rows it is 27 mm": what corrects rows, lengths and minutes at once. */
  #renderInHand(): TemplateResult {
    const { unit, inHand, board } = this;
    const read = readSwatches([{ rows: inHand.rows, heightMm: inHand.long }], unit);
    const isFilled = inHand.rows.trim() !== '' && inHand.long.trim() !== '';
    const fitted = isFilled ? (read.ok ? fitGauge(read.value, board.gauge) : read) : null;
    const error = fitted?.ok === false ? fitted.error : null;
    const patch = fitted?.ok === true ? (fitted.value as FittedGauge).patch : null;
    const field = (name: 'rows' | 'long', label: string, path: string): TemplateResult =>
      numberField({
        id: `inhand-${name}`,
        label,
        value: inHand[name],
        ...this.#faultOf(error, path),
        live: true,
        isDisabled: !this.canEdit,
        onValue: (text) => {
          this.inHand = { ...inHand, [name]: text };
        },
      });
    return html`<section class="card" aria-labelledby="in-hand">
      <h3 id="in-hand">${t('gauge.inHand')}</h3>
      <p class="quiet small">${t('gauge.inHandHint')}</p>
      <div class="fields">
        ${field('rows', t('gauge.inHandRows'), 'swatches[0].rows')}
        ${field('long', t('gauge.inHandMm', { unit }), 'swatches[0].heightMm')}
      </div>
      ${patch === null ? '' : html`<p class="small" role="status">${this.#sayCorrected(patch)}</p>`}
      <div class="actions">
        <button type="button" ?disabled=${!this.canEdit || patch === null} @click=${() => {
          if (patch === null || !this.run({ kind: 'set-gauge', patch }).ok) return;
          this.inHand = { rows: '', long: '' };
        }}>${t('gauge.inHandApply')}</button>
      </div>
    </section>`;
  }

  /** What the piece comes to by the gauge as the patch would leave it. */
  #sayCorrected(patch: GaugePatchValues): string {
    const board = { ...this.board, gauge: withPatch(this.board.gauge, patch) };
    // Rows, length and minutes do not depend on how the strings are mounted.
    const singles = board.pattern.colours.map((_, place) => place);
    const list = orRefusal(() => {
      const { size, knots, doubt } = cutListOf(board, { folds: [], singles });
      return { size, doubt, minutes: minutesOf(board.piece, knots, 0).knots };
    });
    if (!list.ok) return t('panels.range', { why: list.why });
    const { size, minutes, doubt } = list.value;
    return t('gauge.inHandMakes', {
      rows: size.rows,
      length: plusMinus(size.bandMm, doubt.band, this.unit),
      minutes: formatNumber(minutes, 0),
    });
  }

  #renderGauge(): TemplateResult {
    const gauge = workingGauge(this.board.gauge);
    const own = Object.keys(this.board.gauge).filter((field) => field !== 'thread' && field !== 'threadMm');
    return html`<section class="card" aria-labelledby="now">
      <h3 id="now">${t('gauge.now')}</h3>
      <dl>
        ${FIELDS.map(
          (
            field,
          ) => html`<dt class="head">${t(`gauge.${field}`)} ${entryMark('gauge', { on: 'value', name: field })}</dt>
            <dd><span>${plusMinusFine(gauge[field].valueMm, doubtOfValue(this.board.gauge, field), this.unit)}</span>${gauge[field].estimate ? html`<span class="estimate">${t('panels.estimate')}</span>` : ''}</dd>`,
        )}
      </dl>
      ${
        own.length > 0 && this.canEdit
          ? html`<button class="clear" @click=${() => {
              this.isApplied = false;
              this.run({
                kind: 'set-gauge',
                patch: Object.fromEntries(own.map((field) => [field, null])),
              });
            }}>${t('gauge.clear')}</button>`
          : ''
      }
    </section>`;
  }

  #renderForm(): TemplateResult {
    const { swatches, unit } = this;
    const read = readSwatches(swatches, unit);
    const isEmpty = read.ok && read.value.every((swatch) => Object.keys(swatch).length === 0);
    const fitted = read.ok && !isEmpty ? fitGauge(read.value, this.board.gauge) : read;
    const error = isEmpty || fitted.ok ? null : fitted.error;
    return html`
      <h3>${t('gauge.swatch')}</h3>
      <p class="quiet small">${t('gauge.swatchHint')}</p>
      ${swatchDrawing()}
      <form
        novalidate
        style="display: contents"
        @submit=${(event: Event) => {
          event.preventDefault();
          this.isAsked = true;
          if (!isEmpty && fitted.ok) this.#apply(fitted.value as FittedGauge);
        }}
      >
        ${swatches.map((swatch, index) => this.#renderSwatch(swatch, index, error))}
        <div class="actions">
          <button type="button" @click=${() => this.#set([...swatches, {}])}>${t('gauge.add')}</button>
        </div>
        ${error?.path === 'swatches' ? html`<p class="warn" role="alert">${t(`gauge.wrong.${error.kind}`)}</p>` : ''}
        ${isEmpty || !fitted.ok ? '' : this.#renderResult(fitted.value as FittedGauge)}
        <div class="actions">
          <button class="primary" type="submit" ?disabled=${!this.canEdit || isEmpty}>${t('gauge.apply')}</button>
          <span class="good" role="status">${this.isApplied ? t('gauge.applied') : ''}</span>
        </div>
      </form>
    `;
  }

  #renderSwatch(swatch: SwatchText, index: number, error: FormError | null): TemplateResult {
    return html`<fieldset>
      <legend>${t('gauge.swatchNumber', { number: index + 1 })}</legend>
      <div class="fields">
        ${SWATCH_FIELDS.map((field) =>
          numberField({
            id: `${field}-${index}`,
            label: isLength(field)
              ? t(`gauge.${field as 'widthMm'}`, { unit: this.unit })
              : t(`gauge.${field as 'strings'}`),
            value: swatch[field] ?? '',
            ...this.#faultOf(error, `swatches[${index}].${field}`),
            live: true,
            onValue: (text) => this.#type(index, field, text),
          }),
        )}
      </div>
      ${
        this.swatches.length === 1
          ? ''
          : html`<button type="button" @click=${() => this.#set(this.swatches.filter((_, i) => i !== index))}>${t('gauge.remove', { number: index + 1 })}</button>`
      }
    </fieldset>`;
  }

  #renderResult(fitted: FittedGauge): TemplateResult {
    const after = withPatch(this.board.gauge, fitted.patch);
    return html`<section class="card" aria-labelledby="result">
      <h3 id="result">${t('gauge.result')}</h3>
      <dl>
        ${FIELDS.map((field) => html`<dt>${t(`gauge.${field}`)}</dt><dd>${this.#renderValue(fitted[field], doubtOfValue(after, field))}</dd>`)}
      </dl>
    </section>`;
  }

  #renderValue(value: FittedValue, doubt: Doubt | null): TemplateResult {
    const { unit } = this;
    const { standardErrorMm, readingErrorMm } = value;
    return html`<b>${plusMinusFine(value.valueMm, doubt, unit)}</b>
      ${value.estimate ? html`<span class="estimate">${t('panels.estimate')}</span>` : ''}
      ${
        standardErrorMm === null && readingErrorMm === null
          ? ''
          : html`<details class="small quiet"><summary>${t('board.more')}</summary>
            ${standardErrorMm === null ? '' : html`<p>${t('gauge.scatter', { error: formatFine(standardErrorMm, unit), count: value.measurements })}</p>`}
            ${readingErrorMm === null ? '' : html`<p>${t('gauge.reading', { error: formatFine(readingErrorMm, unit) })}</p>`}
          </details>`
      }`;
  }

  #faultOf(error: FormError | null, path: string): { wrong?: string; hint?: string } {
    if (error?.path !== path) return {};
    const text = t(`gauge.wrong.${error.kind}`);
    return error.kind === 'incomplete' && !this.isAsked ? { hint: text } : { wrong: text };
  }

  #type(index: number, field: SwatchField, text: string): void {
    this.#set(this.swatches.map((swatch, i) => (i === index ? { ...swatch, [field]: text } : swatch)));
  }

  #set(swatches: readonly SwatchText[]): void {
    this.swatches = swatches;
    this.isApplied = false;
    this.isAsked = false;
  }

  /** What was measured is stored with how sure it is; the rest stays as it is on the board. */
  #apply(fitted: FittedGauge): void {
    this.isApplied = this.run({ kind: 'set-gauge', patch: fitted.patch }).ok;
  }
}

/** The gauge as the patch would leave it. */
function withPatch(gauge: Gauge, patch: GaugePatchValues): Gauge {
  return Object.fromEntries(
    Object.entries({ ...gauge, ...patch }).filter(([, value]) => value !== null),
  ) as Gauge;
}
