/** A band that begins without a ring, large: the strings in their order, out of one bundle or over a stick. */
import { html, nothing, type SVGTemplateResult, svg, type TemplateResult } from 'lit';
import type { BeginKind } from '../../engine/index.ts';
import { turned } from './views.ts';

export interface BeginScene {
  readonly label: string;
  readonly begin: BeginKind;
  /** Colour of the string at each place. */
  readonly hexes: readonly string[];
  /** Places whose string is laid; null = all are in the bundle. */
  readonly laid: ReadonlySet<number> | null;
  /** Place of the string in hand; null = none. */
  readonly now: number | null;
  /** Whether the strings are spread in their order, or still hang together. */
  readonly isSpread: boolean;
  /** Whether what holds a bundle is there. */
  readonly isHeld: boolean;
  /** Number that a place has for the maker; default from the left, from 1. */
  readonly numberOf?: (place: number) => number;
  /** Whether it is seen by who sits opposite: turned by half, numbers upright. */
  readonly isTurned?: boolean;
}

const UNIT = 14;
const TOP = 52;
const LONG = 70;
/** How far strings of a bundle lie apart while they hang together, in px. */
const TOGETHER = 3;

/** O(strings). Rules B285 and N102. */
export function beginDrawing({
  label,
  begin,
  hexes,
  laid,
  now,
  isSpread,
  isHeld,
  numberOf = (place) => place + 1,
  isTurned = false,
}: BeginScene): TemplateResult {
  const count = hexes.length;
  const width = Math.max(count, 4) * UNIT;
  const middle = width / 2;
  const isBundle = laid === null;
  const x = (place: number, unit: number): number => middle + (place - (count - 1) / 2) * unit;
  const tight = Math.min(TOGETHER, (width * 0.3) / count);
  const paths = hexes.map((hex, place) => {
    const below = isBundle && !isSpread ? x(place, tight) : x(place, UNIT);
    const d = isBundle
      ? `M${x(place, tight)} ${begin === 'loop' ? TOP : 4}V${TOP}C${x(place, tight)} ${TOP + 24} ${below} ${TOP + 16} ${below} ${TOP + 40}V${TOP + LONG}`
      : `M${below} 8V${TOP + LONG}`;
    return { hex, d, isNow: place === now, isShown: isBundle || laid.has(place) || place === now };
  });
  const cord = ({ hex, d, isNow, isShown }: (typeof paths)[number]): SVGTemplateResult | typeof nothing =>
    isShown
      ? svg`<g class=${isNow ? 'now' : 'hung'}><path d=${d} stroke="var(--lb-line-strong)" stroke-width=${isNow ? 9 : 6.4} /><path class="cord" d=${d} stroke=${hex} stroke-width=${isNow ? 7 : 5} /></g>`
      : nothing;
  const half = Math.max(14, (count * tight) / 2);
  return html`<svg class="ring" viewBox="-8 0 ${width + 16} ${TOP + LONG + 22}" role="img" aria-label=${label} fill="none" stroke-linecap="round" stroke-linejoin="round"><g transform=${turned(isTurned, middle, (TOP + LONG + 22) / 2)}>
    ${
      begin === 'loop'
        ? svg`<path d="M${middle - half * 0.6} ${TOP}C${middle - 2 * half} 0 ${middle + 2 * half} 0 ${middle + half * 0.6} ${TOP}" stroke="var(--lb-line-strong)" stroke-width="12" /><path class="cord" d="M${middle - half * 0.6} ${TOP}C${middle - 2 * half} 0 ${middle + 2 * half} 0 ${middle + half * 0.6} ${TOP}" stroke=${hexes[0]!} stroke-width="9" />`
        : nothing
    }
    ${paths.map(cord)}
    ${
      isBundle && !isHeld
        ? nothing
        : isBundle
          ? svg`<rect x=${middle - half} y=${TOP - 6} width=${2 * half} height="12" rx="6" fill="var(--lb-text-quiet)" />`
          : svg`<path d="M-4 ${TOP}h${width + 8}" stroke="var(--lb-text-quiet)" stroke-width="7" />`
    }
    ${
      isBundle
        ? nothing
        : hexes.map((hex, place) =>
            paths[place]!.isShown
              ? svg`<path class="cord" d="M${x(place, UNIT)} ${TOP - 5}v10" stroke=${hex} stroke-width="5" />`
              : nothing,
          )
    }
    ${now === null ? nothing : svg`<text x=${x(now, UNIT)} y=${TOP + LONG + 12} text-anchor="middle" dominant-baseline="central" font-size="12" font-weight="700" fill="var(--lb-text)" transform=${turned(isTurned, x(now, UNIT), TOP + LONG + 12)}>${numberOf(now)}</text>`}
  </g></svg>`;
}
