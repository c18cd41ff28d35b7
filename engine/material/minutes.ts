/** How long a piece takes. */
import { isHung, type Piece } from '../pattern/index.ts';
import { requireNotNegative, requirePositive } from './field-error.ts';

/**
 * Knots a minute where the maker states none. Common practice, no source: a practised maker ties a double half hitch in about ten
 * seconds. Marked as assumed wherever it is used.
 */
export const DEFAULT_KNOTS_PER_MINUTE = 6;

/** Minutes for measuring and cutting a cord, and for putting it on, where the maker states none. Own estimate, no source. */
const CUT_MINUTES_PER_CORD = 0.5;
const MOUNT_MINUTES_PER_CORD = 0.5;
/** Minutes for the end knot, trimming and putting the parts on, where the maker states none. Own estimate, no source. */
const FINISH_MINUTES = 5;

/** Minutes for the knot, loop or braid above the first row of a band without a ring. Own estimate, no source. */
const HEAD_MINUTES = 5;

/** Minutes, by what they go into. */
export interface Minutes {
  readonly knots: number;
  readonly cutting: number;
  /** Without a ring: what stands above the first row. */
  readonly mounting: number;
  readonly finishing: number;
  readonly all: number;
}

/** Fields of `piece` that minutes are estimated for where they are not stated. */
const MINUTE_FIELDS = ['knotsPerMinute', 'cutMinutes', 'mountMinutes', 'finishMinutes'] as const;

/** Minutes of one piece of so many knots and cords. @throws FieldRangeError when a field of `piece` is out of range. Rules L76, L103. */
export function minutesOf(piece: Piece, knots: number, cords: number): Minutes {
  const pace = piece.knotsPerMinute ?? DEFAULT_KNOTS_PER_MINUTE;
  requirePositive('piece.knotsPerMinute', pace);
  for (const field of ['cutMinutes', 'mountMinutes', 'finishMinutes'] as const)
    requireNotNegative(`piece.${field}`, piece[field] ?? 0);
  const parts = {
    knots: knots / pace,
    cutting: piece.cutMinutes ?? cords * CUT_MINUTES_PER_CORD,
    mounting: piece.mountMinutes ?? beginMinutes(piece, cords),
    finishing: piece.finishMinutes ?? FINISH_MINUTES,
  };
  return { ...parts, all: parts.knots + parts.cutting + parts.mounting + parts.finishing };
}

/** Cords are put on a ring or over a stick one by one; a bundle is taken up at once. */
function beginMinutes(piece: Piece, cords: number): number {
  const oneByOne = isHung(piece) || piece.begin === 'stick' ? cords * MOUNT_MINUTES_PER_CORD : 0;
  return oneByOne + (isHung(piece) ? 0 : HEAD_MINUTES);
}

/** Minutes of several pieces. */
export function addMinutes(list: readonly { readonly minutes: Minutes; readonly pieces: number }[]): Minutes {
  const sum = (key: keyof Minutes): number =>
    list.reduce((total, { minutes, pieces }) => total + minutes[key] * pieces, 0);
  return {
    knots: sum('knots'),
    cutting: sum('cutting'),
    mounting: sum('mounting'),
    finishing: sum('finishing'),
    all: sum('all'),
  };
}

/** Paths of what was estimated, such as `piece.cutMinutes`. */
export function estimatedMinutes(piece: Piece): readonly string[] {
  return MINUTE_FIELDS.filter((field) => piece[field] === undefined).map((field) => `piece.${field}`);
}
