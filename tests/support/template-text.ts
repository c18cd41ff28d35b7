/** What a template of the page says, without a browser: its markup with all values put in, blanks folded. */
import type { TemplateResult } from 'lit';
import { getDirectiveClass } from 'lit/directive-helpers.js';
import { repeat } from 'lit/directives/repeat.js';

const REPEAT = getDirectiveClass(repeat([], () => ''));

const isTemplate = (value: unknown): value is TemplateResult =>
  typeof value === 'object' && value !== null && 'strings' in value && 'values' in value;

/** The list that `repeat` makes; null for anything else. */
function repeated(value: unknown): readonly unknown[] | null {
  if (typeof value !== 'object' || value === null || getDirectiveClass(value) !== REPEAT) return null;
  const { values } = value as { readonly values: Parameters<typeof repeat> };
  const make = values.at(-1) as (one: unknown, at: number) => unknown;
  return Array.from(values[0], make);
}

function written(value: unknown): string {
  const list = repeated(value);
  if (list !== null) return list.map(written).join('');
  if (isTemplate(value)) return value.strings.map((text, i) => text + written(value.values[i])).join('');
  if (Array.isArray(value)) return value.map(written).join('');
  // Nothing, and what only a browser can do with it: listeners and directives.
  return typeof value === 'string' || typeof value === 'number' ? String(value) : '';
}

/** The markup. */
export function markupOf(template: unknown): string {
  return written(template).replace(/\s+/g, ' ').trim();
}

/** The words in it. */
export function wordsOf(template: unknown): string {
  return markupOf(template)
    .replace(/<[^>]*>/g, ' ')
    .replace(/\s+/g, ' ')
    .trim();
}
