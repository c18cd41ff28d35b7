/** What is needed in all and how sure it is, in German. */
import type { enDoubt } from '../en/doubt.ts';

export const deDoubt: Readonly<Record<keyof typeof enDoubt, string>> = {
  'cut.totals': 'Garn insgesamt',
  'cut.total': '{pieces} {pieces:Faden/Fäden}, {length}',
  'cut.skeins': '{skeins} {skeins:Docke/Docken}',
  'cut.bandLength': 'Länge, erste bis letzte Reihe',
  'doubt.is': '{length} ± {off}',
  'doubt.needs': 'braucht {needs}',
  'doubt.means':
    '± heißt: 19 von 20 Anhängern brauchen eine Länge innerhalb davon. Braucht ein Faden mehr, dann auch die anderen: Alle teilen dieselben Maße.',
  'doubt.prior':
    'Es ist nichts gemessen; die Längen sind geschätzt: je Knoten zwei Windungen um den Träger, eine Reihe 1,15-mal so hoch, wie ein Strang breit ist. ± lässt Hand und Garn verschieden sein (eigene Annahme). Die Regel der Handbücher liegt darin: jeder Strang 4- bis 5-mal so lang wie das Band. Eine Probe macht es enger.',
  'doubt.priorPart':
    'Was nicht gemessen ist, wird aus dem Gemessenen geschätzt; ± lässt auch das zu (eigene Annahme).',
  'doubt.assumed':
    'Nur einmal gemessen: {what}. Wie gleichmäßig du knüpfst, zeigt das nicht; angenommen sind 5 von 100. Eine zweite Probe sagt mehr.',
  'doubt.unknown':
    'Wie sicher diese Längen sind, ist nicht bekannt: Am Brett steht nicht, wie sicher seine Maße sind ({fields}). Miss eine Probe unter „Steg und Maße“.',
  'doubt.of.cordErrorMm': 'Breite eines Strangs',
  'doubt.of.rowErrorMm': 'Höhe einer Reihe',
  'doubt.of.knottingErrorMm': 'Verbrauch eines Knotens',
  'doubt.of.carrierErrorMm': 'Verbrauch des Trägers',
  'doubt.of.cord': 'die Breite',
  'doubt.of.row': 'die Höhe',
  'doubt.of.takeUp': 'der Verbrauch',
  'doubt.short': 'Etwa 1-mal von {count} wird ein Faden in {colour} vor seinem letzten Knoten zu kurz.',
  'doubt.shortOften':
    'Etwa {count}-mal von 10 wird ein Faden in {colour} vor seinem letzten Knoten zu kurz. Knüpfe eine Probe oder schneide länger.',
  'doubt.shortRare': 'Weniger als 1-mal von 1.000 wird ein Faden zu kurz.',
};
