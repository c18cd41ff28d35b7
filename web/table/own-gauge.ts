/** What a finished keychain says of the hand that tied it: take-up from ends that still hang, and the pace. Knows no screen. */
import {
  type Board,
  type CutList,
  endSwatch,
  endsToMeasure,
  fitGauge,
  type Gauge,
  type GaugePatchValues,
  paceOf,
  pieceSize,
  type TiedMark,
  type WorkStep,
} from '../../engine/index.ts';

/** An end that is asked for. */
export interface AskedEnd {
  /** Place at the top. */
  readonly string: number;
  /** Place at which it hangs below the last row. */
  readonly place: number;
  /** Its length before the first knot, from where it hangs: as it was cut, less what mounting took. */
  readonly hungMm: number;
}

/** What is needed of a cutting list. */
export type OwnList = Pick<CutList, 'folds' | 'singles' | 'ends' | 'gauge' | 'allowances'>;

/**
 * The one or two ends to measure.
 * @param list  cutting list by which the keychain was cut
 * @param steps of the keychain as it is made
 * @param below strings, by their places at the top, as they hang below the last row
 * Rule N63.
 */
export function endsAsked(
  list: OwnList,
  steps: readonly WorkStep[],
  below: ArrayLike<number>,
): readonly AskedEnd[] {
  const cut = new Map<number, number>();
  for (const { left, right, cutMm, foldAtMm } of list.folds) {
    cut.set(left, foldAtMm);
    cut.set(right, cutMm - foldAtMm);
  }
  for (const { place, cutMm, shortMm } of list.singles) cut.set(place, cutMm - shortMm);
  const order = Array.from(below);
  return endsToMeasure(order.length, steps).flatMap((string) => {
    const cutMm = cut.get(string);
    const end = list.ends.find(({ place }) => place === string);
    return cutMm === undefined || end === undefined
      ? []
      : [{ string, place: order.indexOf(string), hungMm: cutMm - mountingMm(list, end) }];
  });
}

/** What mounting takes of an end: what is in its need beside knots, rows that it hangs, end and fingers. */
function mountingMm({ gauge, allowances }: OwnList, end: CutList['ends'][number]): number {
  const { knottingMm, carrierMm, rowMm } = gauge;
  const tiedMm = end.knotting * knottingMm.valueMm + end.carrier * carrierMm.valueMm;
  return end.needMm - tiedMm - end.untied * rowMm.valueMm - allowances.tailMm - allowances.spareMm;
}

/** What was measured, as values for the gauge of the board; null where they cannot be. */
export function measuredPatch(
  board: Board,
  made: Board,
  steps: readonly WorkStep[],
  measured: readonly { readonly end: AskedEnd; readonly leftMm: number }[],
): GaugePatchValues | null {
  const strings = made.pattern.colours.length;
  const { rows } = pieceSize(made);
  const swatches = measured.map(({ end, leftMm }) => endSwatch(strings, steps, rows, { ...end, leftMm }));
  const fitted = fitGauge(swatches, board.gauge);
  return fitted.ok ? fitted.value.patch : null;
}

/** Knots a minute, to the tenth; null where too few were timed. Rule N64. */
export function knotsPerMinute(marks: readonly TiedMark[]): number | null {
  const pace = paceOf(marks);
  return pace === null || pace.medianMs <= 0 ? null : Math.max(0.1, Math.round(600_000 / pace.medianMs) / 10);
}

/** The gauge as the patch would leave it. */
export function withPatch(gauge: Gauge, patch: GaugePatchValues): Gauge {
  return Object.fromEntries(
    Object.entries({ ...gauge, ...patch }).filter(([, value]) => value !== null),
  ) as Gauge;
}
