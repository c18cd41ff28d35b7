/** Texts of the panels beside the board that are there before a panel is opened, in German. */
import type { enPanels } from '../en/panels.ts';

export const dePanels: Readonly<Record<keyof typeof enPanels, string>> = {
  'panels.tabs': 'Tafeln',
  'panels.sheet': 'Höhe der Tafeln',
  'panels.mounting': 'Aufhängen',
  'panels.beginning': 'Anfang',
  'panels.colours': 'Farben',
  'panels.cutting': 'Zuschnitt',
  'panels.cost': 'Kosten',
  'panels.gauge': 'Steg und Maße',
  'panels.gaugeAlone': 'Maße',
  'panels.work': 'Arbeitsfolge',
  'panels.symmetry': 'Symmetrie',
  'panels.piece': 'Anhänger',
  'panels.notes': 'Notizen',
  'panels.proposals': 'Vorschläge',
  'panels.talk': 'Gespräch',
  'panels.versions': 'Stände',
  'panels.loading': 'Die Tafel wird geöffnet …',
  'panels.estimate': 'geschätzt',
  'panels.range': 'Das lässt sich nicht berechnen: {why}',
};
