/**
 * A stretch of a band, plain: a lozenge for each knot, in rows that lie in each other. Drawn in units of which a string takes 10.
 */
import { html, nothing, svg, type TemplateResult } from 'lit';
import { knotsInRow, rowParity } from '../../engine/index.ts';
import { turned } from './views.ts';

export interface BandScene {
  readonly label: string;
  readonly strings: number;
  readonly start: 0 | 1;
  /** First row, and the one behind the last. */
  readonly from: number;
  readonly to: number;
  /** Colour of a knot as `#rrggbb`; null where none shows. */
  readonly hexAt: (row: number, k: number) => string | null;
  readonly isMarked?: (row: number, k: number) => boolean;
  readonly picked?: { readonly row: number; readonly k: number } | null;
  /** Whether it is seen by who sits opposite. */
  readonly isTurned?: boolean;
}

const UNIT = 10;

/** O(knots drawn). */
export function bandDrawing({
  label,
  strings,
  start,
  from,
  to,
  hexAt,
  isMarked = () => false,
  picked = null,
  isTurned = false,
}: BandScene): TemplateResult {
  const knots = Array.from({ length: to - from }, (_, i) => from + i).flatMap((row) => {
    const parity = rowParity(start, row);
    return Array.from({ length: knotsInRow(strings, parity) }, (_, k) => ({ row, k, place: 2 * k + parity }));
  });
  const at = (row: number, place: number): string =>
    `translate(${UNIT * (place + 1)} ${UNIT * (row - from + 1)})`;
  return html`<svg class="band" viewBox="-2 -2 ${UNIT * strings + 4} ${UNIT * (to - from + 1) + 4}" role="img" aria-label=${label} fill="none"><g transform=${turned(isTurned, (UNIT * strings) / 2, (UNIT * (to - from + 1)) / 2)}>
    ${knots.map(({ row, k, place }) => {
      const hex = hexAt(row, k);
      const isPicked = picked?.row === row && picked.k === k;
      return svg`<g transform=${at(row, place)}>
        <path class="cord" d="M0 -9.4 9.4 0 0 9.4-9.4 0z" fill=${hex ?? 'none'} stroke="var(--lb-line-strong)" stroke-width="0.8" stroke-dasharray=${hex === null ? '1 2' : 'none'} />
        ${isMarked(row, k) ? svg`<path d="M-3.4 -3.4 3.4 3.4M3.4 -3.4-3.4 3.4" stroke="#fff" stroke-width="4.2" stroke-linecap="round" /><path d="M-3.4 -3.4 3.4 3.4M3.4 -3.4-3.4 3.4" stroke="#000" stroke-width="1.8" stroke-linecap="round" />` : nothing}
        ${isPicked ? svg`<path d="M0 -9.4 9.4 0 0 9.4-9.4 0z" stroke="#fff" stroke-width="4.4" /><path d="M0 -9.4 9.4 0 0 9.4-9.4 0z" stroke="var(--lb-accent)" stroke-width="2.4" />` : nothing}
      </g>`;
    })}
  </g></svg>`;
}

/**
 * The knot at a point of a drawing that is shown in a box, whole and in the middle of it; null where there is none.
 * @param x, y from the upper left corner of the box
 */
export function knotAt(
  {
    strings,
    start,
    from,
    to,
    isTurned = false,
  }: Pick<BandScene, 'strings' | 'start' | 'from' | 'to' | 'isTurned'>,
  box: { readonly width: number; readonly height: number },
  x: number,
  y: number,
): { readonly row: number; readonly k: number } | null {
  const [width, height] = [UNIT * strings + 4, UNIT * (to - from + 1) + 4];
  const scale = Math.min(box.width / width, box.height / height);
  const [right, down] = isTurned ? [box.width - x, box.height - y] : [x, y];
  const left = (right - (box.width - scale * width) / 2) / scale - 2;
  const top = (down - (box.height - scale * height) / 2) / scale - 2;
  let found: { row: number; k: number } | null = null;
  let nearest = 1;
  for (const row of [Math.floor(top / UNIT) - 1, Math.floor(top / UNIT)].map((one) => one + from)) {
    if (row < from || row >= to) continue;
    const parity = rowParity(start, row);
    // Not -0.
    const k = Math.round((left / UNIT - 1 - parity) / 2) + 0;
    if (k < 0 || k >= knotsInRow(strings, parity)) continue;
    // Within a lozenge the two distances add up to less than its half.
    const off =
      (Math.abs(left - UNIT * (2 * k + parity + 1)) + Math.abs(top - UNIT * (row - from + 1))) / UNIT;
    if (off > nearest) continue;
    nearest = off;
    found = { row, k };
  }
  return found;
}
