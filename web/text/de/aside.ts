import type { enAside } from '../en/aside.ts';

/** Texts about changes that another tab left in this browser, in German. */
export const deAside: Readonly<Record<keyof typeof enAside, string>> = {
  'aside.waiting':
    'Dieser Browser hat noch Änderungen aus einem anderen Tab. Sie kommen dazu, sobald die Verbindung wieder da ist.',
  'aside.lookOnly':
    'Änderungen an „{title}“ wurden nicht gesichert, und du darfst dieses Brett jetzt nur noch ansehen. Dieser Browser hat sie noch.',
  'aside.refused':
    'Der Server hat Änderungen an „{title}“ aus einem anderen Tab nicht angenommen. Dieser Browser hat sie noch.',
  'aside.unshown':
    'Dieser Browser hat auch Änderungen aus einem anderen Tab, die für sich kein Brett sind. Sie gehören nicht zu diesem und lassen sich nicht als Datei sichern.',
  'gone.keychains':
    'Von diesem Brett {count:ist/sind} {count} {count:Anhänger/Anhänger} auf diesem Gerät angefangen.',
  'gone.keepKeychains': 'Kopie vergessen, sie behalten',
  'gone.forgetKeychains': 'Auch sie vergessen',
  'gone.seeKeychains': 'Ansehen',
};
