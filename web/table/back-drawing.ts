/**
 * The back of the ring once all hang: of each cord the piece that crosses from its one end to the other, in the order in which they went
 * on, each over what hung there before. A piece that crosses over an end of another is a float and shows.
 */
import { html, nothing, type SVGTemplateResult, svg, type TemplateResult } from 'lit';
import type { Cord } from './cords.ts';
import { turned } from './views.ts';

type Fold = Pick<Cord, 'left' | 'right' | 'colour'>;

/** Indices of cords, as they went on, whose piece across shows as a float: it crosses another cord's. */
export function floatsOf(cords: readonly Fold[]): readonly number[] {
  const crosses = (a: Fold, b: Fold): boolean =>
    a.right !== null && b.right !== null && a.left < b.left && b.left < a.right && a.right < b.right;
  return cords.flatMap((cord, at) =>
    cords.slice(0, at).some((before) => crosses(cord, before) || crosses(before, cord)) ? [at] : [],
  );
}

export interface BackScene {
  readonly label: string;
  readonly strings: number;
  readonly hexOf: (colour: string) => string;
  /** In the order in which they went on. */
  readonly cords: readonly Fold[];
  /** Whether it is seen by who sits opposite. */
  readonly isTurned?: boolean;
}

const UNIT = 14;
const BAR = 16;
const HANG = 42;

/** Seen from behind: what hangs on the left is on the right. O(cords²). Rule N89. */
export function backDrawing({ label, strings, hexOf, cords, isTurned = false }: BackScene): TemplateResult {
  const width = Math.max(strings, 4) * UNIT;
  const inset = (width - strings * UNIT) / 2;
  const x = (place: number): number => width - inset - (place + 0.5) * UNIT;
  const floats = new Set(floatsOf(cords));
  const line = (d: string, hex: string, wide: number, name = 'cord'): SVGTemplateResult =>
    svg`<path d=${d} stroke="var(--lb-line-strong)" stroke-width=${wide + 1.6} /><path class=${name} d=${d} stroke=${hex} stroke-width=${wide} />`;
  const drawn = (cord: Fold, isFloat: boolean): SVGTemplateResult => {
    const hex = hexOf(cord.colour);
    const ends = cord.right === null ? [cord.left] : [cord.left, cord.right];
    const across = cord.right === null ? null : `M${x(cord.left)} ${BAR}H${x(cord.right)}`;
    // Round the bar each end is as wide as its place, so that what went on before is covered.
    return svg`<g>
      ${isFloat ? svg`<path class="float" d=${across} stroke="var(--lb-warn)" stroke-width="12" />` : nothing}
      ${across === null ? nothing : line(across, hex, 6, 'cord across')}
      ${ends.map((place) => line(`M${x(place)} ${BAR + 8}V${HANG}`, hex, 5))}
      ${ends.map((place) => line(`M${x(place)} ${BAR - 5}v10`, hex, 10.6))}
      ${isFloat ? line(across ?? '', hex, 6) : nothing}
    </g>`;
  };
  return html`<svg class="back" viewBox="-6 0 ${width + 12} ${HANG + 6}" role="img" aria-label=${label} fill="none" stroke-linecap="round" stroke-linejoin="round"><g transform=${turned(isTurned, width / 2, (HANG + 6) / 2)}>
    <path d="M-3 ${BAR}h${width + 6}" stroke="var(--lb-text-quiet)" stroke-width="7" />
    ${cords.map((cord, at) => drawn(cord, floats.has(at)))}
  </g></svg>`;
}
