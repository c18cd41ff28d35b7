/** What to cut, where to fold it, and what it comes to. */
import { cordsWithoutRing, type MountPlan } from '../mount/index.ts';
import { type BeginKind, type Board, type ColourId, isHung } from '../pattern/index.ts';
import { type Allowances, allowancesOf, SINGLE_TUCK_MM } from './allowances.ts';
import { requirePositive, requireWhole } from './field-error.ts';
import { type GaugeDoubt, gaugeDoubt, type Measured } from './gauge-doubt.ts';
import { GAUGE_FIELDS, type GaugeField, THREAD_PER_WIDTH } from './gauge-model.ts';
import {
  chanceOfShort,
  doubtOf,
  type EndCounts,
  endSensitivity,
  marginMm,
  type Sensitivity,
  sumOf,
} from './need-doubt.ts';
import { headOf } from './head.ts';
import { type PieceSize, pieceSize } from './piece-rows.ts';
import { countSkeins, type SkeinCount } from './skeins.ts';
import { type TakeUp, takeUp } from './take-up.ts';
import type { Doubt } from './uncertainty.ts';
import { doubtSkeinLength, roundUpMm, SKEIN_MM } from './units.ts';
import { type WorkingGauge, workingGauge } from './working-gauge.ts';

/** Cut lengths and fold points are rounded up to this, in mm: what a maker can measure off. */
export const CUT_STEP_MM = 5;

/** Fewest cords of which one may be asked to come out short is 3; this is the most. */
const MOST_SHORT_ONE_IN = 1000;

/** One string to cut and fold, over the bar or for a loop; lengths in mm. */
export interface FoldCut {
  /** Places of its two ends at the top, left < right. */
  readonly left: number;
  readonly right: number;
  /** Mounting order, from 1; 0 for a loop, which has none. */
  readonly turn: number;
  readonly colour: ColourId;
  /** Multiple of {@link CUT_STEP_MM}: what lies left and right of the fold, each rounded up. */
  readonly cutMm: number;
  /** Where to fold, measured from the end that becomes the left one. */
  readonly foldAtMm: number;
  /** What the left and the right end need from the fold on, unrounded. */
  readonly needMm: readonly [number, number];
  /** Cut longer on either side for what is not sure; 0 unless `piece.shortOneIn` asks for it. */
  readonly marginMm: readonly [number, number];
  /** How sure the need of the whole string is; null where the gauge does not tell. */
  readonly doubt: Doubt | null;
  readonly sensitivity: Sensitivity;
}

/** One string with a single long end, or a loose one; lengths in mm. */
export interface SingleCut {
  readonly place: number;
  readonly colour: ColourId;
  readonly cutMm: number;
  /** What the string needs, its short end included, unrounded. */
  readonly needMm: number;
  /** Part of it that hangs as the short end and is hidden behind the first knots; of a loose string 0. */
  readonly shortMm: number;
  /** As of a fold. */
  readonly marginMm: number;
  readonly doubt: Doubt | null;
  readonly sensitivity: Sensitivity;
}

/** What one colour takes in all; lengths in mm. */
interface ColourTotal extends SkeinCount {
  readonly colour: ColourId;
  readonly pieces: number;
  /** Sum of what its strings need, unrounded and without margins. */
  readonly needMm: number;
  /** How sure that sum is: what they share of the gauge's error adds up whole. */
  readonly doubt: Doubt | null;
}

/** What one end does in the piece. */
interface EndUse {
  readonly place: number;
  readonly colour: ColourId;
  readonly knotting: number;
  readonly carrier: number;
  readonly untied: number;
  readonly finalPlace: number;
  readonly needMm: number;
  readonly doubt: Doubt | null;
}

/** Something a maker should look at before cutting. */
interface CutWarning {
  /**
   * `skein-yards-as-metres`, `skein-other-unit`: the stated skein length looks like a slip of units;
   * `longer-than-skein`: a piece of `colour` does not come whole from one skein.
   */
  readonly kind: 'skein-yards-as-metres' | 'skein-other-unit' | 'longer-than-skein';
  readonly path: string;
  readonly message: string;
}

