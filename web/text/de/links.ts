import type { enLinks } from '../en/links.ts';

/** Texts about links, roles and people, in German. */
export const deLinks: Readonly<Record<keyof typeof enLinks, string>> = {
  'closed.roleChanged': 'Was du an diesem Brett darfst, hat sich geändert. Die Seite öffnet es neu.',
  'links.share': 'Teilen',
  'links.dead': 'Dieser Link öffnet nichts: Er ist falsch, abgelaufen oder zurückgenommen.',
  'links.deadButIn': 'Jener Link öffnet nichts mehr. Du bist über einen anderen hier.',
  'links.tooMany':
    'Von hier aus wurden zu viele Links versucht, die nichts öffnen. Warte eine Minute und lade die Seite neu.',
  'links.lessNow':
    'Du darfst dieses Brett jetzt nur noch ansehen. Änderungen von dir, die noch nicht gesichert waren, werden nicht angenommen.',
  'people.following': 'Du folgst {name}. Berühre das Brett, um eigene Wege zu gehen.',
  'people.stop': 'Nicht mehr folgen',
};
