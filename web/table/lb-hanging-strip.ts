/** What must hang beside what hangs, tapped in from the left; the first difference named, with what to do. */
import { css, html, LitElement, type TemplateResult } from 'lit';
import { property, state } from 'lit/decorators.js';
import type { Half } from '../../engine/index.ts';
import { controls } from '../styles/index.ts';
import { spoken, t } from '../text/index.ts';
import { compareHanging, type HangingCheck } from './cords.ts';

/** @fires lb-hanging-same All colours that hang are as they must be. */
@spoken
export class LbHangingStrip extends LitElement {
  static override styles = [
    controls,
    css`
      :host {
        display: grid;
        gap: var(--lb-space-2);
        align-content: start;
        min-height: 0;
      }
      .said {
        font-size: 1.25rem;
        line-height: 1.3;
        font-weight: 600;
      }
      .strip {
        display: flex;
        flex-wrap: wrap;
        gap: 2px;
        min-height: 30px;
        /* As it hangs, in any direction of writing. */
        direction: ltr;
      }
      .strip.right {
        flex-direction: row-reverse;
      }
      .strip span {
        width: 28px;
        height: 28px;
        border: 1px solid var(--lb-line-strong);
        border-radius: 4px;
        forced-color-adjust: none;
      }
      .strip .wrong {
        outline: 3px solid var(--lb-warn);
        outline-offset: 1px;
      }
      .taps {
        display: flex;
        flex-wrap: wrap;
        gap: var(--lb-space-2);
      }
      .taps button {
        min-width: 48px;
        height: 48px;
      }
      .taps .swatch {
        width: 32px;
        height: 32px;
      }
    `,
  ];

  /** Colours that must hang, from the side from which places are counted. */
  @property({ attribute: false }) must: readonly string[] = [];
  @property({ attribute: false }) nameOf: (colour: string) => string = (colour) => colour;
  @property({ attribute: false }) hexOf: (colour: string) => string = () => '#808080';
  /** That side, as it is seen. */
  @property({ attribute: false }) side: Half = 'left';
  /** Whether cords hang from a ring, and not as the band begins otherwise. */
  @property({ attribute: false }) isHung = true;
  /** Said once all are the same. */
  @property({ attribute: false }) sameText = '';
  /** Colours tapped in. */
  @state() private hangs: readonly string[] = [];

  /** Rules N13 and N90. */
  protected override render(): TemplateResult {
    const check = compareHanging(this.must, this.hangs);
    const wrong = check.kind === 'differs' ? check.place : -1;
    return html`
      <p class="said" role="status">${this.#say(check)}</p>
      ${this.#renderStrip(t('table.mount.must'), this.must, wrong)} ${this.#renderStrip(t('table.mount.hangs'), this.hangs, wrong)}
      <p class="taps">
        ${[...new Set(this.must)].map(
          (colour) =>
            html`<button aria-label=${t('table.mount.tap', { colour: this.nameOf(colour) })} ?disabled=${check.kind !== 'going-on'} @click=${() => this.#tap(colour)}><span class="swatch" style="background: ${this.hexOf(colour)}"></span></button>`,
        )}
        <button ?disabled=${this.hangs.length === 0} @click=${() => this.#tapped(this.hangs.slice(0, -1))}>${t('table.mount.one')}</button>
        <button ?disabled=${this.hangs.length === 0} @click=${() => this.#tapped([])}>${t('table.mount.anew')}</button>
      </p>
    `;
  }

  #renderStrip(label: string, list: readonly string[], wrong: number): TemplateResult {
    const names = list.map((colour) => this.nameOf(colour)).join(', ');
    return html`<div><p class="small quiet">${label}</p>
      <p class="strip ${this.side}" role="img" aria-label=${`${label}: ${names}`}>${list.map((colour, place) => html`<span class=${place === wrong ? 'wrong' : ''} style="background: ${this.hexOf(colour)}"></span>`)}</p></div>`;
  }

  #tap(colour: string): void {
    this.#tapped([...this.hangs, colour]);
    if (compareHanging(this.must, this.hangs).kind === 'same') this.dispatchEvent(new HangingSameEvent());
  }

  #tapped(hangs: readonly string[]): void {
    this.hangs = hangs;
  }

  #say(check: HangingCheck): string {
    switch (check.kind) {
      case 'going-on':
        return t('table.mount.compare', { from: t(`table.from.${this.side}`) });
      case 'same':
        return this.sameText;
      case 'differs': {
        const { place, further } = check;
        const differs = t('table.mount.differs', {
          place: place + 1,
          is: this.nameOf(this.hangs[place]!),
          must: this.nameOf(this.must[place]!),
        });
        const advice =
          further === null
            ? t(this.isHung ? 'table.mount.look' : 'begin.table.look')
            : t(this.isHung ? 'table.mount.swap' : 'begin.table.swap', {
                place: place + 1,
                further: further + 1,
              });
        return `${differs} ${advice}`;
      }
    }
  }
}

/** What hangs was compared and is as it must be. */
class HangingSameEvent extends Event {
  constructor() {
    super('lb-hanging-same', { bubbles: true, composed: true });
  }
}

declare global {
  interface HTMLElementEventMap {
    'lb-hanging-same': HangingSameEvent;
  }
}
