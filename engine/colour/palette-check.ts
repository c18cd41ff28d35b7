/** Which colours of a palette are hard to tell apart, and which are hard to see against the page. */
import type { ColourId, PaletteColour } from '../pattern/index.ts';
import { contrastRatio } from './contrast.ts';
import { ciede2000 } from './difference.ts';
import { hexToLab, type Lab } from './lab.ts';
import { SIGHTS, type Sight, simulateSight } from './sight.ts';

/**
 * CIEDE2000 differences below which two threads are called hard to tell apart, and alike. About 1 is what a trained eye just
 * sees on flat fields side by side; threads are thin, glossy and seen in changing light. Both thresholds are our own choice,
 * no source.
 */
export const HARD_DIFFERENCE = 10;
/** CIEDE2000 difference below which two threads are called alike; see {@link HARD_DIFFERENCE}. */
export const ALIKE_DIFFERENCE = 3;

/** Least contrast against the page for things that must be seen. Source: W3C, WCAG 2.2, 1.4.11. */
const PAGE_CONTRAST = 3;

/** CIEDE2000 difference of two colours in each sight. */
export type SightDifferences = Readonly<Record<Sight, number>>;

/** Two palette colours that are hard to tell apart, and for whom. */
export interface HardPair {
  readonly colours: readonly [ColourId, ColourId];
  readonly deltaE: SightDifferences;
  /** Sights in which the difference is below the threshold, `normal` first; never empty. */
  readonly hardFor: readonly Sight[];
  /** `alike` when the least difference in `hardFor` is below {@link ALIKE_DIFFERENCE}. */
  readonly degree: 'alike' | 'hard';
}

/** How one palette colour stands out against the page. */
interface PageContrast {
  readonly colour: ColourId;
  /** Unrounded, 1 to 21. */
  readonly contrast: number;
  /** Below {@link PAGE_CONTRAST}: draw it with an outline. */
  readonly isFaint: boolean;
}

/** What {@link checkPalette} finds. */
export interface PaletteCheck {
  /** Worst first (least difference in any sight), then in palette order. */
  readonly pairs: readonly HardPair[];
  /** One per palette colour, in its order; empty when no page background was given. */
  readonly page: readonly PageContrast[];
  readonly thresholdDeltaE: number;
}

/** What {@link checkPalette} looks at besides the palette. */
export interface PaletteCheckOptions {
  /** Page background as `#rrggbb`. */
  readonly background?: string;
  /** Default {@link HARD_DIFFERENCE}; above 0. */
  readonly thresholdDeltaE?: number;
}

/**
 * Pairs of palette colours that are hard to tell apart in normal or simulated sight, and each colour's contrast against
 * the page.
 * @throws RangeError when a colour is not `#rrggbb` or the threshold is not above 0
 * O(colours²). Rules C4, C5.
 */
export function checkPalette(
  palette: readonly PaletteColour[],
  options: PaletteCheckOptions = {},
): PaletteCheck {
  const thresholdDeltaE = checkedThreshold(options.thresholdDeltaE);
  const seen = palette.map((colour) => labInEachSight(colour.hex));
  const pairs: HardPair[] = [];
  for (let i = 0; i < palette.length; i++) {
    for (let j = i + 1; j < palette.length; j++) {
      const deltaE = differences(seen[i] as SightLabs, seen[j] as SightLabs);
      const hardFor = SIGHTS.filter((sight) => deltaE[sight] < thresholdDeltaE);
      if (hardFor.length === 0) continue;
      const colours = [(palette[i] as PaletteColour).id, (palette[j] as PaletteColour).id] as const;
      pairs.push({ colours, deltaE, hardFor, degree: least(deltaE) < ALIKE_DIFFERENCE ? 'alike' : 'hard' });
    }
  }
  pairs.sort((one, two) => least(one.deltaE) - least(two.deltaE));
  const { background } = options;
  const page =
    background === undefined
      ? []
      : palette.map((colour) => {
          const contrast = contrastRatio(colour.hex, background);
          return { colour: colour.id, contrast, isFaint: contrast < PAGE_CONTRAST };
        });
  return { pairs, page, thresholdDeltaE };
}

/** CIELAB of one colour as each sight sees it. */
export type SightLabs = Readonly<Record<Sight, Lab>>;

/** CIELAB of a colour as each sight sees it. @throws RangeError when `hex` is not `#rrggbb` */
export function labInEachSight(hex: string): SightLabs {
  const lab = (sight: Sight) => hexToLab(simulateSight(hex, sight));
  return { normal: lab('normal'), protan: lab('protan'), deutan: lab('deutan'), tritan: lab('tritan') };
}

/** CIEDE2000 difference of two colours in each sight. */
export function differences(one: SightLabs, two: SightLabs): SightDifferences {
  const deltaE = (sight: Sight) => ciede2000(one[sight], two[sight]);
  return {
    normal: deltaE('normal'),
    protan: deltaE('protan'),
    deutan: deltaE('deutan'),
    tritan: deltaE('tritan'),
  };
}

/** @throws RangeError when the threshold is not above 0 */
export function checkedThreshold(threshold: number = HARD_DIFFERENCE): number {
  if (!(threshold > 0)) throw new RangeError(`thresholdDeltaE ${threshold} is not above 0`);
  return threshold;
}

function least(deltaE: SightDifferences): number {
  return Math.min(deltaE.normal, deltaE.protan, deltaE.deutan, deltaE.tritan);
}
