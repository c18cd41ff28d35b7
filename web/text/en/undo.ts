/** Texts about undoing where others have gone on, in English. */
export const enUndo = {
  'undo.nothing':
    'Nothing to take back here: {who} {people:has/have} changed it since. Undo again goes on to your step before.',
  'undo.nothingAgain': 'Nothing to do again here: {who} {people:has/have} changed it since.',
  'undo.knots':
    '{count} {count:knot stays/knots stay} as {who} {people:has/have} tied {count:it/them} since.',
  'undo.rest': 'What {who} {people:has/have} changed since stays.',
  'undo.somebody': 'somebody',
  'undo.show': 'Show',
} as const;
