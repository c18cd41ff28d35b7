/** The ink of strokes and words on a string's colour. */
import { contrastRatio } from '../colour/index.ts';

const DARK_INK = '#1d1814';
const LIGHT_INK = '#fffaf2';

/** The ink that stands out more on a colour: at least 4.2:1 on any (WCAG contrast). */
export function inkOn(hex: string): string {
  return contrastRatio(hex, DARK_INK) >= contrastRatio(hex, LIGHT_INK) ? DARK_INK : LIGHT_INK;
}
