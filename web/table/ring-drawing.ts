/** The ring large, with the cords that hang so far: each a loop over the bar whose ends hang at their places, the longer one longer. */
import { html, nothing, type SVGTemplateResult, svg, type TemplateResult } from 'lit';
import type { Cord } from './cords.ts';
import { type Drawn, drawnOver, gridText, NOTHING_DRAWN } from './drawn.ts';
import { turned } from './views.ts';

export interface RingScene {
  readonly label: string;
  readonly strings: number;
  readonly hexOf: (colour: string) => string;
  /** Cords that hang, in their turns. */
  readonly hung: readonly Cord[];
  /** The one in hand; null = none. */
  readonly now: Cord | null;
  /** Number that a place has for the maker; default from the left, from 1. */
  readonly numberOf?: (place: number) => number;
  /** Whether it is seen by who sits opposite: turned by half, numbers upright. */
  readonly isTurned?: boolean;
  readonly drawn?: Drawn;
}

const UNIT = 14;
const BAR = 34;
const SHORT = 46;
const LONG = 66;
/** What hangs from the ring is drawn on far above the first row of the band. */
const RING_ROW = -1000;

/** O(strings). Rules N12 and N102. */
export function ringDrawing({
  label,
  strings,
  hexOf,
  hung,
  now,
  numberOf = (place) => place + 1,
  isTurned = false,
  drawn = NOTHING_DRAWN,
}: RingScene): TemplateResult {
  const width = Math.max(strings, 4) * UNIT;
  const inset = (width - strings * UNIT) / 2;
  const x = (place: number): number => inset + (place + 0.5) * UNIT;
  const grid = { x: x(0), y: BAR - RING_ROW * UNIT, string: UNIT, row: UNIT };
  const cord = (one: Cord, isNow: boolean): SVGTemplateResult => {
    const hex = hexOf(one.colour);
    const ends = [
      { place: one.left, isLong: one.longer !== 'right' },
      ...(one.right === null ? [] : [{ place: one.right, isLong: one.longer !== 'left' }]),
    ];
    const arch =
      one.right === null
        ? `M${x(one.left) - 3} ${BAR + 20}V${BAR - 7}H${x(one.left)}`
        : `M${x(one.left)} ${BAR}V${BAR - 8}Q${(x(one.left) + x(one.right)) / 2} ${BAR - 20} ${x(one.right)} ${BAR - 8}V${BAR}`;
    const paths = [
      arch,
      ...ends.map(({ place, isLong }) => `M${x(place)} ${BAR - 8}v${(isLong ? LONG : SHORT) + 8}`),
    ];
    return svg`<g class=${isNow ? 'now' : 'hung'}>
      ${paths.map((path) => svg`<path d=${path} stroke="var(--lb-line-strong)" stroke-width=${isNow ? 9 : 6.4} />`)}
      ${paths.map((path) => svg`<path class="cord" d=${path} stroke=${hex} stroke-width=${isNow ? 7 : 5} />`)}
      ${
        isNow
          ? ends.map(({ place, isLong }) => {
              const y = BAR + (isLong ? LONG : SHORT) + 11;
              return svg`<text x=${x(place)} y=${y} text-anchor="middle" dominant-baseline="central" font-size="12" font-weight="700" fill="var(--lb-text)" transform=${turned(isTurned, x(place), y)}>${numberOf(place)}</text>`;
            })
          : nothing
      }
    </g>`;
  };
  return html`<svg class="ring" viewBox="-8 0 ${width + 16} ${BAR + LONG + 20}" role="img" aria-label=${label} fill="none" stroke-linecap="round" stroke-linejoin="round"><g class="seen" data-grid=${gridText(grid)} transform=${turned(isTurned, width / 2, (BAR + LONG + 20) / 2)}>
    <path d="M-2 ${BAR}C-2 -6 ${width + 2} -6 ${width + 2} ${BAR}" stroke="var(--lb-text-quiet)" stroke-width="5" />
    ${hung.map((one) => cord(one, false))}
    <path d="M-4 ${BAR}h${width + 8}" stroke="var(--lb-text-quiet)" stroke-width="7" />
    ${hung.map((one) => {
      const at = one.right === null ? [one.left] : [one.left, one.right];
      return at.map(
        (place) =>
          svg`<path class="cord" d="M${x(place)} ${BAR - 5}v10" stroke=${hexOf(one.colour)} stroke-width="5" />`,
      );
    })}
    ${now === null ? nothing : cord(now, true)}
    ${drawnOver(drawn, grid)}
  </g></svg>`;
}
