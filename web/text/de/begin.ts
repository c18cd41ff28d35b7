import type { enBegin } from '../en/begin.ts';

/** Texts of bands that begin without a ring, in German. */
export const deBegin: Readonly<Record<keyof typeof enBegin, string>> = {
  'begin.purpose': 'Wie das Band anfängt und in welcher Folge die Stränge liegen.',
  'begin.loose':
    'Jeder Strang ist ein Faden für sich. Leg sie in dieser Folge nebeneinander, lass {head} über der ersten Reihe frei und kleb sie dort fest.',
  'begin.looseKnot':
    'Jeder Strang ist ein Faden für sich. Schling alle mit je {head} zu einem einfachen Knoten, kleb ihn fest und breite die Stränge in dieser Folge aus.',
  'begin.stick':
    'Jeder Strang ist ein Faden für sich. Leg jeden mit {head} darüber einmal um einen Stab, in dieser Folge nebeneinander. Zieh den Stab heraus, sobald einige Reihen halten.',
  'begin.loop':
    'Falte alle Fäden, jeden an seiner Stelle, zusammen zu einer Schlaufe von {loop} Höhe. {close} Darunter hängt jeder Strang an jedem Platz: Breite sie in dieser Folge aus.',
  'begin.close.overhand': 'Schling darunter einen einfachen Knoten.',
  'begin.close.braid': 'Flicht darunter {head}.',
  'begin.close.none': 'Kleb sie unter der Schlaufe fest.',
  'begin.place': '{colour}: Platz {from}',
  'begin.places': '{colour}: Plätze {from} bis {to}',
  'begin.check': 'Vergleich vor dem ersten Knoten die Folge von vorn mit dieser Liste.',
  'begin.hint.loose': 'Jeder Strang ist ein Faden für sich, ein Teil davon lose über der ersten Reihe.',
  'begin.hint.loop': 'Alle Fäden sind in einem Bündel gefaltet; darüber steht die Schlaufe.',
  'begin.hint.stick':
    'Jeder Strang ist ein Faden für sich, über einen Stab gelegt, der später herausgezogen wird: Die erste Reihe ist gerade.',
  'begin.legend': 'Wie es anfängt',
  'begin.whole': 'Mit allem darüber und darunter: {length}.',
  'begin.ofWhole': 'von allem, mit dem darüber und darunter',
  'begin.minutes': 'Anfang',
  'begin.mountMinutes': 'Anfang (min)',
  'begin.noRing': 'Zeilen für Ringe warten, bis es an einem hängt.',
  'begin.cutPurpose': 'Wie lang jeder Faden geschnitten wird.',
  'begin.gaugePurpose': 'Wie sich dein eigenes Garn verarbeitet.',
  'begin.estimates':
    'Nicht gemessen, sondern geschätzt: {fields}. Knüpfe eine Probe (Maße), um sicher zu sein.',
  'begin.shopEstimates': 'Längen sind geschätzt, bis eine Probe gemessen ist (auf dem Brett, Maße).',
  'begin.cut': 'Fäden zum Zuschneiden, von links',
  'begin.cutLoop': 'Fäden zum Zuschneiden und Falten',
  'begin.cutAt': 'Hängt an Platz {place}',
  'begin.setFine': 'Die Farben sind in jeder Sehweise zu unterscheiden.',
  'begin.setJoined': '{names} sind hier ein Garn.',
  'begin.setAllFine': 'In allen sind die Farben zu unterscheiden.',
  'begin.wear': 'Für Handgelenk, Tasche oder Buch. Kein Spielzeug: nie um den Hals tragen.',
  'begin.stage': 'Anfangen',
  'begin.nextCut': 'Weiter zum Anfang',
  'begin.table.whole': 'Er wird nicht gefaltet.',
  'begin.table.bars': 'Alle Fäden in einem Maßstab',
  'begin.table.stick': 'Mach den Stab links und rechts fest, damit er sich nicht dreht.',
  'begin.table.cord': '{colour}: einmal um den Stab, {at} {from}, mit {head} darüber.',
  'begin.table.gather': 'Leg alle Fäden oben bündig zusammen und halte sie {head} darunter.',
  'begin.table.gatherKnot':
    'Leg alle Fäden oben bündig zusammen und schling mit den oberen {head} einen einfachen Knoten.',
  'begin.table.loop': 'Falte alle Fäden, jeden an seiner Stelle, zusammen zu einer Schlaufe von {loop} Höhe.',
  'begin.table.lay': 'Mach alles fest und breite die Stränge in der Folge aus, die du siehst.',
  'begin.table.ready': 'Der Anfang ist fertig.',
  'begin.table.readyStick': 'Der Anfang ist fertig. Zieh den Stab heraus, sobald einige Reihen halten.',
  'begin.table.drawing': 'Die Stränge in ihrer Folge, soweit sie liegen',
  'begin.table.swap': 'Vertausche die Stränge an {place} und {further}.',
  'begin.table.look': 'Sieh nach, ob eine Farbe mit einer anderen verwechselt ist.',
  'begin.finish.braid': 'Flicht auch die Stränge über der ersten Reihe und verknote den Zopf.',
  'begin.finish.overhand': 'Schling über der ersten Reihe einen einfachen Knoten.',
  'begin.finish.trim':
    'Schneid ab: {head} über der ersten Reihe und {length} unter der letzten, zuerst etwas länger.',
  'begin.finish.done': 'Fertig. Bind es um.',
};
