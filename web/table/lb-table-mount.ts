/** Mounting, or beginning without a ring: what is there large, what hands do; then what must hang beside what hangs. */
import { css, html, type TemplateResult } from 'lit';
import { property, state } from 'lit/decorators.js';
import { headKnotOf, isHung } from '../../engine/index.ts';
import { controls } from '../styles/index.ts';
import { spoken, t } from '../text/index.ts';
import { readUnit } from '../units/index.ts';
import { headLengths, stepWords } from '../words/index.ts';
import { beginDrawing } from './begin-drawing.ts';
import { type Cord, compareHanging, isBundle, type MountMove, mountMoves } from './cords.ts';
import { ringDrawing } from './ring-drawing.ts';
import { stageStyles, TableStage } from './stage.ts';

type CordMove = Extract<MountMove, { readonly kind: 'cord' }>;

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
    return mountMoves(this.cords, this.board.piece);
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
      <div role="status">${move === undefined ? html`<p class="said">${this.#sayReady()}</p>` : this.#renderMove(move)}</div>
      <div class="grows">${this.#renderDrawing(hung, now, at)}</div>
    `;
  }

  #renderDrawing(hung: readonly Cord[], now: Cord | null, at: number): TemplateResult {
    const { pattern, piece } = this.board;
    const hexOf = (colour: string): string => this.hexOf(colour);
    if (isHung(piece))
      return ringDrawing({
        label: t('table.mount.ring'),
        strings: pattern.colours.length,
        hexOf,
        hung,
        now,
      });
    const begun = this.#moves.slice(0, at + 1);
    const isSpread = begun.some(({ kind }) => kind === 'lay');
    return beginDrawing({
      label: t('begin.table.drawing'),
      begin: piece.begin ?? 'ring',
      hexes: pattern.colours.map(hexOf),
      laid: isBundle(piece.begin) ? null : new Set(hung.map(({ left }) => left)),
      now: now?.left ?? null,
      isSpread,
      isHeld: isSpread || begun.some(({ kind }) => kind === 'close' || kind === 'gather'),
    });
  }

  #sayReady(): string {
    const { piece } = this.board;
    if (isHung(piece)) return t('table.mount.ready');
    return t(piece.begin === 'stick' ? 'begin.table.readyStick' : 'begin.table.ready');
  }

  #renderMove(move: MountMove): TemplateResult {
    const { piece } = this.board;
    const { head, loop } = headLengths(this.board, readUnit());
    const knot = headKnotOf(piece);
    const say = (text: string): TemplateResult => html`<p class="said">${text}</p>`;
    switch (move.kind) {
      case 'fix':
      case 'pull':
        return say(t(`table.mount.${move.kind}`));
      case 'stick':
      case 'lay':
        return say(t(`begin.table.${move.kind}`));
      case 'loop':
        return say(t('begin.table.loop', { loop }));
      case 'close':
        return say(t(`begin.close.${knot}`, { head }));
      case 'gather':
        return say(t(knot === 'overhand' ? 'begin.table.gatherKnot' : 'begin.table.gather', { head }));
      case 'compare':
        return html``;
      case 'cord':
        return isHung(piece) ? this.#renderCord(move) : this.#renderOverStick(move, head);
    }
  }

  #renderOverStick({ cord, turn }: CordMove, head: string): TemplateResult {
    const at = stepWords().ordinal(cord.left + 1);
    return html`<p class="line quiet"><span class="swatch large" style="background: ${this.hexOf(cord.colour)}"></span>${t('table.cut.this', { turn, count: this.cords.length })}</p>
      <p class="said">${t('begin.table.cord', { colour: this.nameOf(cord.colour), at, head })}</p>`;
  }

  #renderCord({ cord, turn }: CordMove): TemplateResult {
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
        const hung = isHung(this.board.piece);
        const advice =
          further === null
            ? t(hung ? 'table.mount.look' : 'begin.table.look')
            : t(hung ? 'table.mount.swap' : 'begin.table.swap', { place: place + 1, further: further + 1 });
        return `${differs} ${advice}`;
      }
    }
  }
}
