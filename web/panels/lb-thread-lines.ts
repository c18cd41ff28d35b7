/** The threads of what is made: what is used of each and must be bought, and what the maker knows of it. */
import { css, html, nothing, type TemplateResult } from 'lit';
import { property } from 'lit/decorators.js';
import { setThread } from '../../engine/document/index.ts';
import {
  type ShoppingList,
  THREAD_FIELDS,
  type ThreadName,
  type ThreadSupply,
  type ThreadToBuy,
  threadKey,
} from '../../engine/index.ts';
import { choiceField } from '../fields/index.ts';
import { controls, panelStyles } from '../styles/index.ts';
import { t } from '../text/index.ts';
import { formatCut, formatFine, formatPrice, type ShownUnit } from '../units/index.ts';
import { nameOfThread, plusMinus, threadSentence } from '../words/index.ts';
import { NumberEntries } from './number-entries.ts';
import { Panel } from './panel.ts';

export class LbThreadLines extends Panel {
  static override styles = [
    controls,
    panelStyles,
    css`
      :host {
        gap: var(--lb-space-1);
      }
      .line {
        display: grid;
        grid-template-columns: 1.4em minmax(0, 1fr) auto;
        gap: 0 var(--lb-space-1);
        align-items: baseline;
        padding-block: var(--lb-space-1);
      }
      .line .below {
        grid-column: 2 / -1;
      }
      details {
        padding-inline-start: 1.6em;
      }
      details .fields {
        grid-template-columns: repeat(auto-fit, minmax(110px, 1fr));
        padding-block: var(--lb-space-2);
      }
    `,
  ];

  readonly #numbers = new NumberEntries(this);
  @property({ attribute: false }) list!: ShoppingList;
  @property({ attribute: false }) unit!: ShownUnit;

  protected override render(): TemplateResult {
    const { threads } = this.list;
    const tooLong = threads.reduce((sum, thread) => sum + thread.tooLong, 0);
    return html`
      <h3>${t('cost.threads')}</h3>
      ${threads.map((thread) => this.#renderThread(thread))}
      ${tooLong === 0 ? nothing : html`<p class="warn small">${t('cost.tooLong', { count: tooLong })}</p>`}
    `;
  }

  #renderThread(thread: ThreadToBuy): TemplateResult {
    const { unit } = this;
    const { hex, number, usedPrice, needMm, doubt, wasteMm } = thread;
    const name = nameOfThread(thread);
    return html`<div>
      <div class="line">
        <span class="swatch" style="background: ${hex}"></span>
        <b>${name}${number === null ? nothing : html` <span class="quiet">${number}</span>`}</b>
        <span class="number">${usedPrice === null ? nothing : formatPrice(usedPrice)}</span>
        <span class="below small">${threadSentence(thread, unit)} <span class="quiet">· ${t('cost.left', { length: formatCut(wasteMm, unit) })}${doubt === null ? nothing : html` · ${t('doubt.needs', { needs: plusMinus(needMm, doubt, unit) })}`}</span></span>
      </div>
      ${thread.threads.map((one) => this.#renderSupply(one))}
    </div>`;
  }

  /** What the maker knows of it; of threads that are one each can be made its own again. */
  #renderSupply(thread: ThreadName): TemplateResult {
    const key = threadKey(thread);
    const supply = this.board.supplies?.threads.find((one) => threadKey(one) === key);
    const field = (name: 'price' | 'skeinMm' | 'haveMm'): unknown => {
      const isLength = name !== 'price';
      const { skeinMm } = this.board.piece;
      const unset = name === 'skeinMm' && skeinMm !== undefined ? formatFine(skeinMm, this.unit) : '';
      return this.#numbers.field(
        {
          id: `${name}-${key}`,
          label: t(`cost.thread.${name}`, { unit: this.unit }),
          kind: isLength ? 'length' : 'plain',
          rule: THREAD_FIELDS[name],
          value: supply?.[name],
          unset,
          isDisabled: !this.canEdit,
          onValue: (value) => this.#say(thread, { [name]: value }),
        },
        this.unit,
      );
    };
    return html`<details>
      <summary class="small">${t('cost.about', { name: thread.name || thread.hex })}</summary>
      <div class="fields">
        <lb-text-field class="field" labelled .design=${this.design} .place=${{ of: 'thread', ...thread }} .label=${t('cost.thread.number')} ?disabled=${!this.canEdit}></lb-text-field>
        ${field('price')} ${field('skeinMm')} ${field('haveMm')} ${this.#renderSame(thread, key, supply)}
      </div>
    </details>`;
  }

  #renderSame(
    thread: ThreadName,
    key: string,
    supply: ThreadSupply | undefined,
  ): TemplateResult | typeof nothing {
    const others = this.list.threads
      .flatMap(({ threads }) => threads)
      .filter((one) => threadKey(one) !== key);
    const said = supply?.sameAs ?? '';
    if (others.length === 0 && said === '') return nothing;
    const known = others.map((one): [string, string] => [threadKey(one), one.name || one.hex]);
    const isKnown = said === '' || known.some(([one]) => one === said);
    return choiceField({
      id: `same-${key}`,
      label: t('cost.thread.sameAs'),
      value: said,
      choices: [
        ['', t('cost.thread.sameNone')],
        ...known,
        // Of a thread that is not in these pieces.
        ...(isKnown ? [] : [[said, said.slice('#rrggbb.'.length) || said.slice(0, 7)] as [string, string]]),
      ],
      isDisabled: !this.canEdit,
      onValue: (sameAs) => this.#say(thread, { sameAs: sameAs || null }),
    });
  }

  #say({ hex, name }: ThreadName, patch: Parameters<typeof setThread>[1]): void {
    this.run(setThread({ hex, name }, patch));
  }
}
