/** Why there is no answer, as data. */
import { type Demand, demandMessage, showValue } from '../pattern/index.ts';

/**
 * What is wrong with a target or its options. `cannot-be`: no board meets the options together, whatever it shows. `too-few-steps`: none was
 * found in the steps given, and none is refuted.
 */
export type SolveErrorKind =
  | 'wrong-type'
  | 'out-of-range'
  | 'wrong-count'
  | 'unknown-colour'
  | 'unknown-knot'
  | 'duplicate-id'
  | 'cannot-be'
  | 'too-few-steps';

/** Why there is no answer. */
export interface SolveError {
  readonly kind: SolveErrorKind;
  /** Where, such as `rows[3][2]` or `options.leadInRows`. */
  readonly path: string;
  /** An English sentence for people who read logs; pages have their own, by `demand` or `kind`. */
  readonly message: string;
  /** What would have to stand there, where that can be said. */
  readonly demand?: Demand;
  /** What stands there, as it may stand in a sentence; with `demand`. */
  readonly value?: string;
}

/** Carries an error out of nested readers; never leaves this folder. */
export class Refusal extends Error {
  readonly error: SolveError;

  constructor(kind: SolveErrorKind, path: string, what: string | Demand, found?: unknown) {
    const value = showValue(found);
    const text = typeof what === 'string' ? what : demandMessage(what, value);
    const message = path === '' ? text : `${path}: ${text}`;
    super(message);
    this.error = { kind, path, message, ...(typeof what === 'string' ? {} : { demand: what, value }) };
  }
}

/** What a reader or search gives, or the error that one of them refused with. */
export function answerOrError<T>(work: () => T): T | { readonly ok: false; readonly error: SolveError } {
  try {
    return work();
  } catch (thrown) {
    if (thrown instanceof Refusal) return { ok: false, error: thrown.error };
    throw thrown;
  }
}

/** @throws Refusal when a value is no whole number from `least` to `most` */
export function asWhole(value: unknown, path: string, least: number, most: number): number {
  if (!(typeof value === 'number' && Number.isInteger(value) && value >= least && value <= most))
    throw new Refusal('out-of-range', path, { be: 'whole', least, most }, value);
  return value;
}

/** @throws Refusal when a value is no list */
export function asList(value: unknown, path: string): readonly unknown[] {
  if (!Array.isArray(value)) throw new Refusal('wrong-type', path, { be: 'list' }, value);
  return value;
}

/** @throws Refusal when a value is no object */
export function asFields(value: unknown, path: string): Readonly<Record<string, unknown>> {
  if (typeof value !== 'object' || value === null || Array.isArray(value))
    throw new Refusal('wrong-type', path, { be: 'object' }, value);
  return value as Readonly<Record<string, unknown>>;
}
