/** What is needed in all and how sure it is, in German. */
import type { enDoubt } from '../en/doubt.ts';

export const deDoubt: Readonly<Record<keyof typeof enDoubt, string>> = {
  'cut.totals': 'Garn insgesamt',
  'cut.total': '{pieces} {pieces:Stück/Stücke}, {length}',
  'cut.skeins': '{skeins} {skeins:Strang/Stränge}',
  'cut.bandLength': 'Länge, erste bis letzte Reihe',
  'doubt.is': '{length} ± {off}',
  'doubt.needs': 'braucht {needs}',
  'doubt.means':
    '± heißt: Bei etwa 95 von 100 Stücken liegt darin, was wirklich gebraucht wird. Alle Fäden teilen den Fehler der Probe: Braucht einer mehr, dann die anderen auch.',
  'doubt.prior':
    'Es ist nichts gemessen; die Längen sind geschätzt: je Knoten zwei Windungen um den Träger, eine Reihe 1,15-mal so hoch, wie ein Faden breit ist. ± lässt zu, was von Hand zu Hand und von Garn zu Garn verschieden ist (eigene Annahme). Die Regel der Handbücher, 4- bis 5-mal die fertige Länge, liegt darin. Eine Probe macht es kleiner.',
  'doubt.priorPart':
    'Was nicht gemessen ist, wird aus dem Gemessenen geschätzt; ± lässt auch das zu (eigene Annahme).',
  'doubt.assumed':
    'Nur einmal gemessen: {what}. Wie gleichmäßig du knüpfst, zeigt das nicht; angenommen sind 5 von 100. Eine zweite und dritte Probe sagen es.',
  'doubt.unknown':
    'Wie sicher diese Längen sind, ist nicht bekannt, weil am Brett nicht steht, wie sicher die Maße sind ({fields}). Miss unter „Steg und Probe“ noch einmal eine Probe.',
  'doubt.of.cordErrorMm': 'Breite je Faden',
  'doubt.of.rowErrorMm': 'Höhe einer Reihe',
  'doubt.of.knottingErrorMm': 'Verbrauch eines Knotens',
  'doubt.of.carrierErrorMm': 'Verbrauch des Trägers',
  'doubt.of.cord': 'die Breite',
  'doubt.of.row': 'die Höhe',
  'doubt.of.takeUp': 'der Faden',
  'doubt.short':
    'So geschnitten ist von den unsichersten Fäden etwa 1 von {count} zu kurz: Seine Zugabe ist vor dem letzten Knoten aufgebraucht.',
  'doubt.shortOften':
    'So geschnitten wären von den unsichersten Fäden etwa {percent} von 100 zu kurz: Ihre Zugabe ist vor dem letzten Knoten aufgebraucht. Knüpfe eine Probe oder schneide länger.',
  'doubt.shortRare': 'So geschnitten ist auch von den unsichersten Fäden weniger als 1 von 1.000 zu kurz.',
};
