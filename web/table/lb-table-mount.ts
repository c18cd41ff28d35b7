/** Mounting: the ring large, cord by cord, what hands do; then what must hang beside what hangs. */
import { css, html, type TemplateResult } from 'lit';
import { property, state } from 'lit/decorators.js';
import { controls } from '../styles/index.ts';
import { spoken, t } from '../text/index.ts';
import { stepWords } from '../words/index.ts';
import { type Cord, compareHanging, type MountMove, mountMoves } from './cords.ts';
import { ringDrawing } from './ring-drawing.ts';
import { stageStyles, TableStage } from './stage.ts';

@spoken
export class LbTableMount extends TableStage {
  static override styles = [
    controls,
    stageStyles,
    css`
      .strip {
        display: flex;
        flex-wrap: wrap;
        gap: 2px;
        min-height: 34px;
      }
      .strip span {
        display: grid;
        place-items: center;
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
      .taps button {
        width: 48px;
        height: 48px;
        padding: 0;
      }
      .taps .swatch {
        width: 32px;
        height: 32px;
      }
    `,
  ];

  @property({ attribute: false }) cords: readonly Cord[] = [];
  /** Colours tapped in, from the left. */
  @state() private hangs: readonly string[] = [];

  get #moves(): readonly MountMove[] {
    return mountMoves(this.cords);
  }

  /** Rule N12. */
  override on(): void {
    if (this.keychain.mounted >= this.#moves.length) this.change({ stage: 'tie' });
    else this.change({ mounted: this.keychain.mounted + 1 });
  }

  override back(): void {
    this.change({ mounted: Math.max(0, Math.min(this.keychain.mounted, this.#moves.length) - 1) });
  }

  protected override render(): TemplateResult {
    const at = this.keychain.mounted;
    const move = this.#moves[at];
    if (move?.kind === 'compare') return this.#renderCompare();
    const now = move?.kind === 'cord' ? move.cord : null;
    const hung = this.#moves.slice(0, at).flatMap((one) => (one.kind === 'cord' ? [one.cord] : []));
    return html`
      <div role="status">${move === undefined ? html`<p class="said">${t('table.mount.ready')}</p>` : this.#renderMove(move)}</div>
      <div class="grows">${ringDrawing({
        label: t('table.mount.ring'),
        strings: this.board.pattern.colours.length,
        hexOf: (colour) => this.hexOf(colour),
        hung,
        now,
      })}</div>
    `;
  }

  #renderMove(move: MountMove): TemplateResult {
    if (move.kind === 'fix' || move.kind === 'pull')
      return html`<p class="said">${t(`table.mount.${move.kind}`)}</p>`;
    if (move.kind === 'compare') return html``;
    const { cord, turn } = move;
    const { ordinal } = stepWords();
    const colour = this.nameOf(cord.colour);
    const left = ordinal(cord.left + 1);
    const between = cord.right === null ? 0 : cord.right - cord.left - 1;
    return html`<p class="line quiet"><span class="swatch large" style="background: ${this.hexOf(cord.colour)}"></span>${t('table.cut.this', { turn, count: this.cords.length })}</p>
      <p class="said">${
        cord.right === null
          ? t('table.mount.single', { colour, left })
          : t('table.mount.cord', { colour, left, right: ordinal(cord.right + 1) })
      }</p>
      <p>${cord.longer === null ? '' : t(`table.mount.longer.${cord.longer}`)} ${between === 0 ? '' : t('table.mount.spread', { count: between })}</p>`;
  }

  /** Rule N13. */
  #renderCompare(): TemplateResult {
    const must = this.board.pattern.colours;
    const check = compareHanging(must, this.hangs);
    const wrong = check.kind === 'differs' ? check.place : -1;
    const colours = [...new Set(must)];
    const strip = (label: string, list: readonly string[]): TemplateResult => html`<div>
      <p class="small quiet">${label}</p>
      <p class="strip" role="img" aria-label=${`${label}: ${list.map((colour) => this.nameOf(colour)).join(', ')}`}>${list.map((colour, place) => html`<span class=${place === wrong ? 'wrong' : ''} style="background: ${this.hexOf(colour)}"></span>`)}</p>
    </div>`;
    return html`
      <p class="said" role="status">${this.#sayCheck(check)}</p>
      <div class="grows">
        ${strip(t('table.mount.must'), must)} ${strip(t('table.mount.hangs'), this.hangs)}
        <p class="line taps">
          ${colours.map(
            (colour) =>
              html`<button aria-label=${t('table.mount.tap', { colour: this.nameOf(colour) })} ?disabled=${check.kind !== 'going-on'} @click=${() => {
                this.hangs = [...this.hangs, colour];
              }}><span class="swatch" style="background: ${this.hexOf(colour)}"></span></button>`,
          )}
          <button style="width: auto; padding: 0 var(--lb-space-3)" ?disabled=${this.hangs.length === 0} @click=${() => {
            this.hangs = [];
          }}>${t('table.mount.anew')}</button>
        </p>
      </div>
    `;
  }

  #sayCheck(check: ReturnType<typeof compareHanging>): string {
    switch (check.kind) {
      case 'going-on':
        return t('table.mount.compare');
      case 'same':
        return t('table.mount.same');
      case 'differs': {
        const { place, further } = check;
        const must = this.board.pattern.colours;
        const is = this.hangs[place]!;
        const differs = t('table.mount.differs', {
          place: place + 1,
          is: this.nameOf(is),
          must: this.nameOf(must[place]!),
        });
        const advice =
          further === null
            ? t('table.mount.look')
            : t('table.mount.swap', { place: place + 1, further: further + 1 });
        return `${differs} ${advice}`;
      }
    }
  }
}
