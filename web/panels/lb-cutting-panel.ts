/** How long to cut each cord and where to fold it. */
import { css, html, type TemplateResult } from 'lit';
import { state } from 'lit/decorators.js';
import {
  type BeginKind,
  type CutList,
  cutListOf,
  type FoldCut,
  type MountPlan,
  needOf,
  type SingleCut,
} from '../../engine/index.ts';
import { choiceField, unitSwitch } from '../fields/index.ts';
import { controls, panelStyles } from '../styles/index.ts';
import { type TextKey, t } from '../text/index.ts';
import { formatCut, formatNumber, keepUnit, readUnit, type ShownUnit } from '../units/index.ts';
import {
  basisSentences,
  chanceSentence,
  meaningSentence,
  OFTEN_SHORT,
  orRefusal,
  plusMinus,
} from '../words/index.ts';
import { PlanReader, planPending } from '../worker/index.ts';
import { entryMark } from './entry-mark.ts';
import { Panel } from './panel.ts';

export { LbBeginning } from './lb-beginning.ts';

/** Offered choices of how rarely a cord may come out short. */
const SHORT_ONE_IN: readonly number[] = [10, 20, 50, 100];

export class LbCuttingPanel extends Panel {
  static override styles = [
    controls,
    panelStyles,
    css`
      .threads li {
        display: grid;
        grid-template-columns: 1.4em minmax(0, 1fr) auto;
        gap: var(--lb-space-2);
        align-items: baseline;
      }
      details p {
        margin-block-start: var(--lb-space-1);
      }
    `,
  ];

  readonly #plans = new PlanReader(this);
  @state() private unit: ShownUnit = readUnit();

  protected override render(): TemplateResult {
    const plans = this.#plans.all([this.board]);
    return html`
      <h2>${t('panels.cutting')}</h2>
      <p class="quiet">${t(isFolded(this.board.piece.begin) ? 'cut.purpose' : 'begin.cutPurpose')}</p>
      ${unitSwitch(this.unit, (unit) => {
        this.unit = unit;
        keepUnit(unit);
      })}
      ${plans.kind === 'found' ? this.#renderPlanned(plans.planOf(this.board)) : planPending(plans)}
      <p class="caution">${t('cut.caution')}</p>
    `;
  }

