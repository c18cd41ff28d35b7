/** One labelled field of a form, with what is wrong with it said beside it. */
import { html, type TemplateResult } from 'lit';
import { t } from '../text/index.ts';
import { SHOWN_UNITS, type ShownUnit } from '../units/index.ts';
import { chosen, options } from './in-hand.ts';
import { typedValue } from './typed-value.ts';

export interface NumberField {
  /** Unique in its element. */
  readonly id: string;
  readonly label: string;
  readonly value: string;
  /** What holds while the field is empty. */
  readonly placeholder?: string;
  readonly wrong?: string | undefined;
  readonly hint?: string;
  readonly isDisabled?: boolean;
  /** On every keystroke where `live`, else when the field is left. */
  readonly live?: boolean;
  /** Beside the label. */
  readonly mark?: TemplateResult;
  readonly onValue: (text: string) => void;
  /** Told when somebody begins to type in it, and when it is left. */
  readonly onTyping?: (isTyping: boolean) => void;
}

/** A field for a number, as text: what is no number is said beside it and stays to be mended. */
export function numberField(field: NumberField): TemplateResult {
  const { id, wrong, hint, onValue, onTyping } = field;
  const listen = (event: Event): void => onValue((event.target as HTMLInputElement).value);
  const nothing = (): void => {};
  const type = (): void => onTyping?.(true);
  return html`<div class="field">
    <span class="head"><label for=${id}>${field.label}</label>${field.mark ?? ''}</span>
    <input
      id=${id}
      type="text"
      inputmode="decimal"
      autocomplete="off"
      placeholder=${field.placeholder ?? ''}
      .value=${typedValue(field.value)}
      ?disabled=${field.isDisabled ?? false}
      aria-invalid=${wrong === undefined ? 'false' : 'true'}
      aria-describedby="${id}-hint ${id}-wrong"
      @input=${field.live ? listen : type}
      @change=${field.live ? nothing : listen}
      @blur=${() => onTyping?.(false)}
    />
    <span class="quiet small" id="${id}-hint" ?hidden=${hint === undefined}>${hint}</span>
    <span class="wrong" id="${id}-wrong" role="alert" ?hidden=${wrong === undefined}>${wrong}</span>
  </div>`;
}

/** The number in a field, with a point or a comma; null when it is empty, NaN when it is none. */
export function readNumber(text: string): number | null {
  const trimmed = text.trim().replace(',', '.');
  return trimmed === '' ? null : Number(trimmed);
}

export interface ChoiceField<T extends string> {
  readonly id: string;
  readonly label: string;
  readonly value: T;
  readonly choices: readonly (readonly [T, string])[];
  readonly isDisabled?: boolean;
  /** Beside the label. */
  readonly mark?: TemplateResult;
  readonly onValue: (value: T) => void;
}

/** A field with a few choices. */
export function choiceField<T extends string>(field: ChoiceField<T>): TemplateResult {
  return html`<div class="field">
    <span class="head"><label for=${field.id}>${field.label}</label>${field.mark ?? ''}</span>
    <select
      id=${field.id}
      ?disabled=${field.isDisabled ?? false}
      .value=${chosen(field.value)}
      @change=${(event: Event) => field.onValue((event.target as HTMLSelectElement).value as T)}
    >
      ${options(field.choices.map(([value, label]) => html`<option value=${value} ?selected=${value === field.value}>${label}</option>`))}
    </select>
  </div>`;
}

/** Switches between millimetres, centimetres and inches. */
export function unitSwitch(unit: ShownUnit, onUnit: (unit: ShownUnit) => void): TemplateResult {
  return html`<div class="choices" role="group" aria-label=${t('unit.label')}>
    ${SHOWN_UNITS.map(
      (choice) =>
        html`<button type="button" aria-pressed=${choice === unit} title=${t(`unit.${choice}`)} @click=${() => onUnit(choice)}>${choice}<span class="visually-hidden"> ${t(`unit.${choice}`)}</span></button>`,
    )}
  </div>`;
}
