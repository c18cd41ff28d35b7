/** Visits in words. */
import type { KeyChange } from '../../engine/document/index.ts';
import type { PastVisit } from '../sync/index.ts';
import { currentLanguage, t } from '../text/index.ts';
import { momentOf, timeOf } from './version-time.ts';

/** Names said at most; the others are people too. */
const MOST_NAMES = 3;

export function whoOf({ name }: Pick<PastVisit, 'name'>): string {
  return name === '' ? t('visits.somebody') : name;
}

/** From when to when, as the reader writes it. */
export function whenOf({ began, last }: PastVisit): string {
  const isMoment = timeOf(began) === timeOf(last) && last - began < 60_000;
  return isMoment ? momentOf(began) : t('visits.span', { from: momentOf(began), to: timeOf(last) });
}

/** Keys that stay as others made them since. */
function staying(kept: readonly KeyChange[], since: ReadonlyMap<string, string>): ReadonlySet<string> {
  return new Set([...since.keys(), ...kept.map(({ root, key }) => `${root} ${key}`)]);
}

/**
 * What stays because others have changed it since, and whose it is; null where everything goes.
 * @param kept what was changed since the server was asked
 * @param since names by root and key
 */
export function keptOf(kept: readonly KeyChange[], since: ReadonlyMap<string, string>): string | null {
  const count = staying(kept, since).size;
  if (count === 0) return null;
  const names = new Set([...since.values()].filter((name) => name !== ''));
  if (names.size === 0) return t('visits.stays', { count });
  const said = [...names].slice(0, MOST_NAMES);
  if (names.size > MOST_NAMES) said.push(t('visits.others'));
  const list = new Intl.ListFormat(currentLanguage(), { type: 'conjunction' }).format(said);
  return t('visits.staysOf', { count, names: list });
}
