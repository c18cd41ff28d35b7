/** Whether the palette's colours can be told apart, in usual and in simulated sight. */
import { css, html, type TemplateResult } from 'lit';
import { state } from 'lit/decorators.js';
import {
  type Board,
  checkPalette,
  type HardPair,
  SIGHTS,
  type Sight,
  simulateSight,
  type VanishingPair,
  vanishingNeighbours,
} from '../../engine/index.ts';
import { chosenTextures, keepTextures, TexturesEvent, wantsTextures } from '../board/index.ts';
import { choiceField } from '../fields/index.ts';
import { controls, panelStyles } from '../styles/index.ts';
import { t } from '../text/index.ts';
import { formatNumber } from '../units/index.ts';
import { Panel } from './panel.ts';

/** On boards of more knots, edits are waited out before the neighbours are looked at again. */
const MOST_KNOTS_AT_ONCE = 20_000;
const WAIT_MS = 400;

export class LbColourCheck extends Panel {
  static override styles = [
    controls,
    panelStyles,
    css`
      .chips {
        display: flex;
        flex-wrap: wrap;
        gap: var(--lb-space-2);
      }
      .chip {
        display: inline-flex;
        align-items: center;
        gap: var(--lb-space-2);
        font-size: var(--lb-size-small);
      }
      .chip .swatch {
        width: 28px;
        height: 28px;
      }
      li {
        display: grid;
        grid-template-columns: auto minmax(0, 1fr);
        gap: var(--lb-space-2);
        align-items: start;
      }
      .check {
        display: flex;
        align-items: center;
        gap: var(--lb-space-2);
        min-height: var(--lb-target);
      }
      .check input {
        width: 20px;
        height: 20px;
        min-height: 0;
        accent-color: var(--lb-accent);
      }
      li.pointed {
        outline: 2px solid var(--lb-accent);
      }
      li[tabindex]:hover,
      li:focus-visible {
        background: var(--lb-sunken);
      }
    `,
  ];

  @state() private sight: Sight = 'normal';
  @state() private vanishing: readonly VanishingPair[] = [];
  #wait: ReturnType<typeof setTimeout> | undefined;
  readonly #dark = matchMedia('(prefers-color-scheme: dark)');
  readonly #onTheme = (): void => this.requestUpdate();

  override connectedCallback(): void {
    super.connectedCallback();
    this.#dark.addEventListener('change', this.#onTheme);
  }

