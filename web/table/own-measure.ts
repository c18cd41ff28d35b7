/** A measure of the maker's own, such as the edge of the table or a forearm: entered once, kept on the device, said beside each length. */
import { html, type TemplateResult } from 'lit';
import { numberField, readNumber } from '../fields/index.ts';
import { t } from '../text/index.ts';
import { fieldToLength, formatCut, readUnit } from '../units/index.ts';

export interface OwnMeasure {
  /** What the maker calls it, not empty. */
  readonly name: string;
  /** In mm. */
  readonly mm: number;
}

const KEY = 'larkboard.table-measure';
const MOST_NAME = 30;
/** Shorter ones measure no cord, longer ones lie on no table. In mm. */
export const LEAST_MM = 50;
export const MOST_MM = 5000;

type Shelf = Pick<Storage, 'getItem' | 'setItem' | 'removeItem'>;

/** Null where none was entered, or it can't be read. */
export function readMeasure(shelf: Shelf = localStorage): OwnMeasure | null {
  const kept = shelf.getItem(KEY);
  if (kept === null) return null;
  try {
    const read = JSON.parse(kept) as Partial<Record<keyof OwnMeasure, unknown>> | null;
    const { name, mm } = read ?? {};
    return typeof name === 'string' && typeof mm === 'number' ? measureOf(name, mm) : null;
  } catch (error) {
    if (!(error instanceof SyntaxError)) throw error;
    return null;
  }
}

/** A measure as it may be kept; null when its name is empty or its length makes no sense. */
export function measureOf(name: string, mm: number): OwnMeasure | null {
  const called = name.trim().slice(0, MOST_NAME);
  return called !== '' && mm >= LEAST_MM && mm <= MOST_MM ? { name: called, mm } : null;
}

/** @returns whether there was room to keep it */
export function keepMeasure(measure: OwnMeasure | null, shelf: Shelf = localStorage): boolean {
  try {
    if (measure === null) shelf.removeItem(KEY);
    else shelf.setItem(KEY, JSON.stringify(measure));
    return true;
  } catch (error) {
    if (!(error instanceof DOMException)) throw error;
    return false;
  }
}

/** How often a measure goes into a length, and what is left, in mm; less than half a cm over or under is none. */
export function inMeasure(
  lengthMm: number,
  { mm }: OwnMeasure,
): { readonly times: number; readonly restMm: number } {
  const nearest = Math.round(lengthMm / mm);
  if (nearest > 0 && Math.abs(lengthMm - nearest * mm) < 5) return { times: nearest, restMm: 0 };
  const times = Math.floor(lengthMm / mm);
  return { times, restMm: lengthMm - times * mm };
}

/** `2 × table edge and 14 cm`; empty where there is no measure, or the length is below it. Rule N87. */
export function sayInMeasure(lengthMm: number, measure: OwnMeasure | null): string {
  if (measure === null) return '';
  const { times, restMm } = inMeasure(lengthMm, measure);
  if (times === 0) return '';
  const values = { times, name: measure.name };
  return restMm === 0
    ? t('table.measure.just', values)
    : t('table.measure.more', { ...values, rest: formatCut(restMm, readUnit()) });
}

export interface MeasureForm {
  readonly name: string;
  readonly length: string;
  /** What is wrong with the length; empty = nothing. */
  readonly wrong: string;
  readonly onName: (name: string) => void;
  readonly onLength: (length: string) => void;
}

/** Two fields. The length is in the unit that lengths are shown in. */
export function measureForm({ name, length, wrong, onName, onLength }: MeasureForm): TemplateResult {
  return html`<details><summary>${t('table.measure.heading')}</summary>
    <p class="small quiet">${t('table.measure.why')}</p>
    <div class="field"><label for="measure-name">${t('table.measure.name')}</label>
      <input id="measure-name" maxlength=${MOST_NAME} autocomplete="off" placeholder=${t('table.measure.example')} .value=${name} @change=${(event: Event) => onName((event.target as HTMLInputElement).value)} /></div>
    ${numberField({
      id: 'measure-length',
      label: t('table.measure.length', { unit: readUnit() }),
      value: length,
      wrong: wrong === '' ? undefined : wrong,
      onValue: onLength,
    })}</details>`;
}

/** The length that was typed, in mm; NaN when it is no number. */
export function typedMm(text: string): number {
  const value = readNumber(text);
  return value === null ? Number.NaN : fieldToLength(value, readUnit());
}
