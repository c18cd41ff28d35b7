/** What to cut, where to fold it, and what it comes to. */
import { type MountPlan, planMount } from '../mount/index.ts';
import type { Board, ColourId } from '../pattern/index.ts';
import { type Allowances, allowancesOf, SINGLE_TUCK_MM, spreadLength } from './allowances.ts';
import { type CostParts, priceOf } from './cost.ts';
import { requirePositive } from './field-error.ts';
import { type PieceSize, pieceSize } from './piece-rows.ts';
import { countSkeins, type SkeinCount } from './skeins.ts';
import { type TakeUp, takeUp } from './take-up.ts';
import { doubtSkeinLength, roundUpMm, SKEIN_MM } from './units.ts';
import { GAUGE_FIELDS, type GaugeField, type WorkingGauge, workingGauge } from './working-gauge.ts';

/** Cut lengths and fold points are rounded up to this, in mm: what a maker can measure off. */
export const CUT_STEP_MM = 5;

/** One string to cut and fold over the bar; lengths in mm. */
export interface FoldCut {
  /** Places of its two ends at the top, left < right. */
  readonly left: number;
  readonly right: number;
  /** Mounting order, from 1. */
  readonly turn: number;
  readonly colour: ColourId;
  /** Multiple of {@link CUT_STEP_MM}: what lies left and right of the fold, each rounded up. */
  readonly cutMm: number;
  /** Where to fold, measured from the end that becomes the left one. */
  readonly foldAtMm: number;
  /** What the left and the right end need from the fold on, unrounded. */
  readonly needMm: readonly [number, number];
}

/** One string with a single long end; lengths in mm. */
export interface SingleCut {
  readonly place: number;
  readonly colour: ColourId;
  readonly cutMm: number;
  /** What the string needs, its short end included, unrounded. */
  readonly needMm: number;
  /** Part of it that hangs as the short end and is hidden behind the first knots. */
  readonly shortMm: number;
}

/** What one colour takes in all; lengths in mm. */
export interface ColourTotal extends SkeinCount {
  readonly colour: ColourId;
  readonly pieces: number;
}

/** What one end does in the piece. */
export interface EndUse {
  readonly place: number;
  readonly colour: ColourId;
  readonly knotting: number;
  readonly carrier: number;
  readonly untied: number;
  readonly finalPlace: number;
  readonly needMm: number;
}

/** Something a maker should look at before cutting. */
export interface CutWarning {
  /**
   * `skein-yards-as-metres`, `skein-other-unit`: the stated skein length looks like a slip of units;
   * `longer-than-skein`: a piece of `colour` does not come whole from one skein.
   */
  readonly kind: 'skein-yards-as-metres' | 'skein-other-unit' | 'longer-than-skein';
  readonly path: string;
  readonly message: string;
}

/** What to cut and where to fold it, and what that costs; lengths in mm. */
export interface CutList {
  readonly folds: readonly FoldCut[];
  readonly singles: readonly SingleCut[];
  /** Colours in the order they first stand at the top. */
  readonly colours: readonly ColourTotal[];
  /** In the maker's own currency; null when no price was stated. */
  readonly cost: number | null;
  readonly costParts: CostParts;
  readonly knots: number;
  readonly minutes: number;
  /** Per place at the top, left to right. */
  readonly ends: readonly EndUse[];
  readonly size: PieceSize;
  readonly gauge: WorkingGauge;
  readonly allowances: Allowances;
  /** What was not measured or stated but estimated: `gauge.cordMm`, …, `piece.knotsPerMinute`. */
  readonly estimates: readonly string[];
  readonly warnings: readonly CutWarning[];
}

/** What {@link cutList} may be told besides the board. */
export interface CutListOptions {
  /** As for `planMount`; default 'forced'. */
  readonly singles?: 'forced' | 'free';
  /** A plan the maker has chosen, or one computed before; default `planMount`'s. */
  readonly plan?: Pick<MountPlan, 'folds' | 'singles'>;
}

