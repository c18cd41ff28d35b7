import type { enUndo } from '../en/undo.ts';

/** Texts about undoing where others have gone on, in German. */
export const deUndo: Readonly<Record<keyof typeof enUndo, string>> = {
  'undo.nothing':
    'Hier ist nichts mehr zurückzunehmen: {who} {people:hat/haben} es seither geändert. Noch einmal „Rückgängig“ nimmt deinen Schritt davor zurück.',
  'undo.nothingAgain': 'Hier ist nichts zu wiederholen: {who} {people:hat/haben} es seither geändert.',
  'undo.knots':
    '{count} {count:Knoten bleibt/Knoten bleiben}, wie {who} {count:ihn/sie} seither geknüpft {people:hat/haben}.',
  'undo.rest': 'Was {who} seither geändert {people:hat/haben}, bleibt.',
  'undo.somebody': 'jemand',
  'undo.show': 'Zeigen',
};
