/** Texts of the panels beside the board that are there before a panel is opened, in German. */
import type { enPanels } from './en-panels.ts';

export const dePanels: Readonly<Record<keyof typeof enPanels, string>> = {
  'panels.tabs': 'Tafeln',
  'panels.mounting': 'Aufhängen',
  'panels.cutting': 'Zuschnitt',
  'panels.gauge': 'Steg und Probe',
  'panels.work': 'Arbeitsfolge',
  'panels.symmetry': 'Symmetrie',
  'panels.piece': 'Stück',
  'panels.notes': 'Notizen',
  'panels.proposals': 'Vorschläge',
  'panels.talk': 'Gespräch',
  'panels.versions': 'Stände',
  'panels.loading': 'Die Tafel wird geöffnet …',
  'panels.failed': 'Diese Tafel konnte nicht geholt werden. Prüfe die Verbindung und öffne sie noch einmal.',
  'panels.retry': 'Noch einmal',
  'panels.estimate': 'geschätzt',
  'panels.range': 'Das lässt sich nicht berechnen: {why}',
  'cut.purpose': 'Wie lang jeder Faden geschnitten und wo er über den Steg gefaltet wird.',
  'cut.caution': 'Scheren: von Kindern fernhalten und von den Fingern weg schneiden.',
  'gauge.purpose': 'Ob die Enden auf den Steg passen und wie sich deine eigene Schnur verarbeitet.',
  'piece.purpose': 'Was aus dem Muster wird: wie lang, wie es endet, woran es hängt.',
  'notes.purpose': 'Was du dir merken willst: Material, Einfälle, für wen es ist. Alle am Brett sehen es.',
  'work.purpose': 'In welcher Folge die Knoten geknüpft werden, Schritt für Schritt.',
  'work.failed': 'Die Folge konnte nicht berechnet werden: {why}',
  'sym.purpose': 'Was am Brett sich von beiden Seiten gleich liest und was es stört.',
};
