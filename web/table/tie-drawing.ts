/**
 * The band so far with the knots of the step open, and below it the strings as they hang, those of the step lifted out.
 *
 * Drawn in units of which a string takes 10: the string at place p hangs at `10 p + 5`, a knot of two strings has its middle
 * between them, and a row is 10 high, so that rows lie in each other as they do in a band. A string or a knot has the same place in the
 * drawing whatever is in sight of the band, so that a step changes what it changes and leaves the rest as it is.
 */
import { html, nothing, type SVGTemplateResult, svg, type TemplateResult } from 'lit';
import { repeat } from 'lit/directives/repeat.js';
import type { WorkStep } from '../../engine/index.ts';
import { type Drawn, drawnOver, gridText, NOTHING_DRAWN } from './drawn.ts';
import { turned } from './views.ts';

export interface TieScene {
  readonly label: string;
  /** Colour of each string, by its place at the top, as `#rrggbb`. */
  readonly hexes: readonly string[];
  /** Knots of the rows that are in sight. */
  readonly knots: readonly { readonly step: WorkStep; readonly isTied: boolean }[];
  /** Knots of the step, in their order. */
  readonly open: readonly WorkStep[];
  /** The strings, left to right, as they hang before the step. */
  readonly hanging: ArrayLike<number>;
  /** Number that a place has for the maker; default from the left, from 1. */
  readonly numberOf?: (place: number) => number;
  /** Whether it is seen by who sits opposite: turned by half, numbers upright. */
  readonly isTurned?: boolean;
  readonly drawn?: Drawn;
}

const UNIT = 10;
/** Rows in sight above the first row of the step, and at least and at most below it. */
const ROWS_ABOVE = 3;
const LEAST_BELOW = 1;
const MOST_BELOW = 7;
/** More strings than this are not drawn at once, unless the step is that wide. */
const MOST_ACROSS = 24;
const BESIDE = 4;
const HANG = 30;
const LIFT = 9;

/** First and last place in sight: those of the step, and as many beside them as fit. */
export function placesInSight(
  strings: number,
  open: readonly Pick<WorkStep, 'place'>[],
): readonly [number, number] {
  if (strings <= MOST_ACROSS || open.length === 0) return [0, Math.min(strings, MOST_ACROSS) - 1];
  const low = Math.min(...open.map(({ place }) => place)) - BESIDE;
  const high = Math.max(...open.map(({ place }) => place)) + 1 + BESIDE;
  const room = Math.max(0, MOST_ACROSS - (high - low + 1));
  const first = Math.max(0, Math.min(low - (room >> 1), strings - Math.max(MOST_ACROSS, high - low + 1)));
  return [first, Math.min(strings - 1, first + Math.max(MOST_ACROSS, high - low + 1) - 1)];
}

/** First and last row in sight. @param last row of the last knot of the whole piece, where nothing is open */
export function rowsInSight(open: readonly Pick<WorkStep, 'row'>[], last: number): readonly [number, number] {
  const rows = open.map(({ row }) => row);
  const top = rows.length === 0 ? last : Math.min(...rows);
  const low = Math.max(top, ...rows) - top;
  return [Math.max(0, top - ROWS_ABOVE), top + Math.max(LEAST_BELOW, Math.min(MOST_BELOW, low))];
}

/** Which way the string that ties goes: at a knot that bends it goes there and comes back. */
const MOVES: Readonly<Record<WorkStep['kind'], string>> = {
  f: 'M-4.6 0H4M1 -3 4.4 0 1 3',
  b: 'M4.6 0H-4M-1 -3-4.4 0-1 3',
  fb: 'M-4.4 -2H1.6a2 2 0 0 1 0 4H-3.4M-1 -.4-4 2-1 4.4',
  bf: 'M4.4 -2H-1.6a2 2 0 0 0 0 4H3.4M1 -.4 4 2 1 4.4',
};

