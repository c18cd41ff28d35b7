/** Whether the ends fit the bar or ring they hang from, and which one they need. */
import type { Board, RingKind } from '../pattern/index.ts';
import { DEFAULT_CORD_MM } from './cord.ts';
import { requirePositive, requireWhole } from './field-error.ts';
import { cordsInside } from './round-ring.ts';
import { inchToMm } from './units.ts';
import { workingGauge } from './working-gauge.ts';

/** A width in which bars are sold. */
interface HardwareSize {
  /** Usable width of the bar in mm. */
  readonly barMm: number;
  /** As the trade writes it: inches where sold in inches, else mm. */
  readonly label: string;
}

/**
 * Widths in which straight-barred rings and clasps are commonly sold, narrow to wide. Common practice, no source; a seller's figure
 * may be the outer width: measure between the bends.
 */
export const HARDWARE_SIZES: readonly HardwareSize[] = [
  { barMm: 10, label: '10 mm' },
  { barMm: inchToMm(1 / 2), label: '1/2 in' },
  { barMm: 15, label: '15 mm' },
  { barMm: inchToMm(5 / 8), label: '5/8 in' },
  { barMm: inchToMm(3 / 4), label: '3/4 in' },
  { barMm: 20, label: '20 mm' },
  { barMm: 25, label: '25 mm' },
  { barMm: inchToMm(1), label: '1 in' },
  { barMm: 30, label: '30 mm' },
  { barMm: inchToMm(1.25), label: '1 1/4 in' },
  { barMm: 38, label: '38 mm' },
  { barMm: inchToMm(1.5), label: '1 1/2 in' },
  { barMm: 50, label: '50 mm' },
  { barMm: inchToMm(2), label: '2 in' },
];

/** A size in which round rings are sold. */
interface RingSize {
  /** Inner diameter in mm. */
  readonly ringMm: number;
  /** As the trade writes it: inches where sold in inches, else mm. */
  readonly label: string;
}

/**
 * Inner diameters in which round rings are commonly sold, small to large. Common practice, no source; sellers often give the outer
 * diameter, which is 3 to 6 mm more: measure the opening.
 */
export const RING_SIZES: readonly RingSize[] = [
  { ringMm: 10, label: '10 mm' },
  { ringMm: inchToMm(1 / 2), label: '1/2 in' },
  { ringMm: 15, label: '15 mm' },
  { ringMm: inchToMm(3 / 4), label: '3/4 in' },
  { ringMm: 20, label: '20 mm' },
  { ringMm: 25, label: '25 mm' },
  { ringMm: inchToMm(1), label: '1 in' },
  { ringMm: 30, label: '30 mm' },
  { ringMm: inchToMm(1.25), label: '1 1/4 in' },
  { ringMm: 35, label: '35 mm' },
  { ringMm: inchToMm(1.5), label: '1 1/2 in' },
  { ringMm: 40, label: '40 mm' },
  { ringMm: 50, label: '50 mm' },
  { ringMm: inchToMm(2), label: '2 in' },
];

/**
 * Ends lie closer or wider on the bar without harm up to these parts of its width: fuller than 1.05 is too tight, emptier than
 * 0.8 too loose (the strings slide and the bar shows). Common practice, no source.
 */
const TIGHT_FROM = 1.05;
const LOOSE_BELOW = 0.8;

/** Part of a round ring's inner edge from which a flat band can hang. Common practice, no source. */
const RING_SHARE = 0.5;

/** What hangs where; lengths in mm. */
interface FitBarInput {
  /** Ends that shall hang there, 1 or more; `strings` is the same number under the pattern's name. */
  readonly ends?: number;
  readonly strings?: number;
  readonly ring?: RingKind;
  /** Usable width of a straight bar, in mm. */
  readonly barMm?: number;
  /** Inner diameter of a round ring, in mm. */
  readonly ringMm?: number;
  /** Width of one end, in mm; default {@link DEFAULT_CORD_MM}, marked as an estimate. */
  readonly cordMm?: number;
}

/** How ends fit a bar or ring; lengths in mm. */
export interface BarFit {
  readonly cordMm: number;
  readonly isCordEstimated: boolean;
  /** What the ends need: the width of a bar, or the inner diameter of a round ring, in mm; null without ends. */
  readonly neededMm: number | null;
  /** Narrowest and widest straight bar that fits the ends, with the play of a bar, in mm; null without ends and for a round ring. */
  readonly fittingMm: readonly [number, number] | null;
  /** Most ends that lie side by side on the bar or ring given; null without one. */
  readonly endsTaken: number | null;
  /** Ends as a part of what lies side by side: 1 = exactly full; null without ends and bar, and where not one fits. */
  readonly fullness: number | null;
  readonly verdict: 'fits' | 'too tight' | 'too loose' | null;
  /** Common bars on which the ends fit, narrow to wide; empty without ends and for a round ring. */
  readonly sizes: readonly HardwareSize[];
  /** Common round rings that are large enough for the ends, small to large; empty without ends and for a straight bar. */
  readonly ringSizes: readonly RingSize[];
}

