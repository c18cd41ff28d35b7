import type { enNotices } from '../en/notices.ts';

/** Texts of notices about one's own work that somebody changed, in German. */
export const deNotices: Readonly<Record<keyof typeof enNotices, string>> = {
  'lost.region': 'Was aus deiner Arbeit wurde',
  'lost.somebody': 'Jemand',
  'lost.changed': '{name} hat {what} geändert.',
  'lost.removed': '{name} hat {what} entfernt.',
  'lost.both': '{name} hat {changed} geändert und {removed} entfernt.',
  'lost.knot': '{count} deiner Knoten',
  'lost.row': '{count} deiner Reihen',
  'lost.string': '{count} deiner Stränge',
  'lost.colour': '{count} deiner Farben',
  'lost.colourway': '{count} deiner Farbstellungen',
  'lost.text': '{count} deiner Texte',
  'lost.show': 'Zeigen',
  'lost.putBack': 'Zurückholen',
  'lost.close': 'Schließen',
  'lost.done': 'Es ist wieder, wie du es gelassen hast. „Rückgängig“ nimmt das zurück.',
  'lost.doneInPart':
    'Zurückgeholt, bis auf {count}: Dort hat seitdem jemand weitergemacht. „Rückgängig“ nimmt es zurück.',
  'lost.gone': 'Davon lässt sich nichts mehr zurückholen.',
};
