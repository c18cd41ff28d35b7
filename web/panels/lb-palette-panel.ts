/** The colours of the board: choose one for a peg, name it, change it, add and remove. */
import { css, html, type TemplateResult } from 'lit';
import { repeat } from 'lit/directives/repeat.js';
import { boardChoice, ColourChosenEvent } from '../board/index.ts';
import { Consumer } from '../context/index.ts';
import { chosen, options } from '../fields/index.ts';
import { controls } from '../styles/index.ts';
import { t } from '../text/index.ts';
import { entryMark } from './entry-mark.ts';
import { Panel } from './panel.ts';

export { LbColourCheck } from './lb-colour-check.ts';

/** The board is to be looked at in a colourway; null = in its own colours. */
export class DressEvent extends Event {
  readonly colourway: string | null;

  constructor(colourway: string | null) {
    super('lb-dress', { bubbles: true, composed: true });
    this.colourway = colourway;
  }
}

declare global {
  interface HTMLElementEventMap {
    'lb-dress': DressEvent;
  }
}

export class LbPalettePanel extends Panel {
  static override styles = [
    controls,
    css`
      :host {
        display: grid;
        gap: var(--lb-space-2);
      }
      .row.pointed {
        outline: 2px solid var(--lb-accent);
        outline-offset: 2px;
        border-radius: var(--lb-radius-small);
      }
      .row {
        display: grid;
        grid-template-columns: auto 44px minmax(0, 1fr) auto auto;
        gap: var(--lb-space-2);
        align-items: start;
      }
      input[type='color'] {
        width: 44px;
        padding: 2px;
        cursor: pointer;
      }
      .choose {
        padding: 0;
      }
      .choose span {
        width: 18px;
        height: 18px;
        border-radius: 50%;
        border: 2px solid currentcolor;
      }
      .choose[aria-pressed='true'] span {
        background: currentcolor;
        box-shadow: inset 0 0 0 3px var(--lb-accent);
      }
    `,
  ];

  readonly #choice = new Consumer(this, boardChoice);

  protected override render(): TemplateResult {
    const { colour: inHand } = this.#choice.value;
    return html`
      <h2>${t('palette.heading')}</h2>
      <p class="quiet">${t('palette.purpose')}</p>
      ${repeat(
        this.board.palette,
        ({ id }) => id,
        ({ id, name, hex }) => {
          const label = name || id;
          const strings = this.#stringsOf(id);
          const light = (): void => this.light({ strings });
          const dark = (): void => this.light(null);
          return html`<div class="row" data-strings=${strings.join(' ')} @pointerenter=${light} @pointerleave=${dark} @focusin=${light} @focusout=${dark}>
          <button class="choose" aria-pressed=${id === inHand} aria-label=${t('palette.choose', { name: label })} ?disabled=${!this.canEdit} @click=${() => this.dispatchEvent(new ColourChosenEvent(id === inHand ? null : id))}><span></span></button>
          <input type="color" .value=${chosen(hex)} aria-label=${t('palette.hex', { name: label })} ?disabled=${!this.canEdit} @input=${(e: Event) => this.run({ kind: 'edit-colour', id, hex: (e.target as HTMLInputElement).value })} />
          <lb-text-field .design=${this.design} .place=${{ of: 'colour', id }} .label=${t('palette.name')} ?disabled=${!this.canEdit}></lb-text-field>
          <button aria-label=${t('palette.remove', { name: label })} title=${t('palette.remove', { name: label })} ?disabled=${!this.canEdit || this.board.palette.length < 2} @click=${() => this.#remove(id)}>×</button>
          ${entryMark('colours', { on: 'colour', id })}
        </div>`;
        },
      )}
      <button ?disabled=${!this.canEdit} @click=${() => this.run({ kind: 'add-colour', name: t('palette.new'), hex: '#7a6a58' })}>${t('palette.add')}</button>
      ${this.#renderDress()}
    `;
  }

  /** Places at the top of the strings in a colour. */
  #stringsOf(id: string): number[] {
    return this.board.pattern.colours.flatMap((colour, string) => (colour === id ? [string] : []));
  }

  /** Where the board has colourways: to look at it in one. */
  #renderDress(): TemplateResult | '' {
    const { colourways } = this.board;
    if (colourways.length === 0) return '';
    const dress = (event: Event): void => {
      const select = event.target as HTMLSelectElement;
      if (select.value !== '') this.dispatchEvent(new DressEvent(select.value));
    };
    return html`<label class="small" for="dress">${t('look.in')}</label>
      <select id="dress" @change=${dress}>
        <option value="">${t('look.own')}</option>
        ${options(colourways.map(({ id, name }) => html`<option value=${id}>${name || id}</option>`))}
      </select>`;
  }

  #remove(id: string): void {
    const other = this.board.palette.find((colour) => colour.id !== id);
    if (other) this.run({ kind: 'remove-colour', id, replaceWith: other.id });
  }
}
