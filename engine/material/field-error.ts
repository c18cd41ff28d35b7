/** Values that make no sense, told by the path of the field that holds them. */

/** A field holds a value outside its range. A caller's bug where thrown: boards from files and peers are checked on reading. */
export class FieldRangeError extends RangeError {
  readonly kind = 'out-of-range';
  /** Path of the field, such as `gauge.cordMm`. */
  readonly path: string;

  constructor(path: string, demand: string, value: unknown) {
    super(`${path} must be ${demand}, not ${String(value)}`);
    this.name = 'FieldRangeError';
    this.path = path;
  }
}

/** @throws FieldRangeError when `value` is not a finite number above 0 */
export function requirePositive(path: string, value: number): void {
  if (!(Number.isFinite(value) && value > 0)) throw new FieldRangeError(path, 'a number above 0', value);
}

/** @throws FieldRangeError when `value` is not a finite number of 0 or more */
export function requireNotNegative(path: string, value: number): void {
  if (!(Number.isFinite(value) && value >= 0))
    throw new FieldRangeError(path, 'a number of 0 or more', value);
}

/** @throws FieldRangeError when `value` is not a whole number from `least` to `most` */
export function requireWhole(path: string, value: number, least: number, most: number): void {
  if (!(Number.isSafeInteger(value) && value >= least && value <= most))
    throw new FieldRangeError(path, `a whole number from ${least} to ${most}`, value);
}