/**
 * How ends and bar go together. Each end takes one cord diameter on a straight bar (rule L5); round a ring the ends lie as circles
 * inside its inner edge, on {@link RING_SHARE} of it (L6). Give ends, or a bar, or both.
 * @throws FieldRangeError when a number is out of range
 * @throws TypeError when neither ends nor bar nor ring is given, when bar and ring are, or ends and strings disagree
 * O(1).
 */
export function fitBar(input: FitBarInput): BarFit {
  const ends = endsOf(input);
  const cordMm = input.cordMm ?? DEFAULT_CORD_MM;
  requirePositive('cordMm', cordMm);
  if (input.barMm !== undefined) requirePositive('barMm', input.barMm);
  if (input.ringMm !== undefined) requirePositive('ringMm', input.ringMm);
  const isRound = roundOrStraight(input, ends);
  const room = isRound ? roomOnRing(input.ringMm, cordMm) : roomOnBar(input.barMm, cordMm);
  return {
    cordMm,
    isCordEstimated: input.cordMm === undefined,
    neededMm: ends === null ? null : isRound ? ringFor(ends, cordMm) : ends * cordMm,
    fittingMm:
      ends === null || isRound ? null : [(ends * cordMm) / TIGHT_FROM, (ends * cordMm) / LOOSE_BELOW],
    endsTaken: room === null ? null : Math.floor(room + 1e-9),
    fullness: ends === null || room === null || room === 0 ? null : ends / room,
    verdict: ends === null || room === null ? null : judge(ends, room, isRound),
    sizes: ends === null || isRound ? [] : sizesFor(ends, cordMm),
    ringSizes: ends === null || !isRound ? [] : ringSizesFor(ends, cordMm),
  };
}

/**
 * The same for a board: its strings, its bar or ring (a straight bar unless `piece.ring` says round), its cord diameter by rule L2.
 * @throws FieldRangeError when a field of piece or gauge is out of range
 */
export function fitBoard(board: Board): BarFit {
  const { ring = 'd-ring', barMm, ringMm } = board.piece;
  const cord = workingGauge(board.gauge).cordMm;
  const fit = fitBar({
    ends: board.pattern.colours.length,
    ring,
    cordMm: cord.valueMm,
    ...(barMm === undefined ? {} : { barMm }),
    ...(ringMm === undefined ? {} : { ringMm }),
  });
  return { ...fit, isCordEstimated: cord.estimate };
}

function endsOf(input: FitBarInput): number | null {
  const { ends, strings } = input;
  if (ends !== undefined && strings !== undefined && ends !== strings)
    throw new TypeError(`ends ${ends} and strings ${strings} disagree`);
  const count = ends ?? strings;
  if (count === undefined) return null;
  requireWhole(ends === undefined ? 'strings' : 'ends', count, 1, 100_000);
  return count;
}

function roundOrStraight(input: FitBarInput, ends: number | null): boolean {
  const { ring, barMm, ringMm } = input;
  if (ring === undefined && barMm !== undefined && ringMm !== undefined)
    throw new TypeError(`both barMm ${barMm} and ringMm ${ringMm}: say which in ring`);
  const isRound = ring === undefined ? ringMm !== undefined : ring === 'round';
  if (ends === null && (isRound ? ringMm : barMm) === undefined)
    throw new TypeError('give ends, or the width of the bar, or the inner diameter of the ring');
  return isRound;
}

/** Ends at one cord diameter each; with a fraction, so that a nearly full bar is told from a full one. */
function roomOnBar(barMm: number | undefined, cordMm: number): number | null {
  return barMm === undefined ? null : barMm / cordMm;
}

function roomOnRing(ringMm: number | undefined, cordMm: number): number | null {
  return ringMm === undefined ? null : Math.floor(cordsInside(ringMm, cordMm) * RING_SHARE);
}

/** Inner diameter in mm of the ring whose share holds the ends: sin(π/n) = r/(R-r) solved for 2R. */
function ringFor(ends: number, cordMm: number): number {
  const around = Math.max(2, Math.ceil(ends / RING_SHARE));
  return cordMm * (1 + 1 / Math.sin(Math.PI / around));
}

function judge(ends: number, room: number, isRound: boolean): 'fits' | 'too tight' | 'too loose' {
  // The share of a round ring has its slack already, and what is left of the ring is meant to stay empty.
  if (isRound) return ends > room ? 'too tight' : 'fits';
  if (ends > room * TIGHT_FROM) return 'too tight';
  return ends < room * LOOSE_BELOW ? 'too loose' : 'fits';
}

function sizesFor(ends: number, cordMm: number): readonly HardwareSize[] {
  return HARDWARE_SIZES.filter(({ barMm }) => judge(ends, barMm / cordMm, false) === 'fits');
}

function ringSizesFor(ends: number, cordMm: number): readonly RingSize[] {
  return RING_SIZES.filter(({ ringMm }) => judge(ends, roomOnRing(ringMm, cordMm) ?? 0, true) === 'fits');
}
