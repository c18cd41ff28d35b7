/** Running short: what each string still takes, whether what is left of one is enough, and what to do where it is not. */
import { html, type TemplateResult } from 'lit';
import {
  LAY_IN_KNOTS,
  lastRows,
  type LayIn,
  layIns,
  type LeftOver,
  pieceSize,
  type Reach,
  reachOf,
  stillNeeded,
  type StillNeeded,
} from '../../engine/index.ts';
import { numberField, readNumber } from '../fields/index.ts';
import { t } from '../text/index.ts';
import { fieldToLength, formatCut, readUnit } from '../units/index.ts';
import { orRefusal } from '../words/index.ts';
import { type Aided, type AidHost, colourOf, nameHanging } from './aid-host.ts';
import { sayWhere } from './say-group.ts';
import type { TableWork } from './table-work.ts';
import { knotSeen, placesCounted, type Sight, sightOf } from './views.ts';

/** Knots running that a new string may be asked to be laid along. */
const LAY_CHOICES = [2, 3, 4, 5, 6] as const;
/** Places to lay in that are listed. */
const MOST_LAY_INS = 4;

/** What was said of a string: what was left of it when so many steps were tied. */
interface MeasuredString {
  readonly leftMm: number;
  readonly at: number;
}

/** What is left of a string by now: what its knots took since is off. Rule N50. */
export function leftNow({ board, steps, at }: TableWork, string: number, measured: MeasuredString): number {
  const mm = (step: number): number =>
    stillNeeded(board, steps, Math.min(step, steps.length))[string]!.knotsMm;
  return Math.max(0, measured.leftMm - Math.max(0, mm(measured.at) - mm(at)));
}

export class AidShort {
  readonly #host: AidHost;
  #string: number | null = null;
  #text = '';
  #least = LAY_IN_KNOTS;
  /** By string. */
  #measured: ReadonlyMap<number, MeasuredString> = new Map();

  constructor(host: AidHost) {
    this.#host = host;
  }

  render(aided: Aided): TemplateResult {
    const { work } = aided;
    const needs = orRefusal(() => stillNeeded(work.board, work.steps, work.at));
    if (!needs.ok) return html`<p class="warn" role="alert">${t('panels.range', { why: needs.why })}</p>`;
    return this.#string === null
      ? this.#renderAll(aided, needs.value)
      : this.#renderOne(aided, needs.value[this.#string]!, this.#string);
  }

  /** Rule N49. */
  #renderAll({ work, keychain }: Aided, needs: readonly StillNeeded[]): TemplateResult {
    const { board, hanging } = work;
    const unit = readUnit();
    const shorter = this.#lefts(work);
    const sight = sightOf(keychain.view);
    return html`<p class="said">${t('aid.short.pick')}</p>
      <table><thead><tr><th scope="col">${t('aid.short.string')}</th><th scope="col">${t('aid.short.knots')}</th><th scope="col">${t('aid.short.end')}</th><th scope="col">${t('aid.short.spare')}</th></tr></thead>
      <tbody>${placesCounted(hanging.length, sight).map((place, at) => {
        const string = hanging[place]!;
        const { knotsMm, endMm, spareMm } = needs[string]!;
        const { name, hex } = colourOf(board, board.pattern.colours[string]!);
        return html`<tr><th scope="row"><button class="string" title=${nameHanging(board, string, place, sight)} @click=${() => this.#pick(string)}>${at + 1} <span class="swatch" style="background: ${hex}"></span><span class="name">${name}</span>${this.#measured.has(string) ? ' ✓' : ''}</button></th>
          <td>${formatCut(knotsMm, unit)}</td><td>${formatCut(endMm, unit)}</td><td>${formatCut(spareMm, unit)}</td></tr>`;
      })}</tbody></table>
      ${shorter.length === 0 ? '' : this.#renderShorter(work, shorter)}`;
  }

