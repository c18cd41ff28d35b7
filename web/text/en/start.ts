/** Texts of the page with all boards, in English. */
export const enStart = {
  'start.lead': 'Design a knotted keychain together, and read how to mount it on the ring.',
  'start.demos': 'Demo boards',
  'start.demosHint': 'Open one and look around. Change anything, and you have a copy of your own.',
  'start.new': 'A new board',
  'start.strings': 'Strings',
  'start.stringsHint': '2 to 200; each cord gives two.',
  'start.rows': 'Rows',
  'start.create': 'Make the board',
  'start.open': 'Open a board file',
  'start.openHint':
    'A .json file that was saved from a board, or the .zip archive of a whole board. You can also drop it here.',
  'start.choose': 'Choose a file',
  'start.paste': 'Paste a board as text',
  'start.failed': 'The boards could not be fetched: {why}',
  'start.badNumber': '{name} must be a whole number from {least} to {most}.',
  'own.made': 'made {date}',
  'own.copy': 'Duplicate',
  'own.copyOf': '{title} (copy)',
  'own.whole': 'Archive or delete',
  'own.heading': 'Your boards',
  'own.hint': 'Boards you made or came to by a link, in this browser.',
} as const;
