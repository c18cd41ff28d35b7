/** The unit in which this browser shows lengths, and how they are written in it. */
import { formatInch, fromMm, toMm } from '../../engine/index.ts';

export type ShownUnit = 'mm' | 'cm' | 'in';

export const SHOWN_UNITS: readonly ShownUnit[] = ['mm', 'cm', 'in'];
const KEY = 'larkboard-unit';
/** On the window, when another unit was chosen. */
export const UNIT_EVENT = 'lb-unit';

/** The unit chosen last; millimetres until one was. */
export function readUnit(): ShownUnit {
  const kept = localStorage.getItem(KEY);
  return SHOWN_UNITS.find((unit) => unit === kept) ?? 'mm';
}

/** Remembers the unit and tells all of the page. */
export function keepUnit(unit: ShownUnit): void {
  localStorage.setItem(KEY, unit);
  dispatchEvent(new Event(UNIT_EVENT));
}

/** A number as people of this language write it, with at most so many decimals. */
export function formatNumber(value: number, decimals: number): string {
  return new Intl.NumberFormat(document.documentElement.lang || 'en', {
    maximumFractionDigits: decimals,
  }).format(value);
}

/** A price as people of this language write it, to the hundredth (3.60). Without a currency: the maker states amounts in hers. */
export function formatPrice(value: number): string {
  return new Intl.NumberFormat(document.documentElement.lang || 'en', {
    minimumFractionDigits: 2,
    maximumFractionDigits: 2,
  }).format(value);
}

/** A length to cut or to reach: whole millimetres, or eighths of an inch; never shown shorter than it is. */
export function formatCut(mm: number, unit: ShownUnit): string {
  if (unit === 'in') return formatInch(mm, 8, 'up');
  // What was computed to a whole millimetre must not become the next one by an error of the last digit, nor nothing less than nothing.
  return `${formatNumber(fromMm(Math.ceil(Math.max(0, mm - 1e-6)), unit), 1)} ${unit}`;
}

/** A length as it came out: the nearest whole millimetre or eighth of an inch. */
export function formatNear(mm: number, unit: ShownUnit): string {
  if (unit === 'in') return formatInch(mm);
  return `${formatNumber(fromMm(Math.round(mm), unit), 1)} ${unit}`;
}

/** A length as measured, finely: hundredths of a millimetre, thousandths of an inch. */
export function formatFine(mm: number, unit: ShownUnit): string {
  return `${formatNumber(fromMm(mm, unit), unit === 'mm' ? 2 : 3)} ${unit}`;
}

/** What stands in a field for a length; empty where it is unset. */
export function lengthToField(mm: number | undefined, unit: ShownUnit): string {
  return mm === undefined ? '' : String(Number(fromMm(mm, unit).toFixed(4)));
}

/** A length in the unit shown, as a bare number. */
export function fromLength(mm: number, unit: ShownUnit): number {
  return fromMm(mm, unit);
}

/** Millimetres of what stands in a field, to a thousandth. */
export function fieldToLength(value: number, unit: ShownUnit): number {
  return Math.round(toMm(value, unit) * 1000) / 1000;
}
