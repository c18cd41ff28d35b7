/** What stands in the fields of the swatch form, and the swatches read from it. */
import type { Swatch, SwatchError } from '../../engine/index.ts';
import { readNumber } from '../fields/index.ts';
import { fieldToLength, lengthToField, type ShownUnit } from '../units/index.ts';

export type SwatchField = keyof Swatch;

/** In the order of the form. */
export const SWATCH_FIELDS: readonly SwatchField[] = [
  'strings',
  'widthMm',
  'rows',
  'heightMm',
  'cutMm',
  'leftMm',
  'knotting',
  'carrier',
];

const LENGTHS: ReadonlySet<SwatchField> = new Set(['widthMm', 'heightMm', 'cutMm', 'leftMm']);

/** One swatch as typed; an absent field is empty. */
export type SwatchText = Readonly<Partial<Record<SwatchField, string>>>;

/** `path` as in the engine's errors: `swatches[0].leftMm`, or `swatches` for all of them. */
export interface FormError {
  readonly kind: SwatchError['kind'] | 'not-number';
  readonly path: string;
}

export function isLength(field: SwatchField): boolean {
  return LENGTHS.has(field);
}

/** The swatches of the form, or the first field that holds no number. */
export function readSwatches(
  texts: readonly SwatchText[],
  unit: ShownUnit,
):
  | { readonly ok: true; readonly value: readonly Swatch[] }
  | { readonly ok: false; readonly error: FormError } {
  const swatches: Swatch[] = [];
  for (const [index, text] of texts.entries()) {
    const swatch: { -readonly [K in SwatchField]?: number } = {};
    for (const field of SWATCH_FIELDS) {
      const value = readNumber(text[field] ?? '');
      if (value === null) continue;
      if (Number.isNaN(value))
        return { ok: false, error: { kind: 'not-number', path: `swatches[${index}].${field}` } };
      swatch[field] = isLength(field) ? fieldToLength(value, unit) : value;
    }
    swatches.push(swatch);
  }
  return { ok: true, value: swatches };
}

/** The same lengths in another unit; what is no number stays as it is. */
export function convertLengths(text: SwatchText, from: ShownUnit, to: ShownUnit): SwatchText {
  const converted: Partial<Record<SwatchField, string>> = { ...text };
  for (const field of LENGTHS) {
    const value = readNumber(text[field] ?? '');
    if (value !== null && !Number.isNaN(value))
      converted[field] = lengthToField(fieldToLength(value, from), to);
  }
  return converted;
}
