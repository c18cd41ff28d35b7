/** The colours of the board: choose one for a peg, name it, change it, put it elsewhere, add and remove. */
import { css, html, nothing, type TemplateResult } from 'lit';
import { state } from 'lit/decorators.js';
import { repeat } from 'lit/directives/repeat.js';
import type { Board } from '../../engine/index.ts';
import { boardChoice, ColourChosenEvent } from '../board/index.ts';
import { Consumer } from '../context/index.ts';
import { chosen, options } from '../fields/index.ts';
import { controls } from '../styles/index.ts';
import { t } from '../text/index.ts';
import { entryMark } from './entry-mark.ts';
import { HexStep } from './hex-step.ts';
import { newColour } from './new-colour.ts';
import { Panel } from './panel.ts';
import { RowDrag } from './row-drag.ts';

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
        grid-template-columns: auto auto 44px minmax(0, 1fr) auto auto;
        gap: var(--lb-space-2);
        align-items: start;
      }
      /* While a row is dragged rows have an order below 0, at most 500 of them; these stay above. */
      h2,
      h2 + p {
        order: -1000;
      }
      .row.held {
        background: var(--lb-sunken);
        border-radius: var(--lb-radius-small);
      }
      .grip {
        min-width: 24px;
        padding: 0;
        border-color: transparent;
        background: transparent;
        cursor: grab;
        touch-action: none;
      }
      .ask {
        grid-column: 1 / -1;
      }
      lb-text-field::part(field) {
        text-overflow: ellipsis;
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

  /** The colour that is to be removed, while it is asked what its strings get. */
  @state() private leaving: string | null = null;
  @state() private said = '';
  readonly #choice = new Consumer(this, boardChoice);
  /** What was moved by key and is not seen there yet. */
  #moved: { readonly grip: HTMLElement; readonly id: string; readonly to: number } | null = null;
  readonly #hexStep = new HexStep(this, () => this.design);
  readonly #drag = new RowDrag(this, (id, to) => this.#move(id, to));

  protected override onBoard(_before: Board | null): void {
    if (!this.board.palette.some(({ id }) => id === this.leaving)) this.leaving = null;
  }

  protected override render(): TemplateResult {
    const { palette } = this.board;
    const order = this.#drag.orderOf(palette.map(({ id }) => id));
    return html`
      <h2>${t('palette.heading')}</h2>
      <p class="quiet">${t('palette.purpose')}</p>
      ${repeat(
        palette,
        ({ id }) => id,
        (colour) => this.#renderColour(colour, order?.indexOf(colour.id) ?? null),
      )}
      <p class="visually-hidden" role="status">${this.said}</p>
      <button class="add" ?disabled=${!this.canEdit} @click=${() => this.run({ kind: 'add-colour', ...newColour(palette) })}>${t('palette.add')}</button>
      ${this.#renderDress()}
    `;
  }

  /** @param at where it stands while one is dragged; null = in its place */
  #renderColour({ id, name, hex }: Board['palette'][number], at: number | null): TemplateResult {
    const inHand = this.#choice.value.colour;
    const label = name || id;
    const strings = this.#stringsOf(id);
    const light = (): void => this.light({ strings });
    const dark = (): void => this.light(null);
    const isAlone = this.board.palette.length < 2;
    return html`<div class="row ${this.#drag.held === id ? 'held' : ''}" style=${at === null ? nothing : `order:${at - 500}`} data-id=${id} data-strings=${strings.join(' ')} @pointerenter=${light} @pointerleave=${dark} @focusin=${light} @focusout=${dark}>
      <button class="grip" aria-label=${t('palette.move', { name: label })} title=${t('palette.move', { name: label })} ?disabled=${!this.canEdit || isAlone} @pointerdown=${this.#drag.down} @keydown=${(event: KeyboardEvent) => this.#moveByKey(event, id)}><span aria-hidden="true">⠿</span></button>
      <button class="choose" aria-pressed=${id === inHand} aria-label=${t('palette.choose', { name: label })} ?disabled=${!this.canEdit} @click=${() => this.dispatchEvent(new ColourChosenEvent(id === inHand ? null : id))}><span></span></button>
      <input type="color" .value=${chosen(hex)} aria-label=${t('palette.hex', { name: label })} ?disabled=${!this.canEdit} @input=${(e: Event) => this.#hexStep.take(() => this.run({ kind: 'edit-colour', id, hex: (e.target as HTMLInputElement).value }))} @change=${this.#hexStep.end} @blur=${this.#hexStep.end} />
      <lb-text-field title=${label} .design=${this.design} .place=${{ of: 'colour', id }} .label=${t('palette.name')} ?disabled=${!this.canEdit}></lb-text-field>
      <button aria-label=${t('palette.remove', { name: label })} title=${t('palette.remove', { name: label })} aria-expanded=${this.leaving === id ? 'true' : nothing} ?disabled=${!this.canEdit || isAlone} @click=${() => this.#remove(id)}>×</button>
      ${entryMark('colours', { on: 'colour', id })}
      ${this.leaving === id ? this.#renderAsk(id, label, strings.length) : ''}
    </div>`;
  }

  /** What the strings of a colour get that is to be removed. */
  #renderAsk(id: string, label: string, count: number): TemplateResult {
    const others = this.board.palette.filter((colour) => colour.id !== id);
    return html`<div class="ask card" role="group" aria-label=${t('palette.remove', { name: label })}>
      <p>${t('palette.ask', { count, name: label })}</p>
      <div class="actions">
        ${others.map(
          (other) =>
            html`<button class="give" @click=${() => this.run({ kind: 'remove-colour', id, replaceWith: other.id })}><span class="swatch" style="background:${other.hex}"></span>${t('palette.give', { name: other.name || other.id })}</button>`,
        )}
        <button @click=${() => this.#leave(null)}>${t('palette.keep', { name: label })}</button>
      </div>
    </div>`;
  }

  #moveByKey(event: KeyboardEvent, id: string): void {
    // The board that is shown may be a frame behind a quick hand.
    const { palette } = this.design.snapshot.board;
    const at = palette.findIndex((colour) => colour.id === id);
    const to = { ArrowUp: at - 1, ArrowDown: at + 1, Home: 0, End: palette.length - 1 }[event.key];
    if (to === undefined) return;
    event.preventDefault();
    if (to < 0 || to >= palette.length || to === at) return;
    this.#moved = { grip: event.currentTarget as HTMLElement, id, to };
    this.#move(id, to);
  }

  /** The row was moved, and with it the button that had the keyboard. */
  protected override updated(): void {
    const { grip, id, to } = this.#moved ?? {};
    if (grip === undefined || this.board.palette[to ?? -1]?.id !== id) return;
    this.#moved = null;
    grip.focus();
  }

  #move(id: string, to: number): void {
    if (!this.run({ kind: 'move-colour', id, to }).ok) return;
    const { palette } = this.board;
    this.said = t('palette.moved', { name: this.nameOf(id), at: to + 1, count: palette.length });
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
    if (other === undefined) return;
    if (this.#stringsOf(id).length === 0) this.run({ kind: 'remove-colour', id, replaceWith: other.id });
    else this.#leave(this.leaving === id ? null : id);
  }

  #leave(id: string | null): void {
    const from = this.leaving;
    this.leaving = id;
    void this.updateComplete.then(() => {
      const row = this.renderRoot.querySelector(`[data-id="${CSS.escape(id ?? from ?? '')}"]`);
      row
        ?.querySelector<HTMLElement>(id === null ? '[aria-label] ~ lb-text-field + button' : '.give')
        ?.focus();
    });
  }
}
