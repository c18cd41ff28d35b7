/** What a piece costs: what it takes, what must be bought, how long it lasts, and what to ask for it. */
import { css, html, nothing, type TemplateResult } from 'lit';
import { state } from 'lit/decorators.js';
import {
  type Board,
  type Colourway,
  DEFAULT_KNOTS_PER_MINUTE,
  dressBoard,
  isHung,
  lotOf,
  type MountPlan,
  PIECE_FIELDS,
  type Piece,
  type Price,
  type ShoppingList,
  SKEIN_MM,
  shoppingList,
} from '../../engine/index.ts';
import { choiceField, unitSwitch } from '../fields/index.ts';
import { controls, panelStyles } from '../styles/index.ts';
import { type TextKey, t } from '../text/index.ts';
import { formatFine, formatNumber, formatPrice, keepUnit, readUnit, type ShownUnit } from '../units/index.ts';
import { orRefusal, priceRows, usedAndBought, whyNoPrice } from '../words/index.ts';
import { PlanReader, planPending } from '../worker/index.ts';
import { entryMark } from './entry-mark.ts';
import { NumberEntries } from './number-entries.ts';
import { Panel } from './panel.ts';

export { LbPartLines } from './lb-part-lines.ts';
export { LbThreadLines } from './lb-thread-lines.ts';

/** Fields of the piece that stand here. */
type RateName = Extract<
  keyof Piece,
  | `${string}Price`
  | `${string}Share`
  | `${string}Minutes`
  | 'skeinMm'
  | 'hourlyRate'
  | 'knotsPerMinute'
  | 'pieces'
  | 'fixedFee'
>;

const MINUTES = ['knots', 'cutting', 'mounting', 'finishing'] as const;
const RATES: readonly RateName[] = ['skeinMm', 'skeinPrice', 'wasteShare', 'partsPrice', 'hourlyRate'];
const TIMES: readonly RateName[] = ['knotsPerMinute', 'cutMinutes', 'mountMinutes', 'finishMinutes'];
const SALE: readonly RateName[] = ['marginShare', 'feeShare', 'fixedFee', 'postPrice', 'taxShare'];

export class LbCostPanel extends Panel {
  static override styles = [
    controls,
    panelStyles,
    css`
      .sum {
        font-weight: 700;
      }
      dl .sum + dd {
        font-weight: 700;
        border-block-start: 1px solid var(--lb-line-strong);
      }
      .asked {
        font-size: var(--lb-size-title);
        font-weight: 700;
        font-variant-numeric: tabular-nums;
      }
    `,
  ];

  readonly #plans = new PlanReader(this);
  readonly #numbers = new NumberEntries(this);
  @state() private unit: ShownUnit = readUnit();

  protected override render(): TemplateResult {
    const { board } = this;
    const ways: readonly (Colourway | null)[] = board.colourways.length === 0 ? [null] : board.colourways;
    const plans = this.#plans.all([board, ...ways.map((way) => dressBoard(board, way))]);
    return html`
      <h2>${t('panels.cost')}</h2>
      <p class="quiet">${t('cost.purpose')}</p>
      ${unitSwitch(this.unit, (unit) => {
        this.unit = unit;
        keepUnit(unit);
      })}
      ${plans.kind === 'found' ? this.#renderPlanned(ways, plans.planOf) : planPending(plans)}
      ${this.#renderRates()}
    `;
  }

