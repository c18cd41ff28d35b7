/** Cutting: one cord at a time, large, and all cords as bars on one scale. */
import { css, html, type TemplateResult } from 'lit';
import { property } from 'lit/decorators.js';
import { controls } from '../styles/index.ts';
import { spoken, t } from '../text/index.ts';
import { formatCut, readUnit } from '../units/index.ts';
import { barsOf, type Cord } from './cords.ts';
import { stageStyles, TableStage } from './stage.ts';

@spoken
export class LbTableCut extends TableStage {
  static override styles = [
    controls,
    stageStyles,
    css`
      .now {
        display: grid;
        gap: var(--lb-space-1);
        align-content: start;
      }
      ul {
        display: grid;
        align-content: start;
        gap: 2px;
        margin: 0;
        padding: 0;
        list-style: none;
      }
      li button[aria-pressed] {
        width: 100%;
        min-height: 24px;
        padding: 2px;
        justify-content: start;
        border-color: transparent;
        background: transparent;
        color: inherit;
      }
      li .track {
        flex: 1;
        height: 14px;
      }
      li .bar {
        position: relative;
        display: block;
        height: 100%;
        border: 1px solid var(--lb-line-strong);
        border-radius: 4px;
        forced-color-adjust: none;
      }
      li .bar::after {
        content: '';
        position: absolute;
        inset-block: -3px;
        inset-inline-start: var(--fold);
        border-inline-start: 3px solid var(--lb-text);
        outline: 1px solid var(--lb-surface);
      }
      li.whole .bar::after {
        display: none;
      }
      li .tick {
        width: 1.4em;
        color: var(--lb-good);
        font-weight: 700;
      }
      li.now button[aria-pressed] {
        border-color: var(--lb-accent);
      }
    `,
  ];

  @property({ attribute: false }) cords: readonly Cord[] = [];

  /** The first cord that is not cut; undefined when all are. */
  get #now(): Cord | undefined {
    return this.cords.find(({ left }) => !this.keychain.cut.includes(left));
  }

  /** Rule N10. */
  override on(): void {
    const now = this.#now;
    if (now === undefined) this.change({ stage: 'mount' });
    else this.change({ cut: [...this.keychain.cut, now.left] });
  }

  override back(): void {
    this.change({ cut: this.keychain.cut.slice(0, -1) });
  }

  protected override render(): TemplateResult {
    const now = this.#now;
    return html`
      <div class="now" role="status">${now === undefined ? html`<p class="said">${t('table.cut.all', { count: this.cords.length })}</p>` : this.#renderNow(now)}</div>
      <div class="grows">${this.#renderBars(now)}<p class="caution small quiet">${t('cut.caution')}</p></div>
    `;
  }

  #renderNow(cord: Cord): TemplateResult {
    const unit = readUnit();
    const at = formatCut(cord.foldAtMm, unit);
    return html`<p class="line"><span class="swatch large" style="background: ${this.hexOf(cord.colour)}"></span><b>${this.nameOf(cord.colour)}</b>
        <span class="quiet">${t('table.cut.this', { turn: this.cords.indexOf(cord) + 1, count: this.cords.length })}</span></p>
      <p class="huge">${formatCut(cord.cutMm, unit)}</p>
      <p class="said">${cord.foldAtMm === 0 ? t('begin.table.whole') : cord.right === null ? t('table.cut.single', { at }) : cord.longer === null ? t('table.cut.middle') : t('table.cut.fold', { at })}</p>`;
  }

  /** Rule N11. */
  #renderBars(now: Cord | undefined): TemplateResult {
    const unit = readUnit();
    return html`<ul aria-label=${t(this.cords.some(({ foldAtMm }) => foldAtMm > 0) ? 'table.cut.bars' : 'begin.table.bars')}>
      ${barsOf(this.cords).map(({ cord, length, fold }) => {
        const isCut = this.keychain.cut.includes(cord.left);
        const said = t(isCut ? 'table.cut.isCut' : 'table.cut.isOpen', {
          colour: this.nameOf(cord.colour),
          cut: formatCut(cord.cutMm, unit),
        });
        const isWhole = cord.foldAtMm === 0;
        return html`<li class="${cord === now ? 'now' : ''} ${isWhole ? 'whole' : ''}"><button aria-pressed=${isCut ? 'true' : 'false'} aria-label=${said} @click=${() => this.#toggle(cord)}>
          <span class="tick" aria-hidden="true">${isCut ? '✓' : ''}</span>
          <span class="track"><span class="bar" style="width: ${100 * length}%; --fold: ${100 * fold}%; background: ${this.hexOf(cord.colour)}"></span></span>
        </button></li>`;
      })}
    </ul>`;
  }

  #toggle({ left }: Cord): void {
    const { cut } = this.keychain;
    this.change({ cut: cut.includes(left) ? cut.filter((one) => one !== left) : [...cut, left] });
  }
}
