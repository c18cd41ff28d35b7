/** One shopping list for the whole set, or for those keychains of it that are to be made now. */
import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { property, state } from 'lit/decorators.js';
import {
  type Board,
  type Colourway,
  type CutList,
  cutListOf,
  demandOf,
  lotOf,
  type MountPlan,
  PIECES,
  piecesIn,
  type ShoppingList,
  SKEIN_MM,
  shoppingList,
  type ThreadToBuy,
} from '../../engine/index.ts';
import { readNumber, typedValue, unitSwitch } from '../fields/index.ts';
import { controls, panelStyles } from '../styles/index.ts';
import { spoken, t } from '../text/index.ts';
import { formatCut, formatPrice, keepUnit, readUnit, type ShownUnit } from '../units/index.ts';
import {
  basisSentences,
  meaningSentence,
  nameOfThread,
  orRefusal,
  plusMinus,
  priceLine,
  sayTitle,
  usedAndBought,
  whyNoPrice,
} from '../words/index.ts';
import { PlanReader, planPending } from '../worker/index.ts';
import { keyOf, nameOfKeychain, type SetKeychain, toBeMade } from './keychains.ts';
import { type Me, mayChange } from './rights.ts';
import { PiecesEvent } from './set-events.ts';
import { makersOf, nameOfWay, partText, shoppingText } from './shopping-text.ts';

@spoken
export class LbSetShopping extends LitElement {
  static override styles = [
    controls,
    panelStyles,
    css`
      :host {
        display: grid;
        align-content: start;
        gap: var(--lb-space-3);
      }
      .top {
        display: flex;
        flex-wrap: wrap;
        justify-content: space-between;
        align-items: end;
        gap: var(--lb-space-3);
      }
      fieldset {
        display: flex;
        flex-wrap: wrap;
        gap: 0 var(--lb-space-4);
        padding: 0;
        border: 0;
      }
      legend {
        padding: 0;
        font-size: var(--lb-size-small);
      }
      .which {
        display: inline-flex;
        align-items: center;
        gap: var(--lb-space-1);
      }
      .prices {
        display: grid;
        gap: var(--lb-space-1);
      }
      fieldset label {
        display: inline-flex;
        align-items: center;
        gap: var(--lb-space-1);
        min-height: 30px;
      }
      fieldset .pieces {
        width: 3.5em;
        min-height: 30px;
        text-align: end;
      }
      fieldset [type='checkbox'] {
        width: 20px;
        height: 20px;
        min-height: 0;
        accent-color: var(--lb-accent);
      }
      .scroll {
        overflow-x: auto;
      }
      table {
        width: 100%;
        border-collapse: collapse;
        background: var(--lb-surface);
      }
      th,
      td {
        padding: var(--lb-space-1) var(--lb-space-3) var(--lb-space-1) 0;
        border-block-end: 1px solid var(--lb-line);
        text-align: start;
        vertical-align: baseline;
      }
      thead th {
        font-size: var(--lb-size-small);
        color: var(--lb-text-quiet);
      }
      .count {
        text-align: end;
        font-variant-numeric: tabular-nums;
        white-space: nowrap;
      }
      tbody th {
        font-weight: 600;
        padding-inline-start: var(--lb-space-2);
        overflow-wrap: anywhere;
      }
      tbody .needs {
        display: block;
        font-weight: 400;
      }
      tfoot th,
      tfoot td {
        font-weight: 700;
        padding-inline-start: var(--lb-space-2);
        border-block-end: 0;
      }
      .swatch {
        margin-inline-end: var(--lb-space-1);
      }
      textarea {
        min-height: 9em;
        padding: var(--lb-space-2);
        font: 0.8125rem / 1.4 ui-monospace, monospace;
      }
      .sums {
        display: flex;
        flex-wrap: wrap;
        gap: var(--lb-space-1) var(--lb-space-5);
      }
      @media (max-width: 600px) {
        thead {
          position: absolute;
          clip-path: inset(50%);
        }
        tr {
          display: grid;
          grid-template-columns: minmax(0, 1fr) auto;
          padding-block: var(--lb-space-2);
          border-block-end: 1px solid var(--lb-line);
        }
        th,
        td {
          border: 0;
          padding: 0 var(--lb-space-2);
        }
        .count {
          text-align: start;
        }
        .count::before {
          content: attr(data-label) ' ';
          color: var(--lb-text-quiet);
          font-weight: 400;
          font-size: var(--lb-size-small);
        }
        .skeins {
          grid-row: 1;
          grid-column: 2;
        }
      }
      @media print {
        :host {
          color: #000;
          --lb-surface: #fff;
          --lb-text: #000;
          --lb-text-quiet: #333;
          --lb-line: #bbb;
          --lb-line-strong: #666;
          print-color-adjust: exact;
          -webkit-print-color-adjust: exact;
        }
        .screen {
          display: none;
        }
        tr {
          break-inside: avoid;
        }
      }
      @media screen {
        .print {
          display: none;
        }
      }
    `,
  ];

