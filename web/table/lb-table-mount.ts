/** Mounting, or beginning without a ring: what is there large, what hands do; then what must hang beside what hangs. */
import { css, html, type TemplateResult } from 'lit';
import { property } from 'lit/decorators.js';
import { headKnotOf, isHung } from '../../engine/index.ts';
import { controls } from '../styles/index.ts';
import { spoken, t } from '../text/index.ts';
import { readUnit } from '../units/index.ts';
import { headLengths, stepWords } from '../words/index.ts';
import { type BackScene, backDrawing, floatsOf } from './back-drawing.ts';
import { beginDrawing } from './begin-drawing.ts';
import { type Cord, isBundle, type MountMove, mountMoves } from './cords.ts';
import { ringDrawing } from './ring-drawing.ts';
import { stageStyles, TableStage } from './stage.ts';
import { cordSeen, placeSeen, placesCounted, sideSeen, type Sight, sightOf } from './views.ts';

type CordMove = Extract<MountMove, { readonly kind: 'cord' }>;

@spoken
export class LbTableMount extends TableStage {
  static override styles = [
    controls,
    stageStyles,
    css`
      .backs {
        display: grid;
        grid-template-columns: repeat(2, minmax(0, 1fr));
        gap: var(--lb-space-3);
        height: 100%;
      }
      figure {
        display: grid;
        grid-template-rows: minmax(0, 1fr) auto;
        min-height: 0;
        margin: 0;
      }
    `,
  ];

  @property({ attribute: false }) cords: readonly Cord[] = [];

  get #sight(): Sight {
    return sightOf(this.keychain.view);
  }

  readonly #numberOf = (place: number): number =>
    placeSeen(place, this.board.pattern.colours.length, this.#sight).number;

  /** From which side places are counted, as it is seen. */
  get #from(): string {
    return t(`table.from.${sideSeen(this.#sight.from, this.#sight)}`);
  }

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
    if (move?.kind === 'pull')
      return html`<div role="status">${this.#renderMove(move)}</div><div class="grows">${this.#renderBacks()}</div>`;
    return html`
      <div role="status">${move === undefined ? html`<p class="said">${this.#sayReady()}</p>` : this.#renderMove(move)}</div>
      <div class="grows">${this.#renderDrawing(hung, now, at)}</div>
    `;
  }

  #renderDrawing(hung: readonly Cord[], now: Cord | null, at: number): TemplateResult {
    const { pattern, piece } = this.board;
    const hexOf = (colour: string): string => this.hexOf(colour);
    const seen = { numberOf: this.#numberOf, isTurned: this.#sight.isTurned };
    if (isHung(piece))
      return ringDrawing({
        label: t('table.mount.ring'),
        strings: pattern.colours.length,
        hexOf,
        hung,
        now,
        ...seen,
        drawn: this.drawn,
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
      ...seen,
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
    const at = stepWords().ordinal(this.#numberOf(cord.left));
    return html`<p class="line quiet"><span class="swatch large" style="background: ${this.hexOf(cord.colour)}"></span>${t('table.cut.this', { turn, count: this.cords.length })}</p>
      <p class="said">${t('begin.table.cord', { colour: this.nameOf(cord.colour), at, from: this.#from, head })}</p>`;
  }

  #renderCord({ cord, turn }: CordMove): TemplateResult {
    const { ordinal } = stepWords();
    const colour = this.nameOf(cord.colour);
    const from = this.#from;
    const { longer } = cordSeen(cord, this.#sight);
    const places = cord.right === null ? [cord.left] : [cord.left, cord.right];
    const [first = 0, second = 0] = places.map(this.#numberOf).sort((a, b) => a - b);
    const between = cord.right === null ? 0 : cord.right - cord.left - 1;
    return html`<p class="line quiet"><span class="swatch large" style="background: ${this.hexOf(cord.colour)}"></span>${t('table.cut.this', { turn, count: this.cords.length })}</p>
      <p class="said">${
        cord.right === null
          ? t('table.mount.single', { colour, at: ordinal(first), from })
          : t('table.mount.cord', { colour, first: ordinal(first), second: ordinal(second), from })
      }</p>
      <p>${longer === null ? '' : t(`table.mount.longer.${longer}`)} ${between === 0 ? '' : t('table.mount.spread', { count: between })}</p>`;
  }

  /** Rules N13 and N102. */
  #renderCompare(): TemplateResult {
    const { colours } = this.board.pattern;
    return html`<lb-hanging-strip
      class="grows"
      .must=${placesCounted(colours.length, this.#sight).map((place) => colours[place]!)}
      .side=${sideSeen(this.#sight.from, this.#sight)}
      .nameOf=${(colour: string) => this.nameOf(colour)}
      .hexOf=${(colour: string) => this.hexOf(colour)}
      .sameText=${t('table.mount.same')}
      .isHung=${isHung(this.board.piece)}
    ></lb-hanging-strip>`;
  }

  /** The back as it must look, beside one of the other sort. Rule N89. */
  #renderBacks(): TemplateResult {
    const floats = floatsOf(this.cords).length;
    const own = t(floats === 0 ? 'table.back.neat' : 'table.back.floats', { count: floats });
    const other = t(floats === 0 ? 'table.back.notSo' : 'table.back.elseNeat');
    const [a, b] = [
      this.board.pattern.colours[0]!,
      this.board.pattern.colours.find((one) => one !== this.board.pattern.colours[0]) ??
        this.board.pattern.colours[0]!,
    ];
    const example = floats === 0 ? CROSSED : NESTED;
    const figure = (label: string, cords: BackScene['cords'], strings: number): TemplateResult =>
      html`<figure>${backDrawing({ label, strings, hexOf: (colour) => this.hexOf(colour), cords, isTurned: this.#sight.isTurned })}<figcaption class="small">${label}</figcaption></figure>`;
    return html`<div class="backs">
      ${figure(own, this.cords, this.board.pattern.colours.length)}
      ${figure(
        other,
        example.map(([left, right], at) => ({ left, right, colour: at === 0 ? a : b })),
        4,
      )}
    </div>`;
  }
}

/** Two cords on four places: the second one's piece lies across the first one's end, or inside it. */
const CROSSED = [
  [0, 2],
  [1, 3],
] as const;
const NESTED = [
  [0, 3],
  [1, 2],
] as const;
