import type { enHelp } from '../en/help.ts';

/** Texts of the help page and of the first steps, in German. */
export const deHelp: Readonly<Record<keyof typeof enHelp, string>> = {
  'help.heading': 'Hilfe',
  'help.lead': 'Was die Wörter bedeuten, wie die Zeichnungen zu lesen sind und wozu jede Tafel da ist.',
  'help.glossary': 'Wörter des Handwerks',
  'help.knots': 'Die vier Knoten',
  'help.knotsLead':
    'Zwei benachbarte Stränge werden mit einem doppelten halben Schlag verknüpft: Der Knüpfstrang wird zweimal um den Träger gelegt. Die Farbe des Knüpfstrangs zeigt sich. Bei jedem Paar wählst du, welche Farbe sich zeigt und ob die beiden die Plätze tauschen.',
  'help.knot.f': 'Vorwärtsknoten',
  'help.knot.fText': 'Der linke Strang wird zweimal nach rechts geknüpft. Die beiden tauschen die Plätze.',
  'help.knot.b': 'Rückwärtsknoten',
  'help.knot.bText': 'Der rechte Strang wird zweimal nach links geknüpft. Die beiden tauschen die Plätze.',
  'help.knot.fb': 'Vorwärts-Rückwärts-Knoten',
  'help.knot.fbText':
    'Der linke Strang wird einmal nach rechts und einmal zurück geknüpft. Jeder bleibt, wo er war.',
  'help.knot.bf': 'Rückwärts-Vorwärts-Knoten',
  'help.knot.bfText':
    'Der rechte Strang wird einmal nach links und einmal zurück geknüpft. Jeder bleibt, wo er war.',
  'help.knot.drawing': '{knot}: seine beiden halben Schläge nacheinander, rechts, wie er gezeichnet wird',
  'help.knot.token': 'Im Text: {token}',
  'help.tools': 'Werkzeuge und ihre Tasten',
  'help.toolsText':
    'Die Tasten gelten, solange du auf dem Brett bist. Unter „Tastenkürzel“ dort gibst du jedem Werkzeug eine andere Taste oder schaltest einzelne Buchstaben, Ziffern und Zeichen ab; dieses Gerät merkt es sich.',
  'help.mounting': 'Aufhängen am Ring',
  'help.head': 'Ankerstich, die Stränge gespreizt',
  'help.headText':
    'Jeder Faden wird in der Mitte gefaltet und als Schlaufe über den Steg gelegt, und beide Stränge werden durch die Schlaufe gezogen. Ein Faden gibt zwei Stränge einer Farbe; sie dürfen gespreizt werden, sodass andere dazwischen hängen.',
  'help.headDrawing':
    'Ein über den Steg gefalteter Faden, die beiden Stränge gespreizt, mit zwei anderen dazwischen',
  'help.noRing':
    'Ohne Ring fängt ein Band mit losen Fäden an, mit einer Schlaufe oder gerade über einem Stab: Wähle das unter „Wie es anfängt“ auf der Tafel Anhänger. Die Tafel Aufhängen heißt dann Anfang und sagt, was die Hände tun und in welcher Folge die Stränge liegen müssen.',
  'help.nested': 'Ineinander und nebeneinander: sauber',
  'help.nestedText':
    'Von zwei gefalteten Fäden liegt einer im anderen oder neben ihm. Der äußere wird zuerst aufgehängt; die Rückseite bleibt sauber.',
  'help.nestedDrawing': 'Zwei Bögen, einer im anderen, und ein dritter daneben',
  'help.crossing': 'Über Kreuz: Ein Querfaden zeigt sich',
  'help.crossingText':
    'Die beiden wechseln sich mit ihren Plätzen ab, also muss einer hinter dem anderen her laufen, und dieser Querfaden zeigt sich.',
  'help.crossingDrawing': 'Zwei Bögen, die sich kreuzen, die Kreuzung ist markiert',
  'help.triangle': 'Ende im Dreieck',
  'help.triangleText':
    'Nach der letzten Reihe hat jede weitere Reihe einen Knoten weniger, um einen halben Schritt eingerückt, bis zur Spitze. Das Doppeldreieck tut das in jeder Hälfte.',
  'help.triangleDrawing': 'Reihen von Rauten, die zu einer Spitze zulaufen',
  'help.term.thread': 'Garn',
  'help.term.threadText': 'Was du kaufst: eine Farbe mit einem Namen, in Docken.',
  'help.term.cord': 'Faden',
  'help.term.cordText':
    'Vom Garn abgeschnitten. Über den Steg gefaltet gibt er zwei Stränge. Fäden zählen, wie sie aufgehängt werden.',
  'help.term.place': 'Platz',
  'help.term.placeText': 'Wo ein Strang oben hängt, von links gezählt.',
  'help.term.peg': 'Zapfen',
  'help.term.pegText':
    'Steht über dem Brett an jedem Platz, in der Farbe seines Strangs. Wähle eine Farbe und dann einen Zapfen, um sie zu ändern.',
  'help.term.bar': 'Steg',
  'help.term.barText':
    'Das Metall, an dem die Fäden hängen: die gerade Seite eines Rings oder ein runder Ring.',
  'help.term.float': 'Querfaden',
  'help.term.floatText':
    'Der Teil eines Fadens, der quer über die Rückseite läuft, wo zwei Fäden sich kreuzen.',
  'help.term.string': 'Strang',
  'help.term.stringText': 'Was am Steg hängt und geknüpft wird, zwei je Faden. Stränge zählen von links.',
  'help.term.row': 'Reihe',
  'help.term.rowText':
    'Knoten nebeneinander. Eine Reihe verknüpft die Stränge 1 und 2, 3 und 4 …; die nächste 2 und 3, 4 und 5 …, und die Stränge am Rand hängen weiter.',
  'help.term.knotting': 'Knüpfstrang',
  'help.term.knottingText': 'Der Strang, der geknüpft wird; seine Farbe zeigt sich.',
  'help.term.carrier': 'Träger',
  'help.term.carrierText': 'Der Strang, um den geknüpft wird und der verdeckt ist. Er wird gerade gehalten.',
  'help.term.repeat': 'Rapport',
  'help.term.repeatText': 'Die Reihen, die immer wieder untereinander geknüpft werden.',
  'help.term.leadIn': 'Vorlauf',
  'help.term.leadInText':
    'Reihen, die einmal oben geknüpft werden und die Stränge aus einer Reihenfolge, die sich sauber aufhängen lässt, in die bringen, die das Muster braucht.',
  'help.term.single': 'Einzelner Faden',
  'help.term.singleText':
    'Ein Faden, von dem ein Strang geknüpft wird; sein kurzer Teil wird hinter den ersten Knoten verborgen.',
  'help.term.neat': 'Saubere Rückseite',
  'help.term.neatText': 'Über die Rückseite läuft kein Querfaden.',
  'help.term.gauge': 'Maße',
  'help.term.gaugeText':
    'Wie breit ein Strang liegt, wie hoch eine Reihe wird und wie viel Garn ein Knoten braucht.',
  'help.term.swatch': 'Probe',
  'help.term.swatchText': 'Ein kleines Band, das zum Messen geknüpft wird.',
  'help.term.plusMinus': '± hinter einer Länge',
  'help.term.plusMinusText':
    'Wie weit sie daneben liegen kann: 19 von 20 Anhängern brauchen eine Länge innerhalb davon. Weit bei einer Schätzung, enger mit jeder Probe.',
  'help.term.colourway': 'Farbstellung',
  'help.term.colourwayText':
    'Ein Muster in den eigenen Farben von jemandem. Eine Farbe, die sie nicht nennt, bleibt wie auf dem Brett; zwei, die gleich aussehen, sind ein Garn, und das kann das Aufhängen ändern.',
  'help.term.skein': 'Docke',
  'help.term.skeinText': 'Garn, wie es verkauft wird. Sechsfacher Sticktwist hat meist 8 m (8,7 Yard).',
  'help.term.proposal': 'Vorschlag',
  'help.term.proposalText':
    'Änderungen, die neben dem Brett ausgearbeitet werden. Besitzer sehen, was anders ist, und übernehmen alles, einen Teil oder nichts.',
  'help.term.pickUp': 'Aufnehmen',
  'help.term.pickUpText': 'Einen Strang weglegen und einen anderen als Knüpfstrang nehmen.',
  'help.panels': 'Wozu jede Tafel da ist',
  'help.panel.proposals':
    'Arbeite neben dem Brett aus, was du ändern würdest, und reiche es ein; Besitzer vergleichen und übernehmen alles, einen Teil oder nichts.',
  'help.panel.mounting':
    'Welche Plätze jeder Faden bedient, in welcher Reihenfolge sie aufgehängt werden und was zu tun ist, wenn sie sich kreuzen.',
  'help.panel.set':
    'Alle Farbstellungen des Musters als fertige Anhänger nebeneinander: von wem jede ist, worauf zu achten ist, ihr Aufhängen, ihr Zuschnitt und ihre Blätter, und eine Einkaufsliste für alle.',
  'help.panel.board':
    'Das Muster selbst: mit Zeiger, Finger oder Tastatur knüpfen; dort zeigt ? alle Tasten.',
  'help.ways': 'Herein und hinaus',
  'help.waysText':
    'Ziehe eine Brettdatei auf die Seite, um sie zu öffnen, oder füge Reihen von Knoten als Text ein. „Datei und Druck“ sichert das Brett, ein Bild oder die Schritte und druckt ein Arbeitsblatt und eine Karte.',
  'help.together': 'Gemeinsam und ohne Verbindung',
  'help.togetherText':
    '„Teilen“ gibt Links aus: an Mitmacher, die das Brett mit dir ändern, an Prüfer und Lernende, die mitreden und vorschlagen, und an Zuschauer. Ein Link kann einen Namen und einen letzten Tag haben und zurückgenommen werden; wer über ihn kam, verliert dann sofort den Zugang. Die Änderungen aller werden Knoten für Knoten zusammengeführt. „Gesichert“ heißt: auf der Platte des Servers. Ohne Verbindung bleiben deine Änderungen in diesem Browser und werden gesendet, wenn sie zurück ist.',
  'help.talk': 'Gespräch',
  'help.talkText':
    'Über einen Knoten sprichst du aus seinem Menü oder mit {key}, über einen Eintrag einer Tafel (einen Faden, eine Farbe, einen Schritt) mit seinem Knopf oder mit {key}, über das ganze Brett unter Gespräch. Es bleibt bei seinem Knoten oder Eintrag; ein Zeichen führt hin. Mit @ sprichst du jemanden an.',
  'help.panel.talk':
    'Was über das Brett, einen Knoten, eine Reihe, einen Strang oder einen Eintrag einer Tafel gesagt wird.',
  'help.panel.versions':
    'Das Brett, wie es war: automatisch und unter Namen gesichert, zum Ansehen, Vergleichen, Abspielen und Zurückholen.',
  'help.lesson': 'Stunden',
  'help.lessonText':
    'Unter „Teilen“ wird eine Stunde zum Brett geöffnet, neben eurem Anruf. Lernende kommen über ihren Link, und du lässt sie herein. Wo du beim Machen bist, dahin folgen sie, jede in ihren Farben und mit ihrer Hand; Hilfe ruft dich. Zeigen und Zeichnen sagen, wo. Beendest du die Stunde, öffnet der Link nichts mehr.',
  'help.data': 'Deine Daten',
  'help.data.archive': 'Archiv eines Bretts',
  'help.data.archiveText':
    'Eine zip-Datei mit allem, was der Server von einem Brett aufhebt: die Brettdatei, Entwurf und Gespräch, alle Stände und Vorschläge und ein Verzeichnis des Inhalts. Besitzer holen sie unter „Datei und Druck“ mit „Alles herunterladen“. Links und wer sie hat, sind nicht darin.',
  'help.data.load': 'Ein Archiv laden',
  'help.data.loadText':
    'Öffne es auf der Seite mit allen Brettern wie eine Brettdatei, auf diesem Server oder auf einem anderen. Daraus wird ein neues Brett mit Gespräch, Ständen und Vorschlägen, und es gehört dir: Du beantwortest die Vorschläge, die warten. Was gesagt und vorgeschlagen wurde, behält seine Namen, gehört dort aber niemandem.',
  'help.data.delete': 'Ein Brett löschen',
  'help.data.deleteText':
    'Besitzer löschen ein Brett unter „Datei und Druck“. Es ist sofort und für alle weg, mit Gespräch, Ständen, Vorschlägen und Links, und niemand kann es zurückholen; wer den Server betreibt, nur aus einer früheren Sicherung. Lade vorher alles herunter, wenn es noch jemand brauchen könnte.',
  'help.data.browser': 'In diesem Browser',
  'help.data.browserText':
    'Eine Kopie jedes Bretts, an dem du gearbeitet hast, was du gesagt hast und noch nicht senden konntest, und dein Name bleiben in diesem Browser, bis du seine Daten löschst. Ebenso, was du an einem Beispielbrett geändert hast, als keine Kopie daraus werden konnte.',
  'help.care': 'Gib acht',
  'first.heading': 'Erste Schritte',
  'first.count': 'Schritt {step} von {steps}',
  'first.tie':
    'Knüpfe einen Knoten: Tippe oder klicke auf eine Stelle des Bretts, oder gehe mit den Pfeiltasten hin und drücke 1.',
  'first.undo': 'Gut geknüpft. Nimm ihn jetzt mit „Rückgängig“ zurück.',
  'first.point':
    'Zeige auf einen Faden in der Liste zum Aufhängen, oder gehe mit der Tabulatortaste hin: Seine Zapfen und sein Weg leuchten auf.',
  'first.done':
    'Das ist der ganze Gedanke: Jede Änderung wird sofort durchgerechnet. Alles Weitere steht unter „Hilfe“.',
  'first.skip': 'Überspringen',
  'first.end': 'Los',
};
