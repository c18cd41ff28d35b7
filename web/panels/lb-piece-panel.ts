/** What is made of the pattern: how long, how it begins and ends, what it hangs from. */
import { html, type TemplateResult } from 'lit';
import { state } from 'lit/decorators.js';
import {
  type BeginKind,
  endKnotOf,
  headKnotOf,
  isHung,
  LOOP_MM,
  PIECE_FIELDS,
  type Piece,
  pieceSize,
  SPARE_MM,
  TAIL_MM,
  usualHeadMm,
} from '../../engine/index.ts';
import { choiceField, unitSwitch } from '../fields/index.ts';
import { controls, panelStyles } from '../styles/index.ts';
import { type TextKey, t } from '../text/index.ts';
import { formatFine, keepUnit, readUnit, type ShownUnit } from '../units/index.ts';
import { orRefusal, saySize, sayStops } from '../words/index.ts';
import { entryMark } from './entry-mark.ts';
import { NumberEntries } from './number-entries.ts';
import { Panel } from './panel.ts';

/** Fields that hold a number; lengths are those in mm. */
type NumberName = {
  [K in keyof Piece]-?: NonNullable<Piece[K]> extends number ? K : never;
}[keyof Piece];

export class LbPiecePanel extends Panel {
  static override styles = [controls, panelStyles];

  @state() private unit: ShownUnit = readUnit();
  readonly #numbers = new NumberEntries(this);
  /** Which of repeats and length is shown while neither is set. */
  @state() private byLength: boolean | null = null;
  /** The field that is typed in: it stays the same one, whatever others choose meanwhile. */
  @state() private typedIn: NumberName | null = null;

  protected override render(): TemplateResult {
    const { piece } = this.board;
    const isLength = this.#isChosen('lengthMm', 'repeats', this.byLength ?? piece.lengthMm !== undefined);
    const endKnot = endKnotOf(piece);
    const isDisabled = !this.canEdit;
    return html`
      <h2>${t('panels.piece')}</h2>
      <p class="quiet">${t('piece.purpose')}</p>
      ${unitSwitch(this.unit, (unit) => {
        this.unit = unit;
        keepUnit(unit);
      })}
      <fieldset>
        <legend>${t('piece.extent')}</legend>
        <div class="fields">
          ${choiceField({
            id: 'by',
            label: t('piece.by'),
            value: isLength ? 'length' : 'repeats',
            choices: [
              ['repeats', t('piece.byRepeats')],
              ['length', t('piece.byLength')],
            ],
            isDisabled,
            onValue: (value) => {
              this.byLength = value === 'length';
            },
          })}
          ${isLength ? this.#number('lengthMm') : this.#number('repeats', '1')}
          ${this.#number('leadInRows', '0', t('piece.leadInHint'))}
        </div>
        ${isLength ? this.#renderLengthChoices(isDisabled) : ''} ${this.#renderSize()}
      </fieldset>
      ${this.#renderBeginning(isDisabled)}
      <fieldset>
        <legend>${t('piece.ending')}</legend>
        <div class="fields">
          ${choiceField({
            id: 'end',
            label: t('piece.end'),
            mark: this.#mark('end'),
            value: piece.end ?? 'straight',
            choices: (['straight', 'triangle', 'double triangle'] as const).map((end) => [
              end,
              t(`piece.end.${end}`),
            ]),
            isDisabled,
            onValue: (end) => this.run({ kind: 'set-piece', patch: { end } }),
          })}
          ${choiceField({
            id: 'endKnot',
            label: t('piece.endKnot'),
            mark: this.#mark('endKnot'),
            value: endKnot,
            choices: (['overhand', 'tassel', 'braid', 'none'] as const).map((knot) => [
              knot,
              t(`piece.endKnot.${knot}`),
            ]),
            isDisabled,
            onValue: (knot) => this.run({ kind: 'set-piece', patch: { endKnot: knot } }),
          })}
          ${this.#number('tailMm', this.#length(TAIL_MM[endKnot]))} ${this.#number('spareMm', this.#length(SPARE_MM))}
        </div>
      </fieldset>
      <p class="caution">${t('piece.caution')}</p>
    `;
  }

