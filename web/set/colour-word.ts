/** A plain word for a colour that has no name: hue and lightness (our own choice, no source). Needs the texts of the group `set`. */
import { hexToLab } from '../../engine/index.ts';
import { type TextKey, t } from '../text/index.ts';

type Hue = 'red' | 'orange' | 'yellow' | 'green' | 'turquoise' | 'blue' | 'violet' | 'pink';

/** Up to which hue angle of CIELAB, in degrees, a word holds. */
const HUES: readonly (readonly [below: number, hue: Hue])[] = [
  [10, 'pink'],
  [48, 'red'],
  [75, 'orange'],
  [105, 'yellow'],
  [170, 'green'],
  [220, 'turquoise'],
  [290, 'blue'],
  [332, 'violet'],
  [361, 'pink'],
];

/** @throws RangeError when `hex` is not `#rrggbb` */
export function colourWord(hex: string): string {
  const [lightness, a, b] = hexToLab(hex);
  const chroma = Math.hypot(a, b);
  const angle = (Math.atan2(b, a) * (180 / Math.PI) + 360) % 360;
  const found = HUES.find(([below]) => angle < below)?.[1] ?? 'pink';
  // The hue lines of CIELAB bend: a deep blue lies where a lighter violet does. Violet has more red than green in it.
  const [red, green, blue] = [1, 3, 5].map((at) => Number.parseInt(hex.slice(at, at + 2), 16)) as [
    number,
    number,
    number,
  ];
  const hue = found === 'violet' && red - green < blue / 4 ? 'blue' : found;
  const isDull = chroma < (hue === 'orange' ? 70 : hue === 'yellow' ? 45 : 28);
  const isBrown = (hue === 'orange' || hue === 'yellow' || hue === 'red') && lightness < 45 && isDull;
  const word = chroma < 8 ? 'grey' : isBrown ? 'brown' : hue;
  const shade = lightness < 38 ? 'dark' : lightness < 62 ? 'mid' : lightness < 80 ? 'light' : 'pale';
  const key: TextKey = `set.word.${shade}`;
  return t(key, { hue: t(`set.hue.${word}`) });
}
