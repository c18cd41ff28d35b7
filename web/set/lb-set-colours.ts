/**
 * The colours of one colourway: for each colour of the board the thread that stands for it, with ideas, swapping and taking back.
 *
 * @fires lb-refused A command that was not done, with the reason.
 */
import { css, html, LitElement, nothing, type PropertyValues, type TemplateResult } from 'lit';
import { property, state } from 'lit/decorators.js';
import { repeat } from 'lit/directives/repeat.js';
import { type Design, LATER_COMMANDS, type TextPlace } from '../../engine/document/index.ts';
import {
  type Board,
  type Colourway,
  type DressedColour,
  type LookSuggestion,
  suggestLooks,
} from '../../engine/index.ts';
import { RefusedEvent } from '../board/index.ts';
import { chosen, options, typedValue } from '../fields/index.ts';
import { controls } from '../styles/index.ts';
import { spoken, t } from '../text/index.ts';
import { sayError } from '../words/index.ts';
import { colourWord } from './colour-word.ts';
import { keyOf, type SetKeychain } from './keychains.ts';
import { threadName } from './thread-name.ts';

const HEX = /^#?([0-9a-f]{6})$/i;
const MOST_IDEAS = 12;

@spoken
export class LbSetColours extends LitElement {
  static override styles = [
    controls,
    css`
      :host {
        display: grid;
        gap: var(--lb-space-2);
        min-width: 0;
      }
      ul {
        display: grid;
        gap: var(--lb-space-2);
        margin: 0;
        padding: 0;
        list-style: none;
      }
      .colour {
        display: grid;
        gap: var(--lb-space-2);
        padding: var(--lb-space-2) var(--lb-space-3);
        border: 1px solid var(--lb-line);
        border-radius: var(--lb-radius);
        background: var(--lb-surface);
      }
      .colour.missing {
        border-style: dashed;
        border-color: var(--lb-warn);
      }
      .colour.unnamed {
        border-color: var(--lb-accent);
      }
      .name-it {
        display: flex;
        flex-wrap: wrap;
        align-items: center;
        gap: var(--lb-space-1) var(--lb-space-2);
        font-size: var(--lb-size-small);
      }
      .name-it button {
        min-height: 30px;
        padding: 0 var(--lb-space-2);
        font-size: var(--lb-size-small);
      }
      .for {
        display: flex;
        flex-wrap: wrap;
        align-items: center;
        gap: var(--lb-space-1) var(--lb-space-2);
        color: var(--lb-text-quiet);
        font-size: var(--lb-size-small);
      }
      .row {
        display: grid;
        grid-template-columns: 52px minmax(0, 1fr) 9ch;
        gap: var(--lb-space-2);
        align-items: center;
      }
      .row input {
        width: 100%;
        min-width: 0;
      }
      input[type='color'] {
        padding: 2px;
        height: 40px;
        cursor: pointer;
        forced-color-adjust: none;
      }
      .code {
        font-family: ui-monospace, monospace;
        font-size: var(--lb-size-small);
        padding: 0 var(--lb-space-1);
      }
      .still {
        display: grid;
        grid-template-columns: 40px minmax(0, 1fr) auto;
        gap: var(--lb-space-2);
        align-items: center;
      }
      .still .swatch {
        width: 40px;
        height: 32px;
      }
      .tools {
        display: flex;
        flex-wrap: wrap;
        gap: var(--lb-space-1);
        align-items: center;
      }
      .tools button,
      .tools select {
        min-height: 30px;
        padding: 0 var(--lb-space-2);
        font-size: var(--lb-size-small);
        max-width: 100%;
      }
      .ideas {
        display: flex;
        flex-wrap: wrap;
        gap: var(--lb-space-1);
      }
      .ideas button {
        min-height: 32px;
        padding: 0 var(--lb-space-2) 0 var(--lb-space-1);
        font-size: var(--lb-size-small);
      }
      .ideas .swatch {
        width: 22px;
        height: 22px;
        border-radius: 50%;
      }
      .wrong {
        color: var(--lb-warn);
        font-size: var(--lb-size-small);
        font-weight: 600;
      }
      details {
        font-size: var(--lb-size-small);
      }
      summary {
        min-height: var(--lb-target);
        display: flex;
        align-items: center;
        cursor: pointer;
      }
    `,
  ];

  @property({ attribute: false }) keychain!: SetKeychain;
  @property({ attribute: false }) keychains: readonly SetKeychain[] = [];
  @property({ attribute: false }) board!: Board;
  @property({ attribute: false }) design!: Design;
  /** Whether this person may change it. */
  @property({ type: Boolean }) may = false;
  /** Palette id for which ideas are shown. */
  @state() private ideasFor: string | null = null;
  /** What was typed as a code and is none, by palette id. */
  @state() private badCode: { readonly id: string; readonly text: string } | null = null;
  #key: string | null = null;

