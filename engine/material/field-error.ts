/** Errors that name the field that is wrong, what it has to be and what it is. */
import type { Demand } from '../pattern/index.ts';

/** What a field has to be, so that a page can say it in any language. */
export type FieldDemand = Extract<
  Demand,
  { be: 'above-0' | 'not-negative' | 'whole' | 'between' | 'unset-beside' | 'short-for-repeats' }
>;

/** A field holds a number it cannot hold. */
export class FieldRangeError extends RangeError {
  readonly kind = 'out-of-range';
  /** Path of the field, such as `gauge.cordMm`. */
  readonly path: string;
  readonly demand: FieldDemand;
  readonly value: unknown;

  constructor(path: string, demand: FieldDemand, value: unknown) {
    super(`${path} must be ${inEnglish(demand)}, not ${String(value)}`);
    this.name = 'FieldRangeError';
    this.path = path;
    this.demand = demand;
    this.value = value;
  }
}

function inEnglish(demand: FieldDemand): string {
  switch (demand.be) {
    case 'above-0':
      return 'a number above 0';
    case 'not-negative':
      return 'a number of 0 or more';
    case 'whole':
      return `a whole number from ${demand.least} to ${demand.most}`;
    case 'between':
      return `a number from ${demand.least} to ${demand.most}`;
    case 'unset-beside':
      return `unset where ${demand.other} is set`;
    case 'short-for-repeats':
      return `short enough for ${demand.most} repeats`;
  }
}

/** @throws FieldRangeError when `value` is not a finite number above 0 */
export function requirePositive(path: string, value: number): void {
  if (!(Number.isFinite(value) && value > 0)) throw new FieldRangeError(path, { be: 'above-0' }, value);
}

/** @throws FieldRangeError when `value` is not a finite number of 0 or more */
export function requireNotNegative(path: string, value: number): void {
  if (!(Number.isFinite(value) && value >= 0)) throw new FieldRangeError(path, { be: 'not-negative' }, value);
}

/** @throws FieldRangeError when `value` is not a whole number from `least` to `most` */
export function requireWhole(path: string, value: number, least: number, most: number): void {
  if (!(Number.isSafeInteger(value) && value >= least && value <= most))
    throw new FieldRangeError(path, { be: 'whole', least, most }, value);
}