  #renderPlanned(ways: readonly (Colourway | null)[], planOf: (board: Board) => MountPlan): TemplateResult {
    const result = orRefusal(() => shoppingList(this.board, lotOf(this.board, ways), planOf));
    return result.ok
      ? this.#renderList(result.value, ways)
      : html`<p class="warn" role="alert">${t('panels.range', { why: result.why })}</p>`;
  }

  #renderList(list: ShoppingList, ways: readonly (Colourway | null)[]): TemplateResult {
    return html`
      ${this.#renderPrice(list, ways)}
      <lb-thread-lines .list=${list} .unit=${this.unit}></lb-thread-lines>
      <p class="small">${usedAndBought(list, this.unit)}</p>
      <lb-part-lines .list=${list}></lb-part-lines>
      ${list.toPay.all === null ? nothing : html`<dl><dt class="sum">${t('cost.toPay')}</dt><dd>${formatPrice(list.toPay.all)}</dd></dl>`}
    `;
  }

  #renderPrice(list: ShoppingList, ways: readonly (Colourway | null)[]): TemplateResult {
    const [first] = list.batches;
    const isOne = list.batches.length === 1;
    const why = whyNoPrice(list.price);
    return html`<section class="card" aria-labelledby="price">
      <h3 id="price">${t(isOne ? 'cost.priceEach' : 'cost.price')}</h3>
      ${isOne ? this.#renderTerms(first!.price) : this.#renderBatches(list, ways)}
      ${why === null ? nothing : html`<p class=${list.price.kind === 'unstated' ? 'quiet small' : 'warn small'} role="status">${why}</p>`}
      ${list.price.kind === 'priced' && list.pieces > 1 && isOne ? html`<dl><dt>${t('cost.priceAll', { count: list.pieces })}</dt><dd>${formatPrice(list.price.price)}</dd></dl>` : nothing}
      ${list.isPartial ? html`<p class="warn small">${t('cost.partial')}</p>` : nothing}
      ${this.#renderMinutes(list)}
    </section>`;
  }

  #renderTerms(price: Price): TemplateResult | typeof nothing {
    if (price.kind !== 'priced') return nothing;
    const hasShares = price.margin !== 0 || price.fee !== 0;
    return html`<dl>
        ${priceRows(price).map(({ label, value, isSum }) => html`<dt class=${isSum ? 'sum' : 'quiet'}>${label}</dt><dd>${value}</dd>`)}
      </dl>
      ${hasShares ? html`<p class="quiet small">${t('cost.formula')}</p>` : nothing}`;
  }

  /** A price for each colourway, and the terms of all together. */
  #renderBatches(list: ShoppingList, ways: readonly (Colourway | null)[]): TemplateResult {
    const nameOf = (id: string | null): string => ways.find((way) => way?.id === id)?.name || (id ?? '');
    const priced = list.batches.filter(({ price }) => price.kind === 'priced');
    return html`
      <p class="small">${t('cost.lot', { count: list.pieces, ways: list.batches.length })} <span class="quiet">${t('cost.lotHint')}</span></p>
      ${
        priced.length === 0
          ? nothing
          : html`<dl>
              ${list.batches.map(({ colourway, pieces, price }) => html`<dt>${t('cost.part.line', { count: pieces, name: nameOf(colourway) })}</dt><dd>${price.kind === 'priced' ? formatPrice(price.price) : '–'}</dd>`)}
            </dl>
            <h3>${t('cost.priceAll', { count: list.pieces })}</h3>`
      }
      ${this.#renderTerms(list.price)}
    `;
  }

  /** Of one piece: where colourways take different times, of the first. */
  #renderMinutes({ batches, estimates }: ShoppingList): TemplateResult {
    const { minutes } = batches[0]!;
    const show = (value: number): string =>
      t('cut.minutesValue', { minutes: formatNumber(Math.ceil(value - 1e-9), 0) });
    const estimated = {
      knots: 'piece.knotsPerMinute',
      cutting: 'piece.cutMinutes',
      mounting: 'piece.mountMinutes',
      finishing: 'piece.finishMinutes',
    };
    return html`<h3>${t('cost.minutes')}</h3>
      <dl>
        ${MINUTES.map((part) => html`<dt class="quiet">${t(part === 'mounting' && !isHung(this.board.piece) ? 'begin.minutes' : `cost.minutes.${part}`)} ${estimates.includes(estimated[part]) ? html`<span class="estimate">${t('panels.estimate')}</span>` : nothing}</dt><dd>${show(minutes[part])}</dd>`)}
        <dt class="sum">${t('cost.minutes.all')}</dt><dd>${show(minutes.all)}</dd>
      </dl>`;
  }

  #renderRates(): TemplateResult {
    const { piece, colourways } = this.board;
    const fields = (names: readonly RateName[]): unknown[] => names.map((name) => this.#field(name));
    return html`
      <fieldset>
        <legend>${t('cost.rates')}</legend>
        <p class="quiet small">${t('cost.hint')}</p>
        <div class="fields">
          ${colourways.length === 0 ? this.#field('pieces') : nothing} ${fields(RATES)} ${fields(TIMES)}
        </div>
      </fieldset>
      <fieldset>
        <legend>${t('cost.sale')}</legend>
        <div class="fields">
          ${fields(SALE)}
          ${choiceField({
            id: 'soldAs',
            label: t('piece.soldAs'),
            mark: entryMark('cost', { on: 'value', name: 'soldAs' }),
            value: piece.soldAs ?? 'each',
            choices: (['each', 'together'] as const).map((as) => [as, t(`piece.soldAs.${as}`)]),
            isDisabled: !this.canEdit,
            onValue: (soldAs) => this.run({ kind: 'set-piece', patch: { soldAs } }),
          })}
        </div>
      </fieldset>
    `;
  }

  #field(name: RateName): unknown {
    const { unit } = this;
    const isLength = name.endsWith('Mm');
    return this.#numbers.field(
      {
        id: name,
        label: t(
          name === 'mountMinutes' && !isHung(this.board.piece)
            ? 'begin.mountMinutes'
            : (`piece.${name}` as TextKey),
          isLength ? { unit } : {},
        ),
        kind: isLength ? 'length' : name.endsWith('Share') ? 'share' : 'plain',
        rule: PIECE_FIELDS[name],
        value: this.board.piece[name],
        unset: this.#unset(name),
        isDisabled: !this.canEdit,
        mark: entryMark('cost', { on: 'value', name }),
        onValue: (value) => this.run({ kind: 'set-piece', patch: { [name]: value } }),
      },
      unit,
    );
  }

  #unset(name: RateName): string {
    if (name === 'skeinMm') return formatFine(SKEIN_MM, this.unit);
    if (name === 'knotsPerMinute') return String(DEFAULT_KNOTS_PER_MINUTE);
    return name === 'pieces' ? '1' : '';
  }
}
