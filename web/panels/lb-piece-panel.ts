/** What is made of the pattern: how long, how it ends, what it hangs from, what it costs. */
import { html, type TemplateResult } from 'lit';
import { state } from 'lit/decorators.js';
import { keyed } from 'lit/directives/keyed.js';
import {
  DEFAULT_KNOTS_PER_MINUTE,
  PIECE_FIELDS,
  type Piece,
  pieceSize,
  SKEIN_MM,
  SPARE_MM,
  TAIL_MM,
} from '../../engine/index.ts';
import { choiceField, numberField, readNumber, unitSwitch } from '../fields/index.ts';
import { controls, panelStyles } from '../styles/index.ts';
import { type TextKey, t } from '../text/index.ts';
import {
  fieldToLength,
  formatFine,
  formatNumber,
  fromLength,
  keepUnit,
  lengthToField,
  readUnit,
  type ShownUnit,
} from '../units/index.ts';
import { orRefusal, saySize, sayStops } from '../words/index.ts';
import { entryMark } from './entry-mark.ts';
import { Panel } from './panel.ts';

/** Fields that hold a number; lengths are those in mm. */
type NumberName = {
  [K in keyof Piece]-?: NonNullable<Piece[K]> extends number ? K : never;
}[keyof Piece];

export class LbPiecePanel extends Panel {
  static override styles = [controls, panelStyles];

  @state() private unit: ShownUnit = readUnit();
  /** What was typed and refused, until the field is typed in again. */
  @state() private refused: ReadonlyMap<NumberName, { readonly text: string; readonly why: string }> =
    new Map();
  /** Which of repeats and length is shown while neither is set. */
  @state() private byLength: boolean | null = null;
  /** The field that is typed in: it stays the same one, whatever others choose meanwhile. */
  @state() private typedIn: NumberName | null = null;

  protected override render(): TemplateResult {
    const { piece } = this.board;
    const isLength = this.#isChosen('lengthMm', 'repeats', this.byLength ?? piece.lengthMm !== undefined);
    const endKnot = piece.endKnot ?? 'overhand';
    const isRound = this.#isChosen('ringMm', 'barMm', piece.ring === 'round');
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
      <fieldset>
        <legend>${t('piece.hanging')}</legend>
        <div class="fields">
          ${choiceField({
            id: 'ring',
            label: t('piece.ring'),
            mark: this.#mark('ring'),
            value: piece.ring ?? 'd-ring',
            choices: (['d-ring', 'round'] as const).map((ring) => [ring, t(`piece.ring.${ring}`)]),
            isDisabled,
            onValue: (ring) => this.run({ kind: 'set-piece', patch: { ring } }),
          })}
          ${isRound ? this.#number('ringMm') : this.#number('barMm')}
        </div>
      </fieldset>
      <fieldset>
        <legend>${t('piece.money')}</legend>
        <p class="quiet small">${t('piece.moneyHint')}</p>
        <div class="fields">
          ${this.#number('skeinMm', this.#length(SKEIN_MM))} ${this.#number('skeinPrice')} ${this.#number('partsPrice')}
          ${this.#number('hourlyRate')} ${this.#number('knotsPerMinute', String(DEFAULT_KNOTS_PER_MINUTE))}
        </div>
      </fieldset>
      <p class="caution">${t('piece.caution')}</p>
    `;
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
        choices: (['band', 'whole'] as const).map((of) => [of, t(`piece.lengthOf.${of}`)]),
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
    const value = this.board.piece[name];
    const refusal = this.refused.get(name);
    const field = numberField({
      id: name,
      label: isLength ? t(`piece.${name}` as TextKey, { unit }) : t(`piece.${name}` as TextKey),
      value:
        refusal?.text ?? (isLength ? lengthToField(value, unit) : value === undefined ? '' : String(value)),
      placeholder: unset === '' ? '' : t('piece.default', { value: unset }),
      wrong: refusal?.why,
      ...(hint === undefined ? {} : { hint }),
      isDisabled: !this.canEdit,
      mark: this.#mark(name),
      onValue: (text) => this.#change(name, text),
      onTyping: (isTyping) => {
        this.typedIn = isTyping ? name : null;
      },
    });
    // A field that takes the place of another is not the same one with another name.
    return keyed(name, field);
  }

  #change(name: NumberName, text: string): void {
    const read = readNumber(text);
    const isLength = name.endsWith('Mm');
    const value = read === null || Number.isNaN(read) || !isLength ? read : fieldToLength(read, this.unit);
    const why = this.#whyNot(name, value);
    const refused = new Map(this.refused);
    refused.delete(name);
    if (why !== null) refused.set(name, { text, why });
    this.refused = refused;
    if (why === null) this.run({ kind: 'set-piece', patch: { [name]: value } });
  }

  /** The sentence that says what the field takes; null when it takes this. */
  #whyNot(name: NumberName, value: number | null): string | null {
    if (value === null) return null;
    const rule = PIECE_FIELDS[name];
    if (!Number.isFinite(value)) return t('piece.wrong.not-number');
    if (rule.type === 'choice' || rule.type === 'text') throw new TypeError(`${name} holds no number`);
    const { min } = rule;
    const max = name === 'leadInRows' ? this.board.pattern.rows : rule.max;
    const show = (limit: number): string =>
      name.endsWith('Mm') ? formatNumber(fromLength(limit, this.unit), 1) : formatNumber(limit, 0);
    const limits = { least: show(min), most: show(max) };
    if (rule.type === 'whole')
      return Number.isInteger(value) && value >= min && value <= max ? null : t('piece.wrong.whole', limits);
    if (value > max || value < min || (rule.isMinOpen && value === min))
      return t(rule.isMinOpen ? 'piece.wrong.above' : 'piece.wrong.from', limits);
    return null;
  }
}