/** What is not sure about the lengths, and what is done about it. */
export interface LengthDoubt {
  /** How sure the length of so many tied rows is; null where the gauge does not tell. */
  readonly band: Doubt | null;
  /** Paths of errors that the gauge does not state beside values it has, such as `gauge.rowErrorMm`. */
  readonly unknown: readonly string[];
  /** Measured once, so that an unevenness of the hand is assumed. */
  readonly assumed: readonly Measured[];
  /** `piece.shortOneIn`; null where nothing is added. */
  readonly shortOneIn: number | null;
  /**
   * Probability that a cord as it is cut comes out short (one of its ends needs its margin, its spare and more), of the cord for which it is
   * greatest; null where the gauge does not tell. Cords share the gauge's error: where one comes out short, others often do.
   */
  readonly chanceOfShort: number | null;
  /** Colour of that cord; null where there is no such cord or nothing tells. */
  readonly likeliestShort: ColourId | null;
}

/** What to cut and where to fold it; lengths in mm. */
export interface CutList {
  /** On a ring; else nothing is mounted. */
  readonly begin: BeginKind;
  readonly folds: readonly FoldCut[];
  readonly singles: readonly SingleCut[];
  /** Colours in the order they first stand at the top. */
  readonly colours: readonly ColourTotal[];
  readonly knots: number;
  /** Per place at the top, left to right. */
  readonly ends: readonly EndUse[];
  readonly size: PieceSize;
  readonly gauge: WorkingGauge;
  readonly doubt: LengthDoubt;
  readonly allowances: Allowances;
  /** What was not measured but estimated: `gauge.cordMm`, … */
  readonly estimates: readonly string[];
  readonly warnings: readonly CutWarning[];
}

/** How the strings are mounted: what a cutting list takes of a plan. */
export type MountedStrings = Pick<MountPlan, 'folds' | 'singles'>;

/**
 * The cutting list of a board that is mounted so. Each end's path is walked through lead-in, repeats and end rows; it needs
 * `knotting x knottingMm + carrier x carrierMm + untied x rowMm` and the allowances (rules L7, L8). A fold is cut as the sum of its two
 * ends, each rounded up to {@link CUT_STEP_MM}, and folded between them. How sure that is follows from the gauge's errors (rules L15 to L20).
 * Without a ring the plan is not read: which cords there are follows from how the band begins (rules X111, L100).
 * @throws FieldRangeError when a field of gauge or piece is out of range, with its path
 * @throws RangeError when the plan does not serve every place once, or folds two colours into one string
 * O(rows of the pattern x strings) whatever the repeats.
 */
