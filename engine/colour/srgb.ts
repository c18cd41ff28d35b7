/**
 * sRGB colours. Three spaces: hex (`#rrggbb`), gamma-encoded channels 0 to 1 as a screen takes them, and linear
 * channels 0 to 1 as light adds up. Source: IEC 61966-2-1.
 */

/** Three numbers: red, green, blue (encoded or linear, as the function says). */
export type Rgb = readonly [number, number, number];

const HEX = /^#[0-9a-f]{6}$/i;

/**
 * Encoded channels, 0 to 1, of `#rrggbb`.
 * @throws RangeError when `hex` is not of that form
 */
export function hexToRgb(hex: string): Rgb {
  if (!HEX.test(hex)) throw new RangeError(`colour ${JSON.stringify(hex)} is not #rrggbb`);
  const value = Number.parseInt(hex.slice(1), 16);
  return [(value >> 16) / 255, ((value >> 8) & 255) / 255, (value & 255) / 255];
}

/** `#rrggbb`, lower case, of encoded channels; each is rounded to 8 bits and clipped to 0 to 1. */
export function rgbToHex(rgb: Rgb): string {
  return `#${rgb.map((channel) => toByte(channel).toString(16).padStart(2, '0')).join('')}`;
}

function toByte(channel: number): number {
  return Math.min(255, Math.max(0, Math.round(channel * 255)));
}

/** Linear channels of encoded ones. Threshold 0.04045. */
export function encodedToLinear(rgb: Rgb): Rgb {
  return [toLinear(rgb[0]), toLinear(rgb[1]), toLinear(rgb[2])];
}

/** Encoded channels of linear ones. Threshold 0.0031308; values below 0 keep their sign. */
export function linearToEncoded(rgb: Rgb): Rgb {
  return [toEncoded(rgb[0]), toEncoded(rgb[1]), toEncoded(rgb[2])];
}

function toLinear(v: number): number {
  return v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4;
}

function toEncoded(v: number): number {
  return v <= 0.0031308 ? v * 12.92 : 1.055 * v ** (1 / 2.4) - 0.055;
}

/** A 3 x 3 matrix, row by row. */
export type Matrix3 = readonly [Rgb, Rgb, Rgb];

/** `matrix` times the column `v`. */
export function multiply(matrix: Matrix3, v: Rgb): Rgb {
  const row = (m: Rgb) => m[0] * v[0] + m[1] * v[1] + m[2] * v[2];
  return [row(matrix[0]), row(matrix[1]), row(matrix[2])];
}
