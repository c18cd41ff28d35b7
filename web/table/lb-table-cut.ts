/** Cutting: one cord at a time, large, and all cords as bars on one scale. */
import { css, html, type TemplateResult } from 'lit';
import { property, state } from 'lit/decorators.js';
import { controls } from '../styles/index.ts';
import { spoken, t } from '../text/index.ts';
import { formatCut, lengthToField, readUnit } from '../units/index.ts';
import { barsOf, type Cord } from './cords.ts';
import {
  keepMeasure,
  LEAST_MM,
  MOST_MM,
  measureForm,
  measureOf,
  readMeasure,
  sayInMeasure,
  typedMm,
} from './own-measure.ts';
import { stageStyles, TableStage } from './stage.ts';
import { cordSeen, sightOf } from './views.ts';

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
      .fold {
        font-size: 1.5rem;
        line-height: 1.2;
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
      li .longer {
        position: absolute;
        inset-block: 0;
        width: 10px;
        border: 2px solid var(--lb-text);
        border-radius: 4px;
      }
      li .longer.left {
        inset-inline-start: -1px;
      }
      li .longer.right {
        inset-inline-end: -1px;
      }
      .bar {
        /* Left and right of a cord do not change with the direction of writing. */
        direction: ltr;
      }
      details {
        margin-block-start: var(--lb-space-3);
      }
      details .field {
        margin-block-start: var(--lb-space-2);
      }
      .middle {
        display: flex;
        align-items: center;
        gap: var(--lb-space-2);
        min-height: 44px;
        margin-block-start: var(--lb-space-2);
      }
      li .tick {
        width: 1.4em;
        color: var(--lb-good);
        font-weight: 700;
      }
      li.now button[aria-pressed] {
        border-color: var(--lb-accent);
      }
      @media (max-height: 480px) {
        :host {
          grid-template-rows: auto auto;
          align-content: start;
          overflow: auto;
        }
        .grows {
          overflow: visible;
        }
        .fold {
          font-size: 1.0625rem;
        }
      }
    `,
  ];

  @property({ attribute: false }) cords: readonly Cord[] = [];
  /** How many other keychains are cut for at once. */
  @property({ attribute: false }) together = 0;
  /** Thread that folding all in the middle takes more, in mm. */
  @property({ attribute: false }) waste = 0;
  @state() private measure = readMeasure();
  /** What was typed of a measure that is none yet. */
  @state() private typed = { name: '', length: '' };
  @state() private wrong = '';

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
      <div class="grows">${this.#renderBars(now)}${this.#renderMiddle()}${this.#renderMeasure()}<p class="caution small quiet">${t('cut.caution')}</p></div>
    `;
  }

  #renderNow(own: Cord): TemplateResult {
    const cord = cordSeen(own, sightOf(this.keychain.view));
    const unit = readUnit();
    const at = formatCut(cord.foldAtMm, unit);
    return html`<p class="line"><span class="swatch large" style="background: ${this.hexOf(cord.colour)}"></span><b>${this.nameOf(cord.colour)}</b>
        <span class="quiet">${t('table.cut.this', { turn: this.cords.indexOf(own) + 1, count: this.cords.length })}</span></p>
      <p class="line"><span class="huge">${formatCut(cord.cutMm, unit)}</span> <span>${sayInMeasure(cord.cutMm, this.measure)}</span></p>
      <p class="said fold">${cord.foldAtMm === 0 ? t('begin.table.whole') : cord.right === null ? t('table.cut.single', { at }) : cord.longer === null ? t('table.cut.middle') : t('table.cut.fold', { at })} ${cord.longer === null ? '' : t(`table.cut.longer.${cord.longer}`)}</p>
      ${this.together === 0 ? '' : html`<p>${t('table.cut.together', { count: this.together + 1 })}</p>`}`;
  }

  /** Rule N88. Once a cord is cut it would no longer fit the others. */
  #renderMiddle(): TemplateResult | '' {
    const { isMiddle, cut } = this.keychain;
    if (this.waste < 1 || (cut.length > 0 && !isMiddle)) return '';
    const more = formatCut(this.waste, readUnit());
    return html`<label class="middle"><input type="checkbox" .checked=${isMiddle} ?disabled=${cut.length > 0} @change=${() => this.change({ isMiddle: !isMiddle })} />${t('table.cut.allMiddle', { more })}</label>`;
  }

  /** Rule N87. */
  #renderMeasure(): TemplateResult {
    const { measure, typed, wrong } = this;
    const isShown = measure !== null && wrong === '';
    return measureForm({
      name: measure?.name ?? typed.name,
      length: isShown ? lengthToField(measure.mm, readUnit()) : typed.length,
      wrong,
      onName: (name) => this.#type({ ...typed, name }, measure?.mm ?? typedMm(typed.length)),
      onLength: (length) => this.#type({ name: measure?.name ?? typed.name, length }, typedMm(length)),
    });
  }

  /** What is missing or makes no sense is no measure. */
  #type(typed: { readonly name: string; readonly length: string }, mm: number): void {
    this.typed = typed;
    const unit = readUnit();
    const isOff = typed.length.trim() !== '' && !(mm >= LEAST_MM && mm <= MOST_MM);
    this.wrong = isOff
      ? t('table.measure.wrong', { least: formatCut(LEAST_MM, unit), most: formatCut(MOST_MM, unit) })
      : '';
    this.measure = measureOf(typed.name, mm);
    if (!keepMeasure(this.measure)) this.wrong = t('table.full');
  }

  /** Rule N11. */
  #renderBars(now: Cord | undefined): TemplateResult {
    const sight = sightOf(this.keychain.view);
    const unit = readUnit();
    return html`<ul aria-label=${t(this.cords.some(({ foldAtMm }) => foldAtMm > 0) ? 'table.cut.bars' : 'begin.table.bars')}>
      ${barsOf(this.cords).map(({ cord, length, fold: fromLeft }) => {
        const { longer } = cordSeen(cord, sight);
        const fold = sight.isTurned && cord.right !== null ? 1 - fromLeft : fromLeft;
        const isCut = this.keychain.cut.includes(cord.left);
        const said = t(isCut ? 'table.cut.isCut' : 'table.cut.isOpen', {
          colour: this.nameOf(cord.colour),
          cut: formatCut(cord.cutMm, unit),
        });
        const isWhole = cord.foldAtMm === 0;
        return html`<li class="${cord === now ? 'now' : ''} ${isWhole ? 'whole' : ''}"><button aria-pressed=${isCut ? 'true' : 'false'} aria-label=${said} @click=${() => this.#toggle(cord)}>
          <span class="tick" aria-hidden="true">${isCut ? '✓' : ''}</span>
          <span class="track"><span class="bar" style="width: ${100 * length}%; --fold: ${100 * fold}%; background: ${this.hexOf(cord.colour)}">${cord.longer === null ? '' : html`<span class="longer ${longer}"></span>`}</span></span>
        </button></li>`;
      })}
    </ul>`;
  }

  #toggle({ left }: Cord): void {
    const { cut } = this.keychain;
    this.change({ cut: cut.includes(left) ? cut.filter((one) => one !== left) : [...cut, left] });
  }
}