  #renderPlanned(plan: MountPlan): TemplateResult {
    const result = orRefusal(() => cutListOf(this.board, plan));
    return result.ok
      ? this.#renderList(result.value)
      : html`<p class="warn" role="alert">${t('panels.range', { why: result.why })}</p>`;
  }

  #renderList(list: CutList): TemplateResult {
    const { unit } = this;
    const turns = [...list.folds].sort((a, b) => a.turn - b.turn);
    return html`
      ${this.#renderDoubts(list)}
      ${
        turns.length === 0 && list.begin !== 'ring'
          ? ''
          : html`<h3>${t(list.begin === 'ring' ? 'cut.folds' : 'begin.cutLoop')}</h3>
              <ol>${turns.map((fold) => this.#renderFold(fold))}</ol>`
      }
      ${
        list.singles.length === 0
          ? ''
          : html`<h3>${t(isFolded(list.begin) ? 'cut.singles' : 'begin.cut')}</h3>
              <ul>${list.singles.map((single) => this.#renderSingle(single))}</ul>`
      }
      ${this.#renderSure(list)}
      <h3>${t('cut.totals')}</h3>
      <ul class="threads">
        ${list.colours.map(
          ({
            colour,
            pieces,
            totalMm,
            needMm,
            doubt,
          }) => html`<li tabindex="0" data-strings=${this.#stringsOf(colour).join(' ')} @pointerenter=${() => this.light({ strings: this.#stringsOf(colour) })} @pointerleave=${() => this.light(null)} @focus=${() => this.light({ strings: this.#stringsOf(colour) })} @blur=${() => this.light(null)}>
            <span class="swatch" style="background: ${this.hexOf(colour)}"></span>
            <span>${this.nameOf(colour)} <span class="quiet small">${t('cut.total', { pieces, length: formatCut(totalMm, unit) })}${doubt === null ? '' : html` · ${t('doubt.needs', { needs: plusMinus(needMm, doubt, unit) })}`}</span></span>
            ${entryMark('cutting', { on: 'colour', id: colour })}
          </li>`,
        )}
      </ul>
      <h3>${t('cut.size')}</h3>
      <dl>
        <dt>${t('cut.bandLength')} ${list.gauge.rowMm.estimate ? this.#estimate() : ''}</dt>
        <dd>${plusMinus(list.size.bandMm, list.doubt.band, unit)}</dd>
        <dt>${t('cut.rows')}</dt>
        <dd>${formatNumber(list.size.rows, 0)}</dd>
        <dt>${t('cut.knots')}</dt>
        <dd>${formatNumber(list.knots, 0)}</dd>
      </dl>
    `;
  }

  #renderDoubts(list: CutList): TemplateResult {
    const fields = list.estimates.map((path) => t(`cut.field.${path}` as TextKey)).join(', ');
    return html`
      ${fields === '' ? '' : html`<p class="small">${this.#estimate()} ${t(list.begin === 'ring' ? 'cut.estimates' : 'begin.estimates', { fields })}</p>`}
      ${isOften(list) ? html`<p class="warn small" role="status">${this.#sayChance(list)}</p>` : ''}
      ${list.warnings.map(({ kind }) => html`<p class="warn small">${t(`cut.warn.${kind}`)}</p>`)}
    `;
  }

  /** What ± means, and the choice to cut longer for it. */
  #renderSure(list: CutList): TemplateResult {
    const { shortOneIn, chanceOfShort } = list.doubt;
    const basis = basisSentences(list);
    const chance = this.#sayChance(list);
    const asked = shortOneIn === null ? [] : [shortOneIn];
    const choices = [...new Set([...SHORT_ONE_IN, ...asked])].sort((a, b) => a - b);
    const margins = [
      ...list.folds.flatMap(({ marginMm }) => marginMm),
      ...list.singles.map(({ marginMm }) => marginMm),
    ];
    return html`<section class="card" aria-labelledby="sure">
      <h3 id="sure">${t('cut.doubt')}</h3>
      <p class="small">${meaningSentence(list)}</p>
      ${
        basis.length === 0
          ? ''
          : html`<details class="small"><summary>${t('cut.basis')}</summary>${basis.map((sentence) => html`<p>${sentence}</p>`)}</details>`
      }
      ${chance === null || isOften(list) ? '' : html`<p class="small" role="status">${chance}</p>`}
      ${
        chanceOfShort === null
          ? ''
          : choiceField({
              id: 'short-one-in',
              label: t('cut.shortOneIn'),
              value: String(shortOneIn ?? 0),
              choices: [
                ['0', t('cut.shortNone')],
                ...choices.map((count) => [String(count), t('cut.shortChoice', { count })] as const),
              ],
              isDisabled: !this.canEdit,
              onValue: (value) => {
                this.run({ kind: 'set-piece', patch: { shortOneIn: value === '0' ? null : Number(value) } });
              },
            })
      }
      ${shortOneIn !== null && margins.every((margin) => margin === 0) ? html`<p class="small">${t('cut.shortCovered')}</p>` : ''}
    </section>`;
  }

  #sayChance({ doubt }: CutList): string | null {
    return chanceSentence(doubt, (colour) => this.nameOf(colour));
  }

  #added(mm: number): TemplateResult | '' {
    return mm === 0 ? '' : html` · ${t('cut.added', { length: formatCut(mm, this.unit) })}`;
  }

  #renderFold(fold: FoldCut): TemplateResult {
    const { unit } = this;
    const { left, right, turn, colour } = fold;
    return html`<li class="entry" tabindex="0" data-strings="${left} ${right}" @pointerenter=${() => this.light({ strings: [left, right], folds: [{ left, right }] })} @pointerleave=${() => this.light(null)} @focus=${() => this.light({ strings: [left, right], folds: [{ left, right }] })} @blur=${() => this.light(null)}>
      <span class="turn">${turn === 0 ? '·' : turn}</span>
      <span class="swatch" style="background: ${this.hexOf(colour)}"></span>
      <b>${t('cut.fold', { colour: this.nameOf(colour), cut: formatCut(fold.cutMm, unit) })}</b>
      ${entryMark('cutting', { on: 'strings', left, right })}
      <span class="below">${t('cut.foldAt', { at: formatCut(fold.foldAtMm, unit) })}</span>
      <span class="below quiet small">${t('cut.needs', { left: left + 1, right: right + 1, leftNeed: formatCut(fold.needMm[0], unit), rightNeed: formatCut(fold.needMm[1], unit) })}${fold.doubt === null ? '' : html`<br />${t('cut.together', { needs: plusMinus(needOf(fold), fold.doubt, unit) })}`}${this.#added(fold.marginMm[0] + fold.marginMm[1])}</span>
    </li>`;
  }

  /** Places at the top of the strings in a colour. */
  #stringsOf(colour: string): number[] {
    return this.board.pattern.colours.flatMap((id, string) => (id === colour ? [string] : []));
  }

  #renderSingle(single: SingleCut): TemplateResult {
    const { unit } = this;
    const { place, colour, cutMm, shortMm, doubt } = single;
    return html`<li class="entry" tabindex="0" data-strings=${place} @pointerenter=${() => this.light({ strings: [place] })} @pointerleave=${() => this.light(null)} @focus=${() => this.light({ strings: [place] })} @blur=${() => this.light(null)}>
      <span class="turn">·</span>
      <span class="swatch" style="background: ${this.hexOf(colour)}"></span>
      <b>${t('cut.single', { colour: this.nameOf(colour), cut: formatCut(cutMm, unit) })}</b>
      ${entryMark('cutting', { on: 'string', string: place })}
      <span class="below">${shortMm === 0 ? t('begin.cutAt', { place: place + 1 }) : t('cut.singleAt', { place: place + 1, short: formatCut(shortMm, unit) })}</span>
      ${doubt === null ? '' : html`<span class="below quiet small">${t('doubt.needs', { needs: plusMinus(single.needMm, doubt, unit) })}${this.#added(single.marginMm)}</span>`}
    </li>`;
  }

  #estimate(): TemplateResult {
    return html`<span class="estimate">${t('panels.estimate')}</span>`;
  }
}

/** Whether cords come out short so often that it is said before the list and not after it. */
function isOften({ doubt }: CutList): boolean {
  return doubt.chanceOfShort !== null && doubt.chanceOfShort > OFTEN_SHORT;
}

/** Whether cords are folded; else each string is one of its own. */
function isFolded(begin: BeginKind = 'ring'): boolean {
  return begin === 'ring' || begin === 'loop';
}