  #pick(string: number | null): void {
    this.#string = string;
    this.#text = '';
    this.#host.update();
  }

  #renderOne(aided: Aided, need: StillNeeded, string: number): TemplateResult {
    const { work } = aided;
    const sight = sightOf(aided.keychain.view);
    const unit = readUnit();
    const measured = this.#measured.get(string);
    const leftMm = measured === undefined ? null : leftNow(work, string, measured);
    return html`<p class="line"><button @click=${() => this.#pick(null)}>${t('aid.short.back')}</button>
        <b>${nameHanging(work.board, string, work.hanging.indexOf(string), sight)}</b></p>
      <p>${t('aid.short.needs', {
        knots: formatCut(need.knotsMm, unit),
        end: formatCut(need.endMm, unit),
        spare: formatCut(need.spareMm, unit),
      })}</p>
      <div class="fields">${numberField({
        id: 'left',
        label: t('aid.short.left', { unit }),
        value: this.#text,
        live: true,
        onValue: (text) => this.#type(text, string, work.at),
      })}</div>
      ${leftMm === null ? '' : this.#renderReach(work, string, leftMm, sight)}`;
  }

  #type(text: string, string: number, at: number): void {
    this.#text = text;
    const value = readNumber(text);
    const measured = new Map(this.#measured);
    if (value === null || !Number.isFinite(value) || value < 0) measured.delete(string);
    else measured.set(string, { leftMm: fieldToLength(value, readUnit()), at });
    this.#measured = measured;
    this.#host.update();
  }

  /** Rule N50. */
  #renderReach(work: TableWork, string: number, leftMm: number, sight: Sight): TemplateResult {
    const { board, steps, at } = work;
    const reach = reachOf(board, steps, at, string, leftMm);
    const ways = reach.verdict === 'short' ? layIns(board, steps, at, string, leftMm, this.#least) : [];
    return html`<p class="said ${reach.verdict === 'enough' ? 'good' : 'warn'}" role="status">${sayReach(work, reach, leftMm, sight)}</p>
      <p class="small">${sayHowSure(work, reach, sight)}</p>
      ${reach.verdict !== 'short' ? '' : this.#renderLayIns(work, ways, sight)}
      ${reach.verdict !== 'short' ? '' : this.#renderShorter(work, this.#lefts(work))}`;
  }

  /** Rule N51. */
  #renderLayIns(work: TableWork, ways: readonly LayIn[], sight: Sight): TemplateResult {
    const unit = readUnit();
    const shown = [...ways].reverse().slice(0, MOST_LAY_INS);
    return html`<section class="way"><h2>${t('aid.short.new')}</h2>
      ${
        shown.length === 0
          ? html`<p>${t('aid.short.noPlace', { count: this.#least })}</p>`
          : html`<ul>${shown.map(
              ({ start, from, to, newMm }, i) =>
                html`<li>${t(i === 0 ? 'aid.short.layIn' : 'aid.short.layInEarlier', {
                  length: formatCut(newMm, unit),
                  where: sayStepAt(work, start.step, sight),
                  from: sayStepAt(work, from.step, sight),
                  to: sayStepAt(work, to.step, sight),
                })}</li>`,
            )}</ul><p class="small quiet">${t('aid.short.how')}</p>`
      }
      <label>${t('aid.short.least')} <select @change=${(event: Event) => {
        this.#least = Number((event.target as HTMLSelectElement).value);
        this.#host.update();
      }}>${LAY_CHOICES.map((count) => html`<option value=${count} .selected=${count === this.#least}>${count}</option>`)}</select></label></section>`;
  }

  #lefts(work: TableWork): readonly LeftOver[] {
    return [...this.#measured].map(([string, measured]) => ({
      string,
      leftMm: leftNow(work, string, measured),
    }));
  }

  /** Rule N52. */
  #renderShorter(work: TableWork, left: readonly LeftOver[]): TemplateResult {
    const { board, steps, at } = work;
    const rows = lastRows(board, steps, at, left);
    const { rows: all, endRows } = pieceSize(board);
    return html`<section class="way"><h2>${t('aid.short.shorter')}</h2>
      ${
        rows === null
          ? html`<p>${t('aid.short.notShorter')}</p>`
          : rows >= all - endRows
            ? html`<p>${t('aid.short.asLong')}</p>`
            : html`<p>${t('aid.short.endAfter', { where: sayRow(work, rows - 1), rows: all - endRows - rows })}</p>
              <button class="wide" ?disabled=${rows === 0} @click=${() => this.#end(rows)}>${t('aid.short.endTake')}</button>`
      }
      <p class="small quiet">${t('aid.short.measured', { count: left.length })}</p></section>`;
  }

  #end(rows: number): void {
    this.#host.take((keychain) => ({ own: { ...keychain.own, endsAfter: rows } }));
  }
}

function sayStepAt({ steps, board }: TableWork, step: number, sight: Sight): string {
  const one = steps[step]!;
  return t('aid.knotAt', { where: sayWhere(one), knot: knotSeen(one, board.pattern, sight) });
}

/** A row of the piece, by the first knot in it or above it. */
function sayRow({ steps }: TableWork, row: number): string {
  const inRow = steps.filter((step) => step.row <= row);
  const last = inRow.reduce((most, step) => (step.row > most.row ? step : most), inRow[0]!);
  return sayWhere(last);
}

/** Whether it is enough, or until where. Rule N50. */
function sayReach(work: TableWork, { verdict, need, likely }: Reach, leftMm: number, sight: Sight): string {
  const unit = readUnit();
  const over = leftMm - need.knotsMm - need.endMm - need.spareMm;
  if (verdict === 'enough') return t('aid.short.enough', { over: formatCut(over, unit) });
  if (verdict === 'tight') return t('aid.short.tight', { short: formatCut(-over, unit) });
  return likely === null
    ? t('aid.short.notNext')
    : t('aid.short.until', { where: sayStepAt(work, likely.step, sight), short: formatCut(-over, unit) });
}

/** How sure that is. */
function sayHowSure(work: TableWork, { doubt, surely, atMost, verdict }: Reach, sight: Sight): string {
  if (doubt === null) return t('aid.short.unsure');
  const off = formatCut(doubt.plusMinusMm, readUnit());
  if (verdict !== 'short') return t('aid.short.off', { off });
  const name = (knot: Reach['surely']): string =>
    knot === null ? t('aid.short.nowhere') : sayStepAt(work, knot.step, sight);
  return t('aid.short.between', { off, surely: name(surely), most: name(atMost) });
}