export function cutListOf(board: Board, plan: MountedStrings): CutList {
  const { pattern, piece } = board;
  const gauge = workingGauge(board.gauge);
  const threadMm = THREAD_PER_WIDTH * gauge.cordMm.valueMm;
  const strings = pattern.colours.length;
  const allowances = allowancesOf(piece, threadMm, strings);
  const { perThread } = headOf(piece, threadMm, strings);
  const cords = cordsWithoutRing(board) ?? plan;
  const { begin = 'ring' } = piece;
  const turns = begin === 'ring' || begin === 'stick' ? 1 : 0;
  const size = pieceSize(board);
  const use = takeUp(pattern, size);
  const need = (place: number) => endNeed(use, place, gauge, allowances);
  const doubts = gaugeDoubt(board.gauge);
  const sensitivityOf = (place: number, halfHitches: number, spreadPlaces: number, heads = 1) => {
    const counts = {
      knotting: use.knotting[place]!,
      carrier: use.carrier[place]!,
      untied: use.untied[place]!,
    };
    const sensitivity = endSensitivity(
      counts,
      gauge.cordMm.valueMm,
      halfHitches,
      spreadPlaces,
      heads * perThread,
    );
    return size.askedMm === null
      ? sensitivity
      : tiedToLength(sensitivity, takenMm(counts, gauge), size, gauge);
  };
  const { shortOneIn } = piece;
  if (shortOneIn !== undefined) requireWhole('piece.shortOneIn', shortOneIn, 3, MOST_SHORT_ONE_IN);
  let chance: number | null = 0;
  let likeliest: ColourId | null = null;
  /** What an end is cut longer for, and how likely it is short even so. */
  const marginOf = (sensitivity: Sensitivity, colour: ColourId): number => {
    const doubt = doubtOf(doubts, sensitivity);
    if (doubt === null) {
      chance = null;
      return 0;
    }
    const margin = shortOneIn === undefined ? 0 : marginMm(doubt, shortOneIn, allowances.spareMm);
    const own = chanceOfShort(doubt, allowances.spareMm + margin);
    if (chance !== null && own > chance) {
      chance = own;
      likeliest = colour;
    }
    return margin;
  };
  const colourAt = (place: number) => pattern.colours[place] as ColourId;

  checkPlan(pattern.colours, cords);
  const folds = cords.folds.map(({ left, right, turn }): FoldCut => {
    // Below a loop all strings come out of one bundle.
    const between = isHung(piece) ? right - left - 1 : 0;
    const spread = (between * gauge.cordMm.valueMm) / 2;
    const needMm = [need(left) + spread, need(right) + spread] as const;
    const ends = [left, right].map((place) => sensitivityOf(place, turns, between));
    const sensitivity = sumOf(ends);
    const margins = ends.map((end) => marginOf(end, colourAt(left))) as [number, number];
    const foldAtMm = roundUpMm(needMm[0] + margins[0], CUT_STEP_MM);
    const cutMm = foldAtMm + roundUpMm(needMm[1] + margins[1], CUT_STEP_MM);
    const doubt = doubtOf(doubts, sensitivity);
    return {
      ...{ left, right, turn, colour: colourAt(left), cutMm, foldAtMm, needMm },
      ...{ marginMm: margins, doubt, sensitivity },
    };
  });
  const isLoose = begin === 'loose' || begin === 'stick';
  const singles = cords.singles.map((place): SingleCut => {
    // A single goes round the bar with both hitches of the lark's head, or through loop and bundle with the others, then hides its short end.
    const shortMm = isLoose ? 0 : SINGLE_TUCK_MM + allowances.mountMm + allowances.headMm;
    const needMm = need(place) + shortMm;
    const sensitivity = isLoose ? sensitivityOf(place, turns, 0) : sensitivityOf(place, 2 * turns, 0, 2);
    const margin = marginOf(sensitivity, colourAt(place));
    const cutMm = roundUpMm(needMm + margin, CUT_STEP_MM);
    const doubt = doubtOf(doubts, sensitivity);
    return { place, colour: colourAt(place), cutMm, needMm, shortMm, marginMm: margin, doubt, sensitivity };
  });

  const skeinMm = piece.skeinMm ?? SKEIN_MM;
  requirePositive('piece.skeinMm', skeinMm);
  const colours = colourTotals(pattern.colours, [...folds, ...singles], skeinMm, doubts);
  return {
    begin,
    folds,
    singles,
    colours,
    knots: use.knots,
    ends: pattern.colours.map((colour, place) => ({
      place,
      colour,
      knotting: use.knotting[place]!,
      carrier: use.carrier[place]!,
      untied: use.untied[place]!,
      finalPlace: use.finalPlace[place]!,
      needMm: need(place),
      doubt: doubtOf(doubts, sensitivityOf(place, turns, 0)),
    })),
    size,
    gauge,
    doubt: {
      band: doubtOf(doubts, {
        cord: 0,
        row: size.rows === 0 ? 0 : size.rows + 1,
        knotting: 0,
        carrier: 0,
        knots: 0,
      }),
      unknown: doubts.unknown.map(({ path }) => path),
      assumed: doubts.assumed,
      shortOneIn: shortOneIn ?? null,
      chanceOfShort: chance,
      likeliestShort: chance === null ? null : likeliest,
    },
    allowances,
    estimates: GAUGE_FIELDS.filter((field: GaugeField) => gauge[field].estimate).map(
      (field) => `gauge.${field}`,
    ),
    warnings: [...skeinDoubts(skeinMm), ...tooLongWarnings(colours, skeinMm)],
  };
}