  readonly #plans = new PlanReader(this);
  @property({ attribute: false }) board!: Board;
  @property({ attribute: false }) keychains: readonly SetKeychain[] = [];
  @property({ attribute: false }) me!: Me;
  /** Whether somebody wants a keychain made, by its key, where they said so. */
  @state() private asked: ReadonlyMap<string, boolean> = new Map();
  @state() private unit: ShownUnit = readUnit();
  @state() private said: 'copied' | 'copyByHand' | null = null;

  protected override render(): TemplateResult {
    const { board, unit } = this;
    const usual = new Set(toBeMade(this.keychains).map(keyOf));
    const isWanted = (key: string): boolean => this.asked.get(key) ?? usual.has(key);
    const wanted = this.keychains.filter((keychain) => isWanted(keyOf(keychain)));
    const ways = wanted.map(({ colourway }) => colourway);
    const plans = this.#plans.all([board, ...wanted.map(({ marks }) => marks.board)]);
    return html`
      <h2>${t('set.shop.heading')}<span class="print"> · ${sayTitle(board)}</span></h2>
      <p class="quiet screen">${t('set.shop.lead')}</p>
      <div class="top screen">
        <fieldset>
          <legend>${t('set.shop.which')}</legend>
          ${this.keychains.map((keychain) => {
            const key = keyOf(keychain);
            return html`<span class="which">
              <label><input type="checkbox" data-key=${key} .checked=${isWanted(key)} @change=${() => this.#ask(key, !isWanted(key))} />${nameOfKeychain(keychain)}</label>
              ${this.#renderPieces(keychain)}
            </span>`;
          })}
        </fieldset>
        ${unitSwitch(unit, (next) => {
          this.unit = next;
          keepUnit(next);
        })}
      </div>
      ${
        wanted.length === 0
          ? html`<p role="status">${t('set.shop.none')}</p>`
          : plans.kind === 'found'
            ? this.#renderPlanned(ways, plans.planOf)
            : planPending(plans)
      }
    `;
  }

  #renderPlanned(ways: readonly (Colourway | null)[], planOf: (board: Board) => MountPlan): TemplateResult {
    const { board } = this;
    const result = orRefusal(() => ({
      list: shoppingList(board, lotOf(board, ways), planOf),
      own: cutListOf(board, planOf(board)),
    }));
    return result.ok
      ? this.#renderList(result.value.list, result.value.own)
      : html`<p class="warn" role="alert">${t('panels.range', { why: result.why })}</p>`;
  }

  #renderList(list: ShoppingList, own: CutList): TemplateResult {
    const { board, unit } = this;
    const isEstimated = own.estimates.some((path) => path.startsWith('gauge.'));
    const price = priceLine(list.price);
    const home = list.threads.reduce((sum, { fromHomeMm }) => sum + fromHomeMm, 0);
    const tooLong = list.threads.reduce((sum, thread) => sum + thread.tooLong, 0);
    const columns = ['strings', 'length', 'home', 'skeins', 'left'] as const;
    return html`
      <div class="scroll">
        <table>
          <thead>
            <tr>
              <th scope="col">${t('set.shop.thread')}</th>
              <th scope="col">${t('set.shop.for')}</th>
              ${columns.map((key) => html`<th scope="col" class="count">${t(`set.shop.${key}`)}</th>`)}
            </tr>
          </thead>
          <tbody>${list.threads.map((thread) => this.#renderThread(thread))}</tbody>
          <tfoot>
            <tr>
              <th scope="row">${t('set.shop.total')}</th>
              <td>${t('set.count', { count: list.pieces })}</td>
              <td class="count" data-label=${t('set.shop.strings')}>${list.threads.reduce((sum, thread) => sum + thread.pieces, 0)}</td>
              <td class="count" data-label=${t('set.shop.length')}>${formatCut(list.totalMm, unit)}</td>
              <td class="count" data-label=${t('set.shop.home')}>${home === 0 ? '–' : formatCut(home, unit)}</td>
              <td class="count skeins" data-label=${t('set.shop.skeins')}>${list.skeins}</td>
              <td class="count" data-label=${t('set.shop.left')}>${formatCut(
                list.threads.reduce((sum, thread) => sum + thread.wasteMm, 0),
                unit,
              )}</td>
            </tr>
          </tfoot>
        </table>
      </div>
      <p class="sums">
        <b>${list.parts.map((part) => partText(board, part)).join(', ')}</b>
        <span>${usedAndBought(list, unit)}</span>
        <span class="quiet">${t('set.shop.skein', { length: formatCut(board.piece.skeinMm ?? SKEIN_MM, unit) })}</span>
        ${list.toPay.all === null ? nothing : html`<b>${t('cost.toPay')}: ${formatPrice(list.toPay.all)}</b>`}
      </p>
      ${this.#renderPrices(list, price)}
      ${tooLong === 0 ? nothing : html`<p class="warn">${t('set.shop.tooLong', { count: tooLong })}</p>`}
      ${isEstimated ? html`<p class="small"><span class="estimate">${t('panels.estimate')}</span> ${t(own.begin === 'ring' ? 'set.shop.estimates' : 'begin.shopEstimates')}</p>` : nothing}
      ${[meaningSentence(own), ...basisSentences(own)].map((sentence) => html`<p class="small quiet">${sentence}</p>`)}
      <div class="actions screen">
        <button id="copy-list" @click=${() => this.#copy(list)}>${t('set.shop.copy')}</button>
        <button id="print-list" @click=${() => print()}>${t('set.shop.print')}</button>
        <span class="good small" role="status">${this.said === 'copied' ? t('set.shop.copied') : nothing}</span>
      </div>
      ${
        this.said === 'copyByHand'
          ? html`<div class="field screen">
              <p class="warn small" role="alert">${t('set.shop.copyByHand')}</p>
              <label for="text">${t('set.shop.text')}</label>
              <textarea id="text" readonly dir="auto" .value=${this.#text(list)}></textarea>
            </div>`
          : nothing
      }
    `;
  }

  /** What each keychain should cost, and all of them. */
  #renderPrices(list: ShoppingList, line: string | null): TemplateResult {
    if (line === null) return html`<p class="quiet small screen">${whyNoPrice(list.price)}</p>`;
    return html`<div class="prices">
      ${
        list.batches.length < 2
          ? nothing
          : html`<ul class="small">
              ${list.batches.map(({ colourway, pieces, price }) => html`<li>${t('cost.part.line', { count: pieces, name: nameOfWay(colourway, this.keychains) })}: ${price.kind === 'priced' ? formatPrice(price.price) : '–'}</li>`)}
            </ul>`
      }
      <p><b>${t('set.shop.cost')}: ${line}</b></p>
      ${list.isPartial ? html`<p class="warn small">${t('cost.partial')}</p>` : nothing}
    </div>`;
  }

