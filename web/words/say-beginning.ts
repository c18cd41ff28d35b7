/** How a band without a ring begins, in words. Needs the texts of the panels. */
import { type Board, headKnotOf, headOf, THREAD_PER_WIDTH, workingGauge } from '../../engine/index.ts';
import { t } from '../text/index.ts';
import { formatCut, type ShownUnit } from '../units/index.ts';

/** Lengths of what stands above the first row, as they are measured off. @throws FieldRangeError as `cutListOf` */
export function headLengths(
  { pattern, piece, gauge }: Pick<Board, 'pattern' | 'piece' | 'gauge'>,
  unit: ShownUnit,
): { readonly head: string; readonly loop: string } {
  const threadMm = THREAD_PER_WIDTH * workingGauge(gauge).cordMm.valueMm;
  const { loopMm, takesMm } = headOf(piece, threadMm, pattern.colours.length);
  return { head: formatCut(takesMm - loopMm, unit), loop: formatCut(loopMm, unit) };
}

/** What hands do before the first knot. @throws FieldRangeError as `cutListOf` */
export function sayBeginning(board: Board, unit: ShownUnit): string {
  const { head, loop } = headLengths(board, unit);
  const knot = headKnotOf(board.piece);
  switch (board.piece.begin) {
    case 'loop':
      return t('begin.loop', { loop, close: t(`begin.close.${knot}`, { head }) });
    case 'stick':
      return t('begin.stick', { head });
    default:
      return t(knot === 'overhand' ? 'begin.looseKnot' : 'begin.loose', { head });
  }
}

/** Neighbouring places of one colour. */
export interface PlaceRun {
  readonly colour: string;
  readonly from: number;
  readonly to: number;
}

/** The order at the top, left to right. */
export function placeRuns(colours: readonly string[]): readonly PlaceRun[] {
  const runs: { colour: string; from: number; to: number }[] = [];
  colours.forEach((colour, place) => {
    const last = runs[runs.length - 1];
    if (last?.colour === colour) last.to = place;
    else runs.push({ colour, from: place, to: place });
  });
  return runs;
}

export function sayPlaces({ from, to }: PlaceRun, colour: string): string {
  return t(from === to ? 'begin.place' : 'begin.places', { colour, from: from + 1, to: to + 1 });
}
