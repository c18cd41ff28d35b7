import type { enStart } from '../en/start.ts';

/** Texts of the page with all boards, in German. */
export const deStart: Readonly<Record<keyof typeof enStart, string>> = {
  'start.lead':
    'Entwirf gemeinsam einen geknüpften Schlüsselanhänger und lies ab, wie er auf den Ring kommt.',
  'start.demos': 'Beispielbretter',
  'start.demosHint': 'Öffne eines und sieh dich um. Ändere etwas, und du hast eine eigene Kopie.',
  'start.new': 'Ein neues Brett',
  'start.strings': 'Stränge',
  'start.stringsHint': '2 bis 200; jeder Faden gibt zwei.',
  'start.rows': 'Reihen',
  'start.create': 'Brett anlegen',
  'start.open': 'Eine Brettdatei öffnen',
  'start.openHint':
    'Eine .json-Datei, die aus einem Brett gesichert wurde, oder das .zip-Archiv eines ganzen Bretts. Du kannst sie auch hier ablegen.',
  'start.choose': 'Datei wählen',
  'start.paste': 'Ein Brett als Text einfügen',
  'start.failed': 'Die Bretter konnten nicht geholt werden: {why}',
  'start.badNumber': '{name} muss eine ganze Zahl von {least} bis {most} sein.',
  'own.made': 'angelegt am {date}',
  'own.copy': 'Verdoppeln',
  'own.copyOf': '{title} (Kopie)',
  'own.whole': 'Archivieren oder löschen',
  'own.heading': 'Deine Bretter',
  'own.hint': 'Bretter, die du in diesem Browser angelegt hast oder zu denen du über einen Link kamst.',
};
