/** Contrast of two colours as the Web Content Accessibility Guidelines count it. */
import { encodedToLinear, hexToRgb } from './srgb.ts';

/**
 * Relative luminance, 0 (black) to 1 (white).
 * @throws RangeError when `hex` is not `#rrggbb`
 * Source: W3C, WCAG 2.2, "relative luminance" (threshold 0.04045).
 */
function relativeLuminance(hex: string): number {
  const [r, g, b] = encodedToLinear(hexToRgb(hex));
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
}

/**
 * Contrast ratio, 1 to 21, unrounded (2.999 does not reach 3); symmetric.
 * @throws RangeError when one is not `#rrggbb`
 * Rule C3. Source: W3C, WCAG 2.2, "contrast ratio"; Understanding 1.4.11 on not rounding.
 */
export function contrastRatio(one: string, two: string): number {
  const l1 = relativeLuminance(one);
  const l2 = relativeLuminance(two);
  return (Math.max(l1, l2) + 0.05) / (Math.min(l1, l2) + 0.05);
}
