/** A notice in words. Needs the texts of the group `notices`. */
import { LOST_KINDS, type Lost } from '../../engine/document/index.ts';
import { currentLanguage, t } from '../text/index.ts';
import type { Notice } from './gather.ts';

/** Who did what to which of one's own: one sentence. */
export function sayNotice({ who, lost }: Notice): string {
  const name = who.name || t('lost.somebody');
  const things = new Map(lost.map((one) => [one.thing, one]));
  const removed = [...things.values()].filter(({ isRemoved }) => isRemoved);
  const changed = [...things.values()].filter(({ isRemoved }) => !isRemoved);
  if (removed.length === 0) return t('lost.changed', { name, what: sayThings(changed) });
  if (changed.length === 0) return t('lost.removed', { name, what: sayThings(removed) });
  return t('lost.both', { name, changed: sayThings(changed), removed: sayThings(removed) });
}

function sayThings(lost: readonly Lost[]): string {
  const said = LOST_KINDS.flatMap((kind) => {
    const of = lost.filter((one) => one.kind === kind).length;
    // Rows and strings come and go in pairs.
    const count = kind === 'row' || kind === 'string' ? of * 2 : of;
    return count === 0 ? [] : [t(`lost.${kind}`, { count })];
  });
  return new Intl.ListFormat(currentLanguage()).format(said);
}
