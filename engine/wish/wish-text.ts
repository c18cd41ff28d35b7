/** Wishes as text, for what a device keeps and for what is carried from one to another. */
import { checkTarget, type SolveError } from '../solve/index.ts';
import type { Wish } from './wish.ts';

const FORMAT = 'larkboard-wish';
const VERSION = 1;

/** The wish as JSON. The inverse of {@link readWish}. Rule J53. */
export function formatWish({ strings, start, palette, rows }: Wish): string {
  return JSON.stringify({ format: FORMAT, version: VERSION, strings, start, palette, rows });
}

/**
 * Reads a wish, which may come from anywhere: what is wrong is given as data, with the path of the bad field; never throws for what the text
 * holds. Rule J53.
 */
export function readWish(
  text: string,
): { readonly ok: true; readonly value: Wish } | { readonly ok: false; readonly error: SolveError } {
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch {
    return refuse('wrong-type', '', 'the text is no JSON');
  }
  const { format, version } = (value ?? {}) as Readonly<Record<string, unknown>>;
  if (format !== FORMAT) return refuse('wrong-type', 'format', `is not ${FORMAT}`);
  if (version !== VERSION) return refuse('out-of-range', 'version', `is not ${VERSION}`);
  return checkTarget(value);
}

function refuse(
  kind: SolveError['kind'],
  path: string,
  message: string,
): { readonly ok: false; readonly error: SolveError } {
  return { ok: false, error: { kind, path, message: path === '' ? message : `${path}: ${message}` } };
}
