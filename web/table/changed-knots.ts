/** Which tied knots are another on the board of now, in words. */
import type { compareTied } from '../../engine/index.ts';
import { sayList, t } from '../text/index.ts';

type TiedChanges = ReturnType<typeof compareTied>['changes'];

/** More than these are counted. */
const MOST_NAMED = 4;

/** Where they lie, the first ones by name, as they were numbered when the keychain was begun; empty when there are none. Rule N5. */
export function sayChanges(changes: TiedChanges): string {
  if (changes.length === 0) return '';
  const named = changes.slice(0, MOST_NAMED).map(({ was: { repeat, row, k } }) => {
    const at = { row: row + 1, knot: k + 1 };
    return repeat > 1 ? t('table.changedKnotOf', { ...at, repeat }) : t('table.changedKnot', at);
  });
  const more = changes.length - named.length;
  return t('table.changedAt', {
    knots: sayList(more === 0 ? named : [...named, t('table.changedMore', { count: more })]),
  });
}