/**
 * The cutting list of a board. Each end's path is walked through lead-in, repeats and end rows; it needs
 * `knotting x knottingMm + carrier x carrierMm + untied x rowMm` and the allowances (rules L7, L8). A fold is cut as the sum of its two
 * ends, each rounded up to {@link CUT_STEP_MM}, and folded between them.
 * @throws FieldRangeError when a field of gauge or piece is out of range, with its path
 * @throws RangeError when a plan given does not serve every place once, or folds two colours into one string
 * O(rows of the pattern x strings) whatever the repeats, and what `planMount` takes.
 */
export function cutList(board: Board, options: CutListOptions = {}): CutList {
  const { pattern, piece } = board;
  const gauge = workingGauge(board.gauge);
  const allowances = allowancesOf(piece, gauge.cordMm.valueMm);
  const size = pieceSize(board);
  const use = takeUp(pattern, size);
  const need = (place: number) => endNeed(use, place, gauge, allowances);
  const colourAt = (place: number) => pattern.colours[place] as ColourId;

  const plan =
    options.plan ??
    planMount(pattern.colours, { singles: options.singles ?? board.piece.singles ?? 'forced' });
  if (options.plan !== undefined) checkPlan(pattern.colours, options.plan);
  const folds = plan.folds.map(({ left, right, turn }): FoldCut => {
    const spread = spreadLength(left, right, gauge.cordMm.valueMm) / 2;
    const needMm = [need(left) + spread, need(right) + spread] as const;
    const foldAtMm = roundUpMm(needMm[0], CUT_STEP_MM);
    const cutMm = foldAtMm + roundUpMm(needMm[1], CUT_STEP_MM);
    return { left, right, turn, colour: colourAt(left), cutMm, foldAtMm, needMm };
  });
  const singles = plan.singles.map((place): SingleCut => {
    // A single goes round the bar with both hitches of the lark's head, then hides its short end.
    const shortMm = SINGLE_TUCK_MM + allowances.mountMm;
    const needMm = need(place) + shortMm;
    return { place, colour: colourAt(place), cutMm: roundUpMm(needMm, CUT_STEP_MM), needMm, shortMm };
  });

  const skeinMm = piece.skeinMm ?? SKEIN_MM;
  requirePositive('piece.skeinMm', skeinMm);
  const colours = colourTotals(pattern.colours, [...folds, ...singles], skeinMm);
  const skeins = colours.reduce((sum, colour) => sum + colour.skeins, 0);
  const { cost, costParts, minutes, isPaceAssumed } = priceOf(piece, skeins, use.knots, 1);
  return {
    folds,
    singles,
    colours,
    cost,
    costParts,
    knots: use.knots,
    minutes,
    ends: pattern.colours.map((colour, place) => ({
      place,
      colour,
      knotting: use.knotting[place]!,
      carrier: use.carrier[place]!,
      untied: use.untied[place]!,
      finalPlace: use.finalPlace[place]!,
      needMm: need(place),
    })),
    size,
    gauge,
    allowances,
    estimates: [
      ...GAUGE_FIELDS.filter((field: GaugeField) => gauge[field].estimate).map((field) => `gauge.${field}`),
      ...(isPaceAssumed ? ['piece.knotsPerMinute'] : []),
    ],
    warnings: [...skeinDoubts(skeinMm), ...tooLongWarnings(colours, skeinMm)],
  };
}

function checkPlan(colours: readonly ColourId[], plan: Pick<MountPlan, 'folds' | 'singles'>): void {
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
    use.knotting[place]! * gauge.knottingMm.valueMm +
    use.carrier[place]! * gauge.carrierMm.valueMm +
    use.untied[place]! * gauge.rowMm.valueMm +
    allowances.mountMm +
    allowances.tailMm +
    allowances.spareMm
  );
}

function colourTotals(
  order: readonly ColourId[],
  pieces: readonly { readonly colour: ColourId; readonly cutMm: number }[],
  skeinMm: number,
): readonly ColourTotal[] {
  const byColour = new Map<ColourId, number[]>(order.map((colour) => [colour, []]));
  for (const { colour, cutMm } of pieces) byColour.get(colour)?.push(cutMm);
  return [...byColour].map(([colour, lengths]) => ({
    colour,
    pieces: lengths.length,
    ...countSkeins(lengths, skeinMm),
  }));
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