/** O(knots + strings). Rules N25 and N72. */
export function tieDrawing({
  label,
  hexes,
  knots,
  open,
  hanging,
  numberOf = (place) => place + 1,
  isTurned = false,
  drawn = NOTHING_DRAWN,
}: TieScene): TemplateResult {
  const strings = hexes.length;
  const [first, last] = placesInSight(strings, open);
  const isIn = ({ place }: WorkStep): boolean => place >= first - 1 && place <= last;
  const [fromRow, toRow] = rowsInSight(open, Math.max(0, ...knots.map(({ step }) => step.row)));
  const y = (row: number): number => (row + 1) * UNIT;
  const isInSight = (step: WorkStep): boolean => isIn(step) && step.row >= fromRow && step.row <= toRow;
  const shown = knots.filter(({ step }) => isInSight(step));
  const top = fromRow * UNIT;
  const bandEnd = y(toRow) + UNIT;
  const lifted = new Set(open.flatMap(({ knotting, carrier }) => [knotting, carrier]));
  // A string hangs from the lowest knot that holds it.
  const held = new Map<number, number>();
  for (const { step, isTied } of shown)
    if (isTied)
      for (const place of [step.place, step.place + 1])
        held.set(place, Math.max(held.get(place) ?? 0, y(step.row)));
  const places = Array.from({ length: last - first + 1 }, (_, i) => first + i);
  const x = (place: number): number => place * UNIT + UNIT / 2;
  const ahead = places.filter((place) => lifted.has(hanging[place]!));
  const isNumbered = (place: number): boolean => place === ahead[0] || place === ahead.at(-1);
  const string = (place: number): SVGTemplateResult => {
    const own = hanging[place]!;
    const isLifted = lifted.has(own);
    const end = bandEnd + HANG - (isLifted ? 0 : LIFT);
    const path = `M${x(place)} ${held.get(place) ?? top}V${end}`;
    return svg`<g class=${isLifted ? 'lifted' : 'resting'}>
      <path d=${path} stroke="var(--lb-line-strong)" stroke-width=${isLifted ? 6.4 : 3.6} />
      <path class="cord" d=${path} stroke=${hexes[own]!} stroke-width=${isLifted ? 5 : 2.6} />
      ${isNumbered(place) ? svg`<text x=${x(place)} y=${end + 6.5} text-anchor="middle" dominant-baseline="central" font-size="7" transform=${turned(isTurned, x(place), end + 6.5)}>${numberOf(place)}</text>` : nothing}
    </g>`;
  };
  const at = ({ place, row }: WorkStep): string => `translate(${x(place) + UNIT / 2} ${y(row)})`;
  const lozenge = 'M0 -9.4 9.4 0 0 9.4-9.4 0z';
  const rest = places.filter((place) => !lifted.has(hanging[place]!));
  const isOpen = new Set(open);
  const grid = { x: x(0), y: y(0), string: UNIT, row: UNIT };
  const left = first * UNIT;
  const width = (last - first + 1) * UNIT;
  const height = bandEnd + HANG + 12 - top;
  const ofPlace = (place: number): number => place;
  const ofKnot = ({ row, place }: WorkStep): string => `${row} ${place}`;
  return html`<svg class="tying" viewBox="${left - 2} ${top} ${width + 4} ${height}" role="img" aria-label=${label} fill="none" stroke-linecap="round" stroke-linejoin="round"><g class="seen" data-grid=${gridText(grid)} transform=${turned(isTurned, left + width / 2, top + height / 2)}>
    ${repeat(rest, ofPlace, string)}
    ${repeat(
      shown.filter(({ step }) => !isOpen.has(step)),
      ({ step }) => ofKnot(step),
      ({ step, isTied }) =>
        isTied
          ? svg`<path class="cord tied" transform=${at(step)} d=${lozenge} fill=${hexes[step.knotting]!} stroke="var(--lb-line-strong)" stroke-width="0.8" />`
          : svg`<path class="later" transform=${at(step)} d=${lozenge} stroke="var(--lb-line-strong)" stroke-width="0.6" stroke-dasharray="1 2" />`,
    )}
    ${repeat(ahead, ofPlace, string)}
    ${repeat(
      open.filter(isInSight),
      ofKnot,
      (step, i) => svg`<g class="open" transform=${at(step)}>
          <path d=${lozenge} fill="var(--lb-surface)" stroke="var(--lb-accent)" stroke-width=${i === 0 ? 1.8 : 1} />
          <path d=${MOVES[step.kind]} stroke="var(--lb-line-strong)" stroke-width="3.4" />
          <path class="cord" d=${MOVES[step.kind]} stroke=${hexes[step.knotting]!} stroke-width="2.2" />
        </g>`,
    )}
    ${drawnOver(drawn, grid)}
  </g></svg>`;
}