  /** How many pieces are made in it; the board's own colours are counted on the board. */
  #renderPieces({ colourway }: SetKeychain): TemplateResult | typeof nothing {
    const canChange = colourway === null ? this.me.canEdit : mayChange(this.me, colourway);
    const pieces = piecesIn(this.board, colourway);
    const name = colourway === null ? t('set.base') : colourway.name || t('set.unnamed');
    return html`<input class="pieces" type="text" inputmode="numeric" autocomplete="off" .value=${typedValue(String(pieces))} aria-label=${t('set.shop.pieces', { name })} ?disabled=${!canChange} @change=${(event: Event) => this.#count(event.target as HTMLInputElement, colourway, pieces)} />`;
  }

  /** What is no number of pieces is taken back. */
  #count(input: HTMLInputElement, colourway: Colourway | null, before: number): void {
    const pieces = readNumber(input.value) ?? 1;
    if (demandOf(PIECES, pieces) === null) this.dispatchEvent(new PiecesEvent(colourway?.id ?? null, pieces));
    else input.value = String(before);
  }

  #renderThread(thread: ThreadToBuy): TemplateResult {
    const { unit } = this;
    return html`<tr>
      <th scope="row"><span class="swatch" style="background: ${thread.hex}" aria-hidden="true"></span>${nameOfThread(thread)}${thread.number === null ? nothing : html` <span class="quiet">${thread.number}</span>`}${thread.doubt === null ? nothing : html`<span class="quiet small needs">${t('doubt.needs', { needs: plusMinus(thread.needMm, thread.doubt, unit) })}</span>`}</th>
      <td class="small">${makersOf(thread, this.keychains)}</td>
      <td class="count" data-label=${t('set.shop.strings')}>${thread.pieces}</td>
      <td class="count" data-label=${t('set.shop.length')}>${formatCut(thread.totalMm, unit)}</td>
      <td class="count" data-label=${t('set.shop.home')}>${thread.fromHomeMm === 0 ? '–' : formatCut(thread.fromHomeMm, unit)}</td>
      <td class="count skeins" data-label=${t('set.shop.skeins')}>${thread.skeins}</td>
      <td class="count" data-label=${t('set.shop.left')}>${formatCut(thread.wasteMm, unit)}</td>
    </tr>`;
  }

  #ask(key: string, isWanted: boolean): void {
    this.asked = new Map(this.asked).set(key, isWanted);
    this.said = null;
  }

  #text(list: ShoppingList): string {
    return shoppingText(this.board, list, this.keychains, this.unit);
  }

  async #copy(list: ShoppingList): Promise<void> {
    try {
      await navigator.clipboard.writeText(this.#text(list));
      this.said = 'copied';
    } catch (error) {
      // The browser refuses without a reason; without HTTPS there is no clipboard at all.
      if (!(error instanceof DOMException || error instanceof TypeError)) throw error;
      this.said = 'copyByHand';
    }
  }
}