function checkPlan(colours: readonly ColourId[], plan: MountedStrings): void {
  const served = [...plan.folds.flatMap(({ left, right }) => [left, right]), ...plan.singles];
  const places = new Set(served);
  if (
    served.length !== colours.length ||
    places.size !== colours.length ||
    colours.some((_, i) => !places.has(i))
  )
    throw new RangeError(`the plan does not serve each of the ${colours.length} places once`);
  for (const { left, right } of plan.folds)
    if (colours[left] !== colours[right])
      throw new RangeError(
        `the plan folds ${colours[left]} at ${left} and ${colours[right]} at ${right} into one string`,
      );
}

/** What an end needs from its fold to its tip, in mm, unless the fold is spread. */
function endNeed(use: TakeUp, place: number, gauge: WorkingGauge, allowances: Allowances): number {
  return (
    takenMm(
      { knotting: use.knotting[place]!, carrier: use.carrier[place]!, untied: use.untied[place]! },
      gauge,
    ) +
    allowances.mountMm +
    allowances.headMm +
    allowances.tailMm +
    allowances.spareMm
  );
}

/** What the rows take of an end, in mm. */
function takenMm({ knotting, carrier, untied }: EndCounts, gauge: WorkingGauge): number {
  return (
    knotting * gauge.knottingMm.valueMm + carrier * gauge.carrierMm.valueMm + untied * gauge.rowMm.valueMm
  );
}

/**
 * Of an end that is tied until the band measures what was asked: if rows turn out higher, fewer of them are tied, and it takes less. So what is
 * not sure about the width, which makes all as much larger, does not count. Rule L62.
 */
function tiedToLength(
  sensitivity: Sensitivity,
  takenMm: number,
  { rows, bandMm }: PieceSize,
  { rowMm }: WorkingGauge,
): Sensitivity {
  // n = L/h - 1 rows take taken/n each; the derivative of that by h.
  return rows === 0
    ? sensitivity
    : { ...sensitivity, row: sensitivity.row - ((takenMm / rows) * bandMm) / rowMm.valueMm ** 2 };
}

function colourTotals(
  order: readonly ColourId[],
  pieces: readonly (FoldCut | SingleCut)[],
  skeinMm: number,
  doubts: GaugeDoubt,
): readonly ColourTotal[] {
  const byColour = new Map<ColourId, (FoldCut | SingleCut)[]>(order.map((colour) => [colour, []]));
  for (const piece of pieces) byColour.get(piece.colour)?.push(piece);
  return [...byColour].map(([colour, cuts]) => ({
    colour,
    pieces: cuts.length,
    needMm: cuts.reduce((sum, cut) => sum + needOf(cut), 0),
    ...countSkeins(
      cuts.map(({ cutMm }) => cutMm),
      skeinMm,
    ),
    doubt: doubtOf(doubts, sumOf(cuts.map(({ sensitivity }) => sensitivity))),
  }));
}

/** What a whole string needs. */
export function needOf({ needMm }: FoldCut | SingleCut): number {
  return typeof needMm === 'number' ? needMm : needMm[0] + needMm[1];
}

function skeinDoubts(skeinMm: number): readonly CutWarning[] {
  const doubt = doubtSkeinLength(skeinMm);
  const path = 'piece.skeinMm';
  if (doubt === null) return [];
  if (doubt === 'yards-as-metres') {
    const message = `${path} is 8.7 m: skeins are labelled 8.7 yards, which is 7.955 m`;
    return [{ kind: 'skein-yards-as-metres', path, message }];
  }
  return [{ kind: 'skein-other-unit', path, message: `${path} is ${skeinMm} mm: was another unit meant?` }];
}

function tooLongWarnings(colours: readonly ColourTotal[], skeinMm: number): readonly CutWarning[] {
  return colours
    .filter(({ tooLong }) => tooLong > 0)
    .map(({ colour, tooLong }) => ({
      kind: 'longer-than-skein',
      path: `colours.${colour}`,
      message: `${tooLong} of the strings in ${colour} are longer than a skein of ${skeinMm} mm`,
    }));
}
