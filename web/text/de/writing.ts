import type { enWriting } from '../en/writing.ts';

/** Texts about what several write in one field, in German. */
export const deWriting: Readonly<Record<keyof typeof enWriting, string>> = {
  'writing.room': 'Platz für {left} weitere {left:Zeichen/Zeichen}.',
  'writing.tooLong': '{over} {over:Zeichen/Zeichen} zu viel. Wird erst gesichert, wenn es kürzer ist.',
  'writing.tooLongTogether':
    'Hier hat noch jemand geschrieben. Zusammen {over:ist es/sind es} {over} Zeichen zu viel: deine Worte werden erst gesichert, wenn es kürzer ist.',
  'writing.empty': 'Hier fehlt ein Name. Bis dahin bleibt der alte.',
  'writing.ofAnother':
    '„{name}“ ist die Farbe des Bretts, und diese sieht anders aus. Sie braucht einen anderen Namen.',
  'writing.alike':
    'Eine andere Farbe heißt schon „{name}“. Bis hier etwas anderes steht, bleibt der Name davor.',
  'writing.gone': 'Jemand hat es entfernt, während du geschrieben hast. Deine Worte sind noch da.',
  'writing.yours': 'Was du geschrieben hast',
  'writing.copy': 'Meine Worte kopieren',
  'writing.copied': 'Kopiert.',
  'writing.notCopied': 'Der Browser gibt die Zwischenablage nicht frei. Markiere die Worte und kopiere sie.',
  'writing.letGo': 'Weg damit',
};
