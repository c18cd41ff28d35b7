/** How long a piece is in all: what hangs above and below the band. */
import { type Board, endKnotOf, isHung } from '../pattern/index.ts';
import { BAR_THICKNESS_MM, TAIL_MM } from './allowances.ts';
import { bundleThickness, closedLength } from './closing.ts';
import { THREAD_PER_WIDTH } from './gauge-model.ts';
import { headOf } from './head.ts';
import { workingGauge } from './working-gauge.ts';

/** A lark's head hangs below the bar by so many thicknesses of the wound thread: the bight across its two turns. Own choice. */
const HEAD_HIGH = 2;
/** A ring with a straight bar is so much higher than its bar is wide. Own choice: half a circle. */
const D_RING_SHARE = 0.5;

/** What hangs above and below the band; in mm. */
export interface BesideBand {
  /** The ring, its wire included; 0 where no size is said. */
  readonly ringMm: number;
  /** Lark's heads; 0 without a ring. */
  readonly headsMm: number;
  /** Loop, braid or knot above the first row, and loose ends; 0 on a ring. */
  readonly headMm: number;
  /** Knot, tassel or braid below the last row, and what hangs out of it. */
  readonly tailMm: number;
}

/** Lengths beside the band. Rules L61, L101. @throws RangeError when a field of the gauge is out of range */
export function besideBand({ pattern, piece, gauge }: Board): BesideBand {
  const threadMm = THREAD_PER_WIDTH * workingGauge(gauge).cordMm.valueMm;
  const opening =
    piece.ring === 'round'
      ? piece.ringMm
      : piece.barMm === undefined
        ? undefined
        : piece.barMm * D_RING_SHARE;
  const hung = isHung(piece);
  const strings = pattern.colours.length;
  const knot = endKnotOf(piece);
  return {
    ringMm: opening === undefined || !hung ? 0 : opening + 2 * BAR_THICKNESS_MM,
    headsMm: hung ? HEAD_HIGH * threadMm : 0,
    headMm: headOf(piece, threadMm, strings).longMm,
    tailMm: closedLength(knot, piece.tailMm ?? TAIL_MM[knot], bundleThickness(strings, threadMm)),
  };
}
