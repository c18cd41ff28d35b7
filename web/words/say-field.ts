/** A field out of range, as a sentence in the page's language: which field, what it has to be, what it is. */
import type { FieldRangeError } from '../../engine/index.ts';
import { sayDemand } from './say-error.ts';

/** For example "Width for a string (mm) must be a number above 0, not -1". */
export function sayFieldError({
  path,
  demand,
  value,
}: Pick<FieldRangeError, 'path' | 'demand' | 'value'>): string {
  return sayDemand(demand, path, String(value));
}
