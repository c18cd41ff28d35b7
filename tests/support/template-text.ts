/** What a template of the page says, without a browser: its markup with all values put in, blanks folded. */
import type { TemplateResult } from 'lit';

const isTemplate = (value: unknown): value is TemplateResult =>
  typeof value === 'object' && value !== null && 'strings' in value && 'values' in value;

function written(value: unknown): string {
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
