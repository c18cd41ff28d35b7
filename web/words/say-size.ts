/** How many rows a piece has and how long that is, in words. Needs the texts of the panels. */
import {
  type Board,
  doubtOf,
  gaugeDoubt,
  isHung,
  type PieceSize,
  type PieceStops,
  pieceStops,
  workingGauge,
} from '../../engine/index.ts';
import { t } from '../text/index.ts';
import { formatNear, type ShownUnit } from '../units/index.ts';
import { plusMinus } from './say-doubt.ts';

/** Rows and length, how sure that is and what to do about it. Rules Y62 and Y63. */
export function saySize(board: Board, size: PieceSize, unit: ShownUnit): readonly string[] {
  const { rows, repeats, partRows, bandMm, wholeMm, askedMm } = size;
  const isEstimated = workingGauge(board.gauge).rowMm.estimate;
  const doubt = doubtOf(gaugeDoubt(board.gauge), {
    ...{ cord: 0, knotting: 0, carrier: 0, knots: 0 },
    row: rows === 0 ? 0 : rows + 1,
  });
  const length =
    isEstimated && doubt !== null && bandMm > 0
      ? t('piece.range', {
          length: formatNear(bandMm, unit),
          // The estimate is of a ratio: as likely so many times shorter as longer.
          least: formatNear(bandMm * Math.exp(-doubt.plusMinusMm / bandMm), unit),
          most: formatNear(bandMm * Math.exp(doubt.plusMinusMm / bandMm), unit),
        })
      : plusMinus(bandMm, doubt, unit);
  const sentences = [
    partRows === 0
      ? t('piece.size', { rows, repeats, length })
      : t(repeats === 0 ? 'piece.sizeBegun' : 'piece.sizePart', { rows, repeats, part: partRows, length }),
  ];
  if (askedMm !== null && isEstimated)
    sentences.push(t('piece.tieUntil', { length: formatNear(askedMm, unit) }));
  sentences.push(
    t(isHung(board.piece) ? 'piece.whole' : 'begin.whole', { length: formatNear(wholeMm, unit) }),
  );
  return sentences;
}

/** Where a piece of a length may stop, each with its length; null where no length is asked for. Rule Y62. */
export function sayStops(board: Board, unit: ShownUnit): Readonly<Record<keyof PieceStops, string>> | null {
  const stops = pieceStops(board);
  if (stops === null) return null;
  const say = (stop: keyof PieceStops): string => {
    const { rows, bandMm, wholeMm } = stops[stop];
    const length = formatNear(board.piece.lengthOf === 'whole' ? wholeMm : bandMm, unit);
    return t('piece.stop', { where: t(`piece.stopAt.${stop}`), rows, length });
  };
  return { row: say('row'), finished: say('finished') };
}
