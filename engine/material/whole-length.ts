/** How long a keychain is in all: what hangs above and below the band. */
import type { Board } from '../pattern/index.ts';
import { BAR_THICKNESS_MM, TAIL_MM } from './allowances.ts';
import { THREAD_PER_WIDTH } from './gauge-model.ts';
import { workingGauge } from './working-gauge.ts';

/**
 * An overhand knot in a bundle, in thicknesses of the bundle: string that it takes, by the tight closed one (E. Denne, Y. Diao, J. M. Sullivan,
 * "Quadrisecants give new lower bounds for the ropelength of a knot", Geom. Topol. 10 (2006) 1-26), and how high it is (own choice).
 */
const OVERHAND_TAKES = 16.372;
const OVERHAND_HIGH = 3;
/** A braid is so much shorter than its strings. Own choice. */
const BRAID_SHARE = 0.8;
/** A lark's head hangs below the bar by so many thicknesses of the wound thread: the bight across its two turns. Own choice. */
const HEAD_HIGH = 2;
/** A ring with a straight bar is so much higher than its bar is wide. Own choice: half a circle. */
const D_RING_SHARE = 0.5;

/** What hangs above and below the band; in mm. */
export interface BesideBand {
  /** The ring, its wire included; 0 where no size is said. */
  readonly ringMm: number;
  readonly headsMm: number;
  /** Knot, tassel or braid below the last row, and what hangs out of it. */
  readonly tailMm: number;
}

/** Lengths beside the band. Rule L61. @throws RangeError when a field of the gauge is out of range */
export function besideBand({ pattern, piece, gauge }: Board): BesideBand {
  const threadMm = THREAD_PER_WIDTH * workingGauge(gauge).cordMm.valueMm;
  const opening =
    piece.ring === 'round'
      ? piece.ringMm
      : piece.barMm === undefined
        ? undefined
        : piece.barMm * D_RING_SHARE;
  return {
    ringMm: opening === undefined ? 0 : opening + 2 * BAR_THICKNESS_MM,
    headsMm: HEAD_HIGH * threadMm,
    tailMm: tailLength(piece, threadMm * Math.sqrt(pattern.colours.length)),
  };
}

function tailLength({ endKnot = 'overhand', tailMm }: Board['piece'], bundleMm: number): number {
  const string = tailMm ?? TAIL_MM[endKnot];
  switch (endKnot) {
    case 'overhand':
      return Math.max(0, string - OVERHAND_TAKES * bundleMm) + OVERHAND_HIGH * bundleMm;
    case 'braid':
      return string * BRAID_SHARE;
    case 'tassel':
    case 'none':
      return string;
  }
}