  protected override willUpdate(changed: PropertyValues<this>): void {
    if (!changed.has('keychain') || keyOf(this.keychain) === this.#key) return;
    this.#key = keyOf(this.keychain);
    this.ideasFor = null;
    this.badCode = null;
  }

  protected override render(): TemplateResult {
    const counts = new Map<string, number>();
    for (const id of this.board.pattern.colours) counts.set(id, (counts.get(id) ?? 0) + 1);
    const used = this.keychain.looks.filter(({ id }) => counts.has(id));
    const unused = this.keychain.looks.filter(({ id }) => !counts.has(id));
    const list = (looks: readonly DressedColour[]): TemplateResult =>
      html`<ul>${repeat(
        looks,
        ({ id }) => `${this.#key} ${id}`,
        (look) => this.#renderColour(look, counts.get(look.id) ?? 0, used),
      )}</ul>`;
    return html`${list(used)} ${unused.length === 0 ? nothing : html`<details><summary>${t('set.unused')}</summary>${list(unused)}</details>`}`;
  }

  #renderColour(look: DressedColour, count: number, used: readonly DressedColour[]): TemplateResult {
    const { id, isMissing, isUnnamed } = look;
    const own = this.board.palette.find((colour) => colour.id === id)!;
    const name = own.name || id;
    const says = count === 0 ? t('set.insteadUnused', { name }) : t('set.instead', { name, count });
    const isBase = this.keychain.colourway === null;
    return html`<li class="colour ${isMissing ? 'missing' : ''} ${isUnnamed ? 'unnamed' : ''}" data-colour=${id}>
      ${isBase ? nothing : html`<span class="for"><span class="swatch" style="background: ${own.hex}" aria-hidden="true"></span>${says}</span>`}
      ${!this.may || isMissing ? this.#renderStill(look, name, isBase ? count : null) : this.#renderFields(look, name)}
      ${this.may && !isMissing ? this.#renderTools(look, name, used) : nothing}
      ${this.ideasFor === id ? this.#renderIdeas(look) : nothing}
    </li>`;
  }

  #renderStill(look: DressedColour, name: string, count: number | null): TemplateResult {
    const { hex, isMissing } = look;
    return html`<div class="still">
      <span class="swatch" style="background: ${hex}" aria-hidden="true"></span>
      <span>${look.name || hex}
        ${isMissing ? html`<b class="warn small">${t('set.asOnBoard')}</b>` : nothing}
        ${count === null || count === 0 ? nothing : html`<span class="quiet small">× ${count}</span>`}
      </span>
      ${this.may && isMissing ? html`<button class="choose" aria-label=${t('set.choose', { name })} @click=${() => this.#choose(look)}>${t('set.chooseShort')}</button>` : nothing}
    </div>`;
  }

  #renderFields(look: DressedColour, name: string): TemplateResult {
    const { id, hex } = look;
    const bad = this.badCode?.id === id ? this.badCode.text : null;
    return html`<div class="row">
        <input type="color" .value=${chosen(hex)} aria-label=${t('set.hexOf', { name })} @input=${(event: Event) => this.#put(id, { hex: (event.target as HTMLInputElement).value })} />
        <lb-text-field .design=${this.design} .place=${this.#nameOf(id)} .placeholder=${colourWord(hex)} .label=${t('set.nameOf', { name })}></lb-text-field>
        <input type="text" class="code" dir="ltr" maxlength="7" autocomplete="off" spellcheck="false" .value=${typedValue(bad ?? hex)} aria-invalid=${bad !== null} aria-label=${t('set.codeOf', { name })} @change=${(event: Event) => this.#onCode(id, event.target as HTMLInputElement)} />
      </div>
      <span class="name-it" id="name-${id}" role="status">${threadName({
        look,
        keychain: this.keychain,
        keychains: this.keychains,
        onName: (called) => this.#put(id, { name: called }),
      })}</span>
      ${bad === null ? nothing : html`<span class="wrong" role="alert">${t('set.badCode', { text: bad })}</span>`}`;
  }

  #renderTools({ id, hex }: DressedColour, name: string, used: readonly DressedColour[]): TemplateResult {
    const others = used.filter((other) => other.id !== id && other.hex !== hex);
    return html`<div class="tools">
      <button class="ask" aria-expanded=${this.ideasFor === id} aria-label=${t('set.ideasOf', { name })} @click=${() => this.#toggleIdeas(id)}>${t('set.ideas')}</button>
      ${
        others.length === 0
          ? nothing
          : html`<select aria-label=${t('set.swapOf', { name })} @change=${(event: Event) => this.#swap(id, event.target as HTMLSelectElement)}>
              <option value="" selected>${t('set.swap')} …</option>
              ${options(others.map((other) => html`<option value=${other.id}>${other.name || other.hex}</option>`))}
            </select>`
      }
      <button aria-label=${t('set.clearOf', { name })} @click=${() => this.#clear(id)}>${t('set.clear')}</button>
    </div>`;
  }

  #renderIdeas({ id }: DressedColour): TemplateResult {
    const ideas = suggestLooks(this.board, this.keychain.colourway, id, {
      known: this.#known(),
      most: MOST_IDEAS,
    });
    const isHard = ideas.some((idea) => idea.isHard && idea.source !== 'join');
    return html`<p class="quiet small" role="status">${t(isHard ? 'set.ideasHard' : 'set.ideasHint')}</p>
      <div class="ideas">${ideas.map((idea) => this.#renderIdea(id, idea))}</div>`;
  }

  #renderIdea(id: string, { hex, name, source }: LookSuggestion): TemplateResult {
    const word = name || colourWord(hex);
    return html`<button
      data-source=${source}
      aria-label=${t(source === 'join' ? 'set.idea.join' : 'set.idea.use', { name: word })}
      @click=${() => this.#put(id, { hex, name: word })}
    ><span class="swatch" style="background: ${hex}"></span>${source === 'join' ? t('set.idea.join', { name: word }) : word}</button>`;
  }

  /** Colours at hand: the board's, then those of the other colourways, each hex once. */
  #known(): readonly { readonly hex: string; readonly name: string }[] {
    const known = new Map(this.board.palette.map(({ hex, name }) => [hex, { hex, name }]));
    for (const { looks } of this.keychains)
      for (const { hex, name } of looks) if (!known.has(hex)) known.set(hex, { hex, name });
    return [...known.values()];
  }

  #toggleIdeas(id: string): void {
    this.ideasFor = this.ideasFor === id ? null : id;
  }

  #nameOf(colour: string): TextPlace {
    return { of: 'dress', id: keyOf(this.keychain), colour };
  }

  /** Begins with the board's own look; from then on it is the colourway's. */
  #choose({ id, name, hex }: DressedColour): void {
    this.#change((colours) => [...colours, { id, name, hex }]);
    this.ideasFor = id;
  }

  #onCode(id: string, input: HTMLInputElement): void {
    const text = input.value.trim();
    const [, digits] = HEX.exec(text) ?? [];
    this.badCode = digits === undefined ? { id, text } : null;
    if (digits !== undefined) this.#put(id, { hex: `#${digits.toLowerCase()}` });
  }

  #put(id: string, look: { readonly name?: string; readonly hex?: string }): void {
    if (look.hex !== undefined) this.badCode = null;
    const own = this.keychain.looks.find((one) => one.id === id);
    this.#change((colours) => {
      const isThere = colours.some((colour) => colour.id === id);
      // Somebody cleared it while it was in hand: what is chosen is a choice again.
      const all = isThere || own === undefined ? colours : [...colours, { id, name: own.name, hex: own.hex }];
      return all.map((colour) => (colour.id === id ? { ...colour, ...look } : colour));
    });
  }

  #swap(id: string, select: HTMLSelectElement): void {
    const other = select.value;
    select.value = '';
    const looks = new Map(this.keychain.looks.map((look) => [look.id, look]));
    const [one, two] = [looks.get(id), looks.get(other)];
    if (one === undefined || two === undefined) {
      this.dispatchEvent(new RefusedEvent(sayError({ kind: 'unknown-colour' })));
      return;
    }
    this.design.stopUndoCapture();
    this.#change((colours) => {
      const rest = new Map(colours.map((colour) => [colour.id, colour]));
      // What was only as on the board becomes a choice by being swapped.
      rest.set(id, { id, name: two.name, hex: two.hex });
      rest.set(other, { id: other, name: one.name, hex: one.hex });
      return [...rest.values()];
    });
  }

  #clear(id: string): void {
    this.design.stopUndoCapture();
    this.#change((colours) => colours.filter((colour) => colour.id !== id));
  }

  #change(edit: (colours: Colourway['colours']) => Colourway['colours']): void {
    const { colourway } = this.keychain;
    if (colourway === null) return;
    // As it is now: somebody else may have changed another colour since this was drawn.
    const present = this.design.snapshot.board.colourways.find(({ id }) => id === colourway.id);
    if (present === undefined) {
      this.dispatchEvent(new RefusedEvent(t('set.gone')));
      return;
    }
    this.design.giveCommands(LATER_COMMANDS);
    const result = this.design.run({
      kind: 'put-colourway',
      colourway: { ...present, colours: edit(present.colours) },
    });
    if (!result.ok) this.dispatchEvent(new RefusedEvent(sayError(result.error)));
  }
}
