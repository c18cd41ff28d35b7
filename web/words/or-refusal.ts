import { FieldRangeError } from '../../engine/index.ts';
import { sayFieldError } from './say-field.ts';

/** What `compute` gives, or the sentence in which it refused a field of the board. Other errors are thrown on. */
export function orRefusal<T>(compute: () => T): { ok: true; value: T } | { ok: false; why: string } {
  try {
    return { ok: true, value: compute() };
  } catch (error) {
    if (!(error instanceof FieldRangeError)) throw error;
    return { ok: false, why: sayFieldError(error) };
  }
}
