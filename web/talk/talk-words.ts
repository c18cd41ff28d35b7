/** The talk in words: what a thread is about, when something was said, what is heard of it. */
import type { Pin } from '../../engine/document/index.ts';
import { type PanelId, panelName } from '../board/index.ts';
import { currentLanguage, type TextKey, t } from '../text/index.ts';
import { sayServerError } from '../words/index.ts';
import { pinnedEntryName } from './entry-words.ts';
import type { NewRemark, TalkDesk } from './talk-desk.ts';

/** Panels that one can talk about. */
export const TALKED_PANELS = [
  'mounting',
  'colours',
  'cutting',
  'cost',
  'gauge',
  'work',
  'symmetry',
  'piece',
  'notes',
] as const satisfies readonly PanelId[];

/** What a thread is about, as it is now. */
export function placeName(desk: Pick<TalkDesk, 'placeOf' | 'design' | 'entries'>, pin: Pin): string {
  const at = desk.placeOf(pin);
  switch (at.kind) {
    case 'board':
      return t('talk.about.board');
    case 'panel':
      return t('talk.about.panel', { name: nameOf(at.entry, desk.design) });
    case 'entry':
      return pinnedEntryName(at, desk.design.snapshot.board, desk.entries, nameOf(at.panel, desk.design));
    case 'knot':
      return at.place === null
        ? t('talk.gone.knot')
        : t('talk.about.knot', { row: at.place.row + 1, k: at.place.k + 1 });
    case 'row':
      return at.place === null ? t('talk.gone.row') : t('talk.about.row', { row: at.place + 1 });
    case 'string':
      return at.place === null ? t('talk.gone.string') : t('talk.about.string', { string: at.place + 1 });
  }
}

/** Whether what a thread is about is there no longer. */
export function isGone(desk: Pick<TalkDesk, 'placeOf' | 'design' | 'entries'>, pin: Pin): boolean {
  const at = desk.placeOf(pin);
  if (!('place' in at)) return false;
  return at.place === null || (at.kind === 'entry' && !desk.entries.has(at.panel, at.place));
}

function nameOf(panel: string, { snapshot }: TalkDesk['design']): string {
  const known = TALKED_PANELS.find((id) => id === panel);
  return known === undefined ? panel : panelName(known, snapshot.board.piece);
}

/** When something was said, in the reader's own words: the time today, else the day as well. */
export function whenSaid(at: number, now: number): string {
  const date = new Date(at);
  const isToday = date.toDateString() === new Date(now).toDateString();
  const format: Intl.DateTimeFormatOptions = isToday
    ? { timeStyle: 'short' }
    : { dateStyle: 'medium', timeStyle: 'short' };
  return new Intl.DateTimeFormat(currentLanguage(), format).format(date);
}

/** The beginning of a text, for names of buttons and what is spoken. */
export function beginningOf(text: string, most = 60): string {
  const line = text.replace(/\s+/g, ' ').trim();
  return line.length > most ? `${line.slice(0, most - 1)}…` : line;
}

export const FILTER_KEYS = {
  open: 'talk.filter.open',
  done: 'talk.filter.done',
  me: 'talk.filter.me',
} as const satisfies Readonly<Record<string, TextKey>>;

/** Why the server refused something, by the kind of its answer. */
export function whyRefused(kind: string): string {
  if (kind === 'full') return t('talk.why.full');
  return kind === 'forbidden' || kind === 'unknown-board'
    ? t('talk.why.forbidden')
    : sayServerError({ kind });
}

/** What is said to a screen reader of new remarks of others. */
export function heard(desk: Parameters<typeof placeName>[0], remarks: readonly NewRemark[]): string {
  const [first, ...more] = remarks;
  if (first === undefined) return '';
  if (more.length > 0) return t('talk.heardMany', { count: remarks.length });
  const { thread, by, text, isForMe } = first;
  const values = { name: by.name, place: placeName(desk, thread.pin), text: beginningOf(text, 120) };
  return t(isForMe ? 'talk.heardForMe' : 'talk.heard', values);
}
