/** Lengths in the units makers use. Inside the engine everything is millimetres. */

export type LengthUnit = 'mm' | 'cm' | 'm' | 'in' | 'yd';

/** Exact: the international inch is 25.4 mm, the yard 36 inches (agreement of 1959). */
const MM_PER: Readonly<Record<LengthUnit, number>> = { mm: 1, cm: 10, m: 1000, in: 25.4, yd: 914.4 };

/** Millimetres of `value` in `unit`. */
export function toMm(value: number, unit: LengthUnit): number {
  return value * MM_PER[unit];
}

/** A length of `mm` millimetres in `unit`. */
export function fromMm(mm: number, unit: LengthUnit): number {
  return mm / MM_PER[unit];
}

/** Mm to inches; 1 in = 25.4 mm. */
export function mmToInch(mm: number): number {
  return fromMm(mm, 'in');
}

/** Inches to mm; 1 in = 25.4 mm. */
export function inchToMm(inches: number): number {
  return toMm(inches, 'in');
}

/** How a length is rounded for display: to the nearest, or up so that it is never too short. */
export type Rounding = 'nearest' | 'up';

/**
 * Inches as a ruler shows them: whole inches and a fraction in lowest terms, such as `10 3/8 in` or `3/4 in`.
 * @param mm          length, 0 or more
 * @param denominator parts of an inch, 1, 2, 4, 8, 16 or 32; default 8
 * @throws RangeError when `mm` is negative or not finite, or the denominator is another
 * Rule L12.
 */
export function formatInch(mm: number, denominator = 8, rounding: Rounding = 'nearest'): string {
  if (!(Number.isFinite(mm) && mm >= 0)) throw new RangeError(`length ${mm} mm is not 0 or more`);
  if (![1, 2, 4, 8, 16, 32].includes(denominator))
    throw new RangeError(`denominator ${denominator} is none of 1, 2, 4, 8, 16, 32`);
  const parts = roundParts(mmToInch(mm) * denominator, rounding);
  const whole = Math.floor(parts / denominator);
  let above = parts % denominator;
  let below = denominator;
  while (above > 0 && above % 2 === 0) {
    above /= 2;
    below /= 2;
  }
  if (above === 0) return `${whole} in`;
  return whole === 0 ? `${above}/${below} in` : `${whole} ${above}/${below} in`;
}

// A length of exactly 3/8 in comes back from millimetres as 3.0000000000000004 parts and must not be rounded up to 4.
const FLOAT_SLACK = 1e-9;

function roundParts(parts: number, rounding: Rounding): number {
  return rounding === 'up' ? Math.ceil(parts - FLOAT_SLACK) : Math.round(parts);
}

/** `mm` rounded up to the next multiple of `stepMm`: what a maker can measure and is never too short. */
export function roundUpMm(mm: number, stepMm: number): number {
  return Math.ceil(mm / stepMm - FLOAT_SLACK) * stepMm;
}

/** A skein of six-strand cotton floss as sold: 8 m. */
export const SKEIN_MM = 8000;

/** The same skein as its label has it: 8.7 yards = 7,955 mm. */
const SKEIN_LABEL_YARDS = 8.7;

/**
 * Why a skein length looks like a slip of units, or null when it does not. `yards-as-metres`: 8.7 was read as metres though the
 * label says yards (8.7 yd = 7.955 m); some printed pages make this mistake. `other-unit`: so short or so long that it was
 * probably not millimetres.
 * Rule L13.
 */
export function doubtSkeinLength(skeinMm: number): 'yards-as-metres' | 'other-unit' | null {
  if (Math.abs(skeinMm - toMm(SKEIN_LABEL_YARDS, 'm')) < 1) return 'yards-as-metres';
  return skeinMm < 500 || skeinMm > 1_000_000 ? 'other-unit' : null;
}
