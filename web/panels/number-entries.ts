/** Fields of a panel that hold numbers: what is typed is held against its rule, and what is refused stays to be mended. */
import { keyed } from 'lit/directives/keyed.js';
import type { ReactiveController, ReactiveControllerHost, TemplateResult } from 'lit';
import type { FieldRule } from '../../engine/index.ts';
import { numberField, readNumber } from '../fields/index.ts';
import { t } from '../text/index.ts';
import { fieldToLength, formatNumber, fromLength, lengthToField, type ShownUnit } from '../units/index.ts';

/** What a number in a field means: millimetres, hundredths of what is stored, or itself. */
type NumberKind = 'length' | 'share' | 'plain';

interface NumberEntry {
  /** Unique in its panel. */
  readonly id: string;
  readonly label: string;
  readonly kind: NumberKind;
  readonly rule: FieldRule;
  /** As stored. */
  readonly value: number | undefined;
  /** What holds while the field is empty, in words. */
  readonly unset?: string;
  readonly hint?: string;
  /** The most, where that depends on the board. */
  readonly most?: number;
  readonly isDisabled: boolean;
  readonly mark?: TemplateResult;
  /** Null where the field was emptied. */
  readonly onValue: (value: number | null) => void;
  /** Told when somebody begins to type in it, and when it is left. */
  readonly onTyping?: (isTyping: boolean) => void;
}

/** Remembers what was typed and refused, until the field is typed in again. */
export class NumberEntries implements ReactiveController {
  readonly #host: ReactiveControllerHost;
  #refused: ReadonlyMap<string, { readonly text: string; readonly why: string }> = new Map();

  constructor(host: ReactiveControllerHost) {
    this.#host = host;
    host.addController(this);
  }

  hostConnected(): void {}

  /** A field, in the unit that is shown. */
  field(entry: NumberEntry, unit: ShownUnit): unknown {
    const { id, label, value, unset = '', hint, mark, onTyping } = entry;
    const refusal = this.#refused.get(id);
    const field = numberField({
      id,
      label,
      value: refusal?.text ?? toField(entry, value, unit),
      placeholder: unset === '' ? '' : t('piece.default', { value: unset }),
      wrong: refusal?.why,
      ...(hint === undefined ? {} : { hint }),
      isDisabled: entry.isDisabled,
      ...(mark === undefined ? {} : { mark }),
      onValue: (text) => this.#change(entry, text, unit),
      ...(onTyping === undefined ? {} : { onTyping }),
    });
    // A field that takes the place of another is not the same one with another name.
    return keyed(id, field);
  }

  #change(entry: NumberEntry, text: string, unit: ShownUnit): void {
    const read = readNumber(text);
    const value = read === null || Number.isNaN(read) ? read : toStored(entry, read, unit);
    const why = value === null ? null : whyNot(entry, value, unit);
    const refused = new Map(this.#refused);
    refused.delete(entry.id);
    if (why !== null) refused.set(entry.id, { text, why });
    this.#refused = refused;
    this.#host.requestUpdate();
    if (why === null) entry.onValue(value);
  }
}

function toField({ kind }: NumberEntry, value: number | undefined, unit: ShownUnit): string {
  if (kind === 'length') return lengthToField(value, unit);
  // A share such as 0.07 times a hundred is not quite 7.
  if (kind === 'share') return value === undefined ? '' : String(Math.round(value * 1e8) / 1e6);
  return value === undefined ? '' : String(value);
}

function toStored({ kind }: NumberEntry, read: number, unit: ShownUnit): number {
  if (kind === 'length') return fieldToLength(read, unit);
  return kind === 'share' ? Math.round(read * 1e6) / 1e8 : read;
}

/** The sentence that says what the field takes; null when it takes this. */
function whyNot({ id, kind, rule, most }: NumberEntry, value: number, unit: ShownUnit): string | null {
  if (!Number.isFinite(value)) return t('piece.wrong.not-number');
  if (rule.type === 'choice' || rule.type === 'text') throw new TypeError(`${id} holds no number`);
  const { min } = rule;
  const max = most ?? rule.max;
  const show = (limit: number): string =>
    kind === 'length'
      ? formatNumber(fromLength(limit, unit), 1)
      : formatNumber(kind === 'share' ? limit * 100 : limit, 0);
  const limits = { least: show(min), most: show(max) };
  if (rule.type === 'whole')
    return Number.isInteger(value) && value >= min && value <= max ? null : t('piece.wrong.whole', limits);
  if (value > max || value < min || (rule.isMinOpen && value === min))
    return t(rule.isMinOpen ? 'piece.wrong.above' : 'piece.wrong.from', limits);
  return null;
}
