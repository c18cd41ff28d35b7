/**
 * A knot as the hand makes it: two half hitches, each a loop of the string that ties, laid round the other (after R. H. Dana, The
 * Seaman's Friend, "half hitch").
 *
 * In a square of 100 by 100, x right, y down: the carrier hangs straight down the middle. The string that ties comes from its side, goes
 * over the carrier, back behind it and out through the loop between the two, over itself; upwards it is drawn tight.
 */
import type { Curve, WorkStep } from '../../engine/index.ts';

type KnotKind = WorkStep['kind'];
/** Which way the string that ties goes over the carrier. */
type HitchWay = 'left' | 'right';

/** A stretch of one of the two strings. What comes later in a list lies on top. */
interface HitchPart {
  readonly of: 'knotting' | 'carrier';
  readonly curve: Curve;
  /** `round` where another stretch goes on over its end. */
  readonly cap: 'round' | 'butt';
}

const CARRIER: Curve = [50, 0, 50, 33, 50, 67, 50, 100];
/** Down from the side and over the carrier, to the turn. */
const OVER: Curve = [14, 0, 14, 48, 10, 74, 50, 74, 76, 74, 88, 70, 88, 57];
/** The same from the hitch before, which is tight. */
const OVER_AGAIN: Curve = [38, 14, 4, 16, 4, 74, 50, 74, 76, 74, 88, 70, 88, 57];
const BEHIND: Curve = [88, 57, 88, 44, 70, 42, 36, 42];
const OUT: Curve = [36, 42, 20, 42, 4, 40, 0, 14];
/** The hitch before, drawn tight round the carrier. */
const TIGHT: Curve = [38, 14, 47, 13.5, 55, 13.5, 62, 14];

/** Ways of the two half hitches of a knot, in their turns. */
export function hitchWays(kind: KnotKind): readonly [HitchWay, HitchWay] {
  const first = kind === 'f' || kind === 'fb' ? 'right' : 'left';
  const isBack = kind === 'fb' || kind === 'bf';
  return [first, !isBack ? first : first === 'right' ? 'left' : 'right'];
}

/**
 * The stretches of the two strings in one half hitch, the lowest first.
 * @param isSecond whether the first one is tight already, and sits above
 */
export function halfHitch(way: HitchWay, isSecond = false): readonly HitchPart[] {
  const parts: readonly HitchPart[] = [
    { of: 'knotting', curve: BEHIND, cap: 'round' },
    { of: 'carrier', curve: CARRIER, cap: 'butt' },
    ...(isSecond ? [{ of: 'knotting', curve: TIGHT, cap: 'round' } as const] : []),
    { of: 'knotting', curve: isSecond ? OVER_AGAIN : OVER, cap: 'butt' },
    { of: 'knotting', curve: OUT, cap: 'butt' },
  ];
  return way === 'right' ? parts : parts.map((part) => ({ ...part, curve: mirrored(part.curve) }));
}

function mirrored(curve: Curve): Curve {
  return curve.map((value, at) => (at % 2 === 0 ? 100 - value : value));
}
