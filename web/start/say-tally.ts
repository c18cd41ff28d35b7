/** What a beginning comes to, and what sets it apart, in words. Needs the texts of the group `figures`. */
import type { StartDifference, Tally } from '../../engine/index.ts';
import { t } from '../text/index.ts';
import { formatNear, formatNumber, type ShownUnit } from '../units/index.ts';

/** Phrases of one line: mounting, bar, minutes, pick-ups, ends. */
export function sayTally(tally: Tally, unit: ShownUnit): readonly string[] {
  const { crossings, singles, leadInRows, minutes, pickUps, longestMm, shortestMm } = tally;
  return [
    tally.isNeat ? t('figure.neat') : t('figure.crossings', { crossings }),
    ...(singles === 0 ? [] : [t('figure.singles', { singles })]),
    ...(leadInRows === 0 ? [] : [t('figure.leadIn', { rows: leadInRows })]),
    sayBar(tally, unit),
    t('figure.minutes', { minutes: Math.round(minutes) }),
    t('figure.pickUps', { pickUps }),
    sayLengths(formatNear(shortestMm, unit), formatNear(longestMm, unit)),
  ];
}

function sayLengths(shortest: string, longest: string): string {
  return shortest === longest
    ? t('figure.endsAlike', { length: longest })
    : t('figure.ends', { shortest, longest });
}

/** Whether it fits the bar chosen, or which one it needs. */
function sayBar({ fit }: Tally, unit: ShownUnit): string {
  const size = fit.sizes[0]?.label ?? formatNear(fit.neededMm ?? 0, unit);
  switch (fit.verdict) {
    case 'fits':
      return t('figure.fits');
    case null:
      return t('figure.needs', { size });
    case 'too tight':
      return t('figure.tooTight', { size });
    case 'too loose':
      return t('figure.tooLoose', { size });
  }
}

/** What differs, the plainest first. */
export function sayDifferences(differs: readonly StartDifference[]): string {
  return differs
    .map((one) => {
      switch (one.what) {
        case 'finer':
        case 'bolder':
          return t(`figure.differs.${one.what}`);
        case 'mirrored':
        case 'upside-down-alike':
          return t(`figure.differs.${one.what}`);
        default:
          return t(`figure.differs.${one.what}`, {
            from: formatNumber(one.from, 0),
            to: formatNumber(one.to, 0),
          });
      }
    })
    .join(', ');
}
