/** Rings, clasps, beads and what else hangs on a piece: a line for each, with its count and price. */
import { css, html, nothing, type TemplateResult } from 'lit';
import { property } from 'lit/decorators.js';
import { setPart } from '../../engine/document/index.ts';
import {
  isHung,
  PART_FIELDS,
  type PartKind,
  type PartSupply,
  type ShoppingList,
} from '../../engine/index.ts';
import { choiceField } from '../fields/index.ts';
import { controls, panelStyles } from '../styles/index.ts';
import { newId } from '../sync/index.ts';
import { t } from '../text/index.ts';
import { formatPrice } from '../units/index.ts';
import { nameOfPart, partSentence } from '../words/index.ts';
import { NumberEntries } from './number-entries.ts';
import { Panel } from './panel.ts';

const KINDS: readonly PartKind[] = ['ring', 'clasp', 'bead', 'other'];

export class LbPartLines extends Panel {
  static override styles = [
    controls,
    panelStyles,
    css`
      .line {
        display: grid;
        grid-template-columns: minmax(0, 1fr) auto auto;
        gap: var(--lb-space-1) var(--lb-space-2);
        align-items: center;
      }
      .line .fields {
        grid-column: 1 / -1;
      }
    `,
  ];

  readonly #numbers = new NumberEntries(this);
  @property({ attribute: false }) list!: ShoppingList;

  protected override render(): TemplateResult {
    const all = this.board.supplies?.parts ?? [];
    const lines = isHung(this.board.piece) ? all : all.filter(({ kind }) => kind !== 'ring');
    return html`
      <h3>${t('cost.parts')}</h3>
      ${this.list.parts.some(({ id }) => id === null) ? html`<p class="quiet small">${t('cost.ring')}</p>` : nothing}
      ${lines.length < all.length ? html`<p class="quiet small">${t('begin.noRing')}</p>` : nothing}
      ${lines.map((line) => this.#renderLine(line))}
      <div><button id="add-part" ?disabled=${!this.canEdit} @click=${() => this.#add()}>${t('cost.part.add')}</button></div>
    `;
  }

  #renderLine(line: PartSupply): TemplateResult {
    const { id, kind = 'other', name = '' } = line;
    const part = this.list.parts.find((one) => one.id === id);
    const called = nameOfPart({ kind, name });
    const number = (field: 'count' | 'price' | 'have', unset = ''): unknown =>
      this.#numbers.field(
        {
          id: `${field}-${id}`,
          label: t(`cost.part.${field}`),
          kind: 'plain',
          rule: PART_FIELDS[field],
          value: line[field],
          unset,
          isDisabled: !this.canEdit,
          onValue: (value) => this.#say(id, { [field]: value }),
        },
        'mm',
      );
    return html`<div class="card line" role="group" aria-label=${called}>
      <b>${part === undefined ? called : partSentence(part)}</b>
      <span class="number">${part?.usedPrice == null ? nothing : formatPrice(part.usedPrice)}</span>
      <button class="remove" aria-label=${t('cost.part.remove', { name: called })} title=${t('cost.part.remove', { name: called })} ?disabled=${!this.canEdit} @click=${() => this.#remove(id)}>×</button>
      <div class="fields">
        ${choiceField({
          id: `kind-${id}`,
          label: t('cost.part.kind'),
          value: kind,
          choices: KINDS.filter((one) => one !== 'ring' || isHung(this.board.piece)).map((one) => [
            one,
            t(`part.${one}`),
          ]),
          isDisabled: !this.canEdit,
          onValue: (chosen) => this.#say(id, { kind: chosen }),
        })}
        <lb-text-field class="field" labelled .design=${this.design} .place=${{ of: 'part', id }} .label=${t('cost.part.name')} ?disabled=${!this.canEdit}></lb-text-field>
        ${number('count', '1')} ${number('price')} ${number('have', '0')}
      </div>
    </div>`;
  }

  #add(): void {
    // Lines stand by their ids, so that those added later stand below.
    const id = `${Date.now().toString(36).padStart(9, '0')}-${newId()}`.slice(0, 40);
    const isHung = this.list.parts.some(({ id: line }) => line === null);
    this.#say(id, { kind: isHung ? 'ring' : 'bead' });
  }

  #say(id: string, patch: Parameters<typeof setPart>[1]): void {
    this.run(setPart(id, patch));
  }

  #remove(id: string): void {
    this.#say(id, Object.fromEntries(Object.keys(PART_FIELDS).map((field) => [field, null])));
  }
}
