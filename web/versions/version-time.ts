/** Times of versions as the reader writes them. */
import type { VersionKind } from '../sync/index.ts';
import { currentLanguage, t } from '../text/index.ts';

function clock(at: number, options: Intl.DateTimeFormatOptions): string {
  return new Intl.DateTimeFormat(currentLanguage(), options).format(at);
}

export function dayOf(at: number): string {
  return clock(at, { dateStyle: 'full' });
}

export function timeOf(at: number): string {
  return clock(at, { timeStyle: 'short' });
}

export function momentOf(at: number): string {
  return clock(at, { dateStyle: 'medium', timeStyle: 'short' });
}

/** What a version is called: its name, or how it came to be and when. */
export function titleOf(version: {
  readonly kind: VersionKind;
  readonly at: number;
  readonly name: string;
}): string {
  return version.kind === 'named' ? version.name : t(`versions.kind.${version.kind}`);
}
