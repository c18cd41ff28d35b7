import type { enShare } from '../en/share.ts';

/** Texts of the dialog in which a board is shared, in German. */
export const deShare: Readonly<Record<keyof typeof enShare, string>> = {
  'links.heading': 'Dieses Brett teilen',
  'links.close': 'Schließen',
  'links.roleOfLink': 'Wer ihn öffnet, darf',
  'links.name': 'Für wen (das sehen nur Besitzer)',
  'links.ends': 'Letzter Tag',
  'links.endsHint': 'Leer lassen für einen Link, der nicht abläuft.',
  'links.lesson': 'Eine Stunde mit diesem Brett geben',
  'links.make': 'Link erstellen',
  'links.made': 'Hier ist der Link. Er wird nur jetzt gezeigt: kopiere ihn, bevor du dies schließt.',
  'links.address': 'Der neue Link',
  'links.copy': 'Kopieren',
  'links.copied': 'Kopiert.',
  'links.copyByHand': 'Der Browser ließ die Seite nicht kopieren. Markiere den Link und kopiere ihn selbst.',
  'links.keepOwner':
    'Dieses Brett öffnet sich in diesem Browser, weil du es angelegt hast oder über einen Link kamst. Erstelle einen Besitzer-Link für deine anderen Geräte und verwahre ihn gut: Sind die Daten dieses Browsers gelöscht, bringt dich nur ein solcher zurück.',
  'links.list': 'Ausgegebene Links',
  'links.loading': 'Die Links werden geholt …',
  'links.failed': 'Nicht ausgeführt: {why}',
  'links.unnamed': 'ohne Namen',
  'links.madeOn': 'erstellt am {date}',
  'links.endsOn': 'bis {date}',
  'links.endedOn': 'abgelaufen am {date}',
  'links.takenBackOn': 'zurückgenommen am {date}',
  'links.endOf': 'Letzter Tag des Links „{name}“',
  'links.takeBack': 'Zurücknehmen',
  'links.takeBackOf': 'Den Link „{name}“ zurücknehmen',
  'links.takeBackSure': 'Wer über ihn kam, verliert sofort den Zugang. Wirklich zurücknehmen?',
  'links.yes': 'Ja, zurücknehmen',
  'links.no': 'Behalten',
  'links.askOwner': 'Links zu diesem Brett geben Besitzer aus; frage einen von ihnen.',
  'links.demo': 'Ein Beispielbrett steht allen offen. Mache dir eine eigene Kopie und teile diese.',
  'links.byAddress':
    'Dieser Server führt keine Links: Wer die Adresse dieser Seite hat, arbeitet am Brett mit.',
  'links.branch':
    'Das ist ein Vorschlag. Wer auf dem Brett ist, für das er gedacht ist, kann ihn öffnen; was man hier darf, folgt daraus.',
  'links.unknown': 'Der Server ist nicht zu erreichen, also lässt sich nicht erfragen, was du hier darfst.',
  'links.untilYou': 'Dein Link endet nach dem {date}.',
};

export { deHandOver } from './hand-over.ts';