  /** Rule B282. */
  #renderBeginning(isDisabled: boolean): TemplateResult {
    const { piece } = this.board;
    const { begin = 'ring' } = piece;
    return html`<fieldset>
      <legend>${t('begin.legend')}</legend>
      <div class="fields">
        ${choiceField<BeginKind>({
          id: 'begin',
          label: t('piece.begin'),
          mark: this.#mark('begin'),
          value: begin,
          choices: (['ring', 'loose', 'loop', 'stick'] as const).map((one) => [one, t(`piece.begin.${one}`)]),
          isDisabled,
          // On a ring is what nothing is said of, so that the file stays one that older programs read.
          onValue: (one) => this.run({ kind: 'set-piece', patch: { begin: one === 'ring' ? null : one } }),
        })}
        ${isHung(piece) ? this.#renderRing(isDisabled) : this.#renderHead(isDisabled)}
      </div>
      ${begin === 'ring' ? '' : html`<p class="quiet small">${t(`begin.hint.${begin}`)}</p>`}
    </fieldset>`;
  }

  #renderRing(isDisabled: boolean): TemplateResult {
    const { piece } = this.board;
    const isRound = this.#isChosen('ringMm', 'barMm', piece.ring === 'round');
    return html`${choiceField({
      id: 'ring',
      label: t('piece.ring'),
      mark: this.#mark('ring'),
      value: piece.ring ?? 'd-ring',
      choices: (['d-ring', 'round'] as const).map((ring) => [ring, t(`piece.ring.${ring}`)]),
      isDisabled,
      onValue: (ring) => this.run({ kind: 'set-piece', patch: { ring } }),
    })}
    ${isRound ? this.#number('ringMm') : this.#number('barMm')}`;
  }

  #renderHead(isDisabled: boolean): TemplateResult {
    const { piece } = this.board;
    const usual = usualHeadMm(piece);
    return html`${piece.begin === 'loop' ? this.#number('loopMm', this.#length(LOOP_MM)) : ''}
    ${choiceField({
      id: 'headKnot',
      label: t('piece.headKnot'),
      mark: this.#mark('headKnot'),
      value: headKnotOf(piece),
      choices: (['braid', 'overhand', 'none'] as const).map((knot) => [knot, t(`piece.headKnot.${knot}`)]),
      isDisabled,
      onValue: (headKnot) => this.run({ kind: 'set-piece', patch: { headKnot } }),
    })}
    ${usual === null ? this.#number('headMm', '', t('piece.headHint')) : this.#number('headMm', this.#length(usual))}`;
  }

  /** Which of two fields is shown, where only one is. */
  #isChosen(one: NumberName, other: NumberName, isOne: boolean): boolean {
    return this.typedIn === one || (isOne && this.typedIn !== other);
  }

  #renderSize(): TemplateResult {
    const size = orRefusal(() => pieceSize(this.board));
    if (!size.ok) return html`<p class="warn" role="alert">${t('panels.range', { why: size.why })}</p>`;
    return html`<p class="small" role="status">${saySize(this.board, size.value, this.unit).join(' ')}</p>`;
  }

  /** Of what the length is, and where the band stops: both ways with the length they make. */
  #renderLengthChoices(isDisabled: boolean): TemplateResult {
    const { piece } = this.board;
    const stops = orRefusal(() => sayStops(this.board, this.unit));
    return html`
      ${choiceField({
        id: 'lengthOf',
        label: t('piece.lengthOf'),
        mark: this.#mark('lengthOf'),
        value: piece.lengthOf ?? 'band',
        choices: (['band', 'whole'] as const).map((of) => [
          of,
          t(of === 'whole' && !isHung(piece) ? 'begin.ofWhole' : `piece.lengthOf.${of}`),
        ]),
        isDisabled,
        onValue: (lengthOf) => this.run({ kind: 'set-piece', patch: { lengthOf } }),
      })}
      ${choiceField({
        id: 'stopAt',
        label: t('piece.stopAt'),
        mark: this.#mark('stopAt'),
        value: piece.stopAt ?? 'row',
        choices: (['row', 'finished'] as const).map((stop) => [
          stop,
          (stops.ok ? stops.value?.[stop] : undefined) ?? t(`piece.stopAt.${stop}`),
        ]),
        isDisabled,
        onValue: (stopAt) => this.run({ kind: 'set-piece', patch: { stopAt } }),
      })}
    `;
  }

  #mark(name: keyof Piece): TemplateResult {
    return entryMark('piece', { on: 'value', name });
  }

  #length(mm: number): string {
    return formatFine(mm, this.unit);
  }

  #number(name: NumberName, unset = '', hint?: string): unknown {
    const { unit } = this;
    const isLength = name.endsWith('Mm');
    return this.#numbers.field(
      {
        id: name,
        label: t(`piece.${name}` as TextKey, isLength ? { unit } : {}),
        kind: isLength ? 'length' : 'plain',
        rule: PIECE_FIELDS[name],
        value: this.board.piece[name],
        unset,
        ...(hint === undefined ? {} : { hint }),
        ...(name === 'leadInRows' ? { most: this.board.pattern.rows } : {}),
        isDisabled: !this.canEdit,
        mark: this.#mark(name),
        onValue: (value) => this.run({ kind: 'set-piece', patch: { [name]: value } }),
        onTyping: (isTyping) => {
          this.typedIn = isTyping ? name : null;
        },
      },
      unit,
    );
  }
}