  override disconnectedCallback(): void {
    this.#dark.removeEventListener('change', this.#onTheme);
    clearTimeout(this.#wait);
    super.disconnectedCallback();
  }

  protected override onBoard(before: Board | null): void {
    const { pattern, palette } = this.board;
    if (before?.pattern === pattern && before.palette === palette) return;
    clearTimeout(this.#wait);
    const look = (): void => {
      this.vanishing = vanishingNeighbours(this.board);
    };
    // Until then no pair is named that the palette may have lost.
    if (pattern.rows * (pattern.colours.length >> 1) <= MOST_KNOTS_AT_ONCE) look();
    else {
      this.vanishing = this.vanishing.filter(({ colours }) =>
        colours.every((id) => palette.some((colour) => colour.id === id)),
      );
      this.#wait = setTimeout(look, WAIT_MS);
    }
  }

  protected override render(): TemplateResult {
    const { board, sight, vanishing } = this;
    const background = this.#pageColour();
    const { pairs, page } = checkPalette(board.palette, background === null ? {} : { background });
    const faint = page.filter(({ isFaint }) => isFaint);
    return html`
      <h3>${t('check.heading')}</h3>
      ${choiceField<Sight>({
        id: 'sight',
        label: t('check.sight'),
        value: sight,
        choices: SIGHTS.map((kind) => [kind, t(`check.sight.${kind}`)]),
        onValue: (kind) => {
          this.sight = kind;
        },
      })}
      <div class="chips" role="group" aria-label=${t('check.chips', { sight: t(`check.sight.${sight}`) })}>
        ${board.palette.map(
          ({ id, name, hex }) =>
            html`<span class="chip"><span class="swatch" data-id=${id} style="background: ${simulateSight(hex, sight)}"></span>${name || id}</span>`,
        )}
      </div>
      ${
        pairs.length === 0
          ? ''
          : html`<label class="check"><input type="checkbox" .checked=${wantsTextures()} @change=${this.#onTextures} />${t('check.textures')}</label>
              <p class="small quiet">${t('check.texturesHint')}</p>`
      }
      ${
        pairs.length === 0
          ? html`<p class="good small" role="status">${t('check.fine')}</p>`
          : html`<ul class="small">${pairs.map((pair) => this.#renderPair(pair))} ${vanishing.map((pair) => this.#renderMeeting(pair))}</ul>`
      }
      ${
        faint.length === 0
          ? ''
          : html`<h3>${t('check.onPage')}</h3>
              <ul class="small faint">${faint.map(({ colour }) => this.#renderFaint(colour))}</ul>
              <details class="small quiet"><summary>${t('board.more')}</summary>
                <p>${t('check.onPageHint')}</p>
                ${faint.map(({ colour, contrast }) => html`<p>${t('check.contrast', { name: this.#nameOf(colour), ratio: formatNumber(Math.floor(contrast * 100) / 100, 2) })}</p>`)}
              </details>`
      }
    `;
  }

  readonly #onTextures = (event: Event): void => {
    keepTextures((event.target as HTMLInputElement).checked);
    this.dispatchEvent(new TexturesEvent(chosenTextures(this.board.palette) ?? null));
  };

  #renderPair({ colours: [first, second], degree, hardFor }: HardPair): TemplateResult {
    const sights = hardFor.map((sight) => t(`check.short.${sight}`)).join(', ');
    const strings = this.board.pattern.colours.flatMap((id, string) =>
      id === first || id === second ? [string] : [],
    );
    const light = (): void => this.light({ strings });
    const dark = (): void => this.light(null);
    return html`<li tabindex="0" data-strings=${strings.join(' ')} @pointerenter=${light} @pointerleave=${dark} @focus=${light} @blur=${dark}>
      ${this.#renderTwo(first, second)}
      <span class=${degree === 'alike' ? 'warn' : ''}>${t(degree === 'alike' ? 'check.alike' : 'check.hard', { first: this.#nameOf(first), second: this.#nameOf(second), sights })}</span>
    </li>`;
  }

  #renderMeeting({ colours: [first, second], count, places }: VanishingPair): TemplateResult {
    const light = (): void => {
      const knots = places.flatMap(({ row, k, belowRow, belowK }) => [
        { row, k },
        { row: belowRow, k: belowK },
      ]);
      this.light({ knots });
    };
    const dark = (): void => this.light(null);
    return html`<li tabindex="0" data-knots=${places.flatMap(({ row, k, belowRow, belowK }) => [`${row}:${k}`, `${belowRow}:${belowK}`]).join(' ')} @pointerenter=${light} @pointerleave=${dark} @focus=${light} @blur=${dark}>
      ${this.#renderTwo(first, second)}
      <span>${t('check.vanish', { first: this.#nameOf(first), second: this.#nameOf(second), count })}</span>
    </li>`;
  }

  #renderFaint(colour: string): TemplateResult {
    return html`<li>
      <span class="swatch" aria-hidden="true" style="background: ${this.#colourOf(colour).hex}"></span>
      <span>${t('check.faint', { name: this.#nameOf(colour) })}</span>
    </li>`;
  }

  /** What knots lie on in the theme shown; null where it is a colour of the system's own. */
  #pageColour(): string | null {
    const colour = getComputedStyle(this).getPropertyValue('--lb-surface').trim();
    return /^#[0-9a-f]{6}$/i.test(colour) ? colour : null;
  }

  #renderTwo(first: string, second: string): TemplateResult {
    const seen = (id: string): string => simulateSight(this.#colourOf(id).hex, this.sight);
    return html`<span aria-hidden="true"><span class="swatch" style="background: ${seen(first)}"></span><span class="swatch" style="background: ${seen(second)}"></span></span>`;
  }

  #colourOf(id: string): Board['palette'][number] {
    const entry = this.board.palette.find((colour) => colour.id === id);
    if (entry === undefined) throw new RangeError(`the palette has no ${id}`);
    return entry;
  }

  #nameOf(id: string): string {
    return this.#colourOf(id).name || id;
  }
}
